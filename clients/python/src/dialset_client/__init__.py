"""A client of Dialset. See `Dialset`."""

from dialset_client._client import Dialset
from dialset_client._errors import DialsetError, NotATable, NotReachable, NotUnderstood, Refused
from dialset_client._table import Summary

__all__ = ["Dialset", "DialsetError", "NotATable", "NotReachable", "NotUnderstood", "Refused", "Summary"]
