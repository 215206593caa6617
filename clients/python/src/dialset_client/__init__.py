"""A client of Dialset. See `Dialset`."""

from dialset_client._client import Dialset
from dialset_client._errors import (
    DialsetError,
    EditionChanged,
    NotATable,
    NotReachable,
    NotUnderstood,
    Refused,
)
from dialset_client._table import Summary

__all__ = [
    "Dialset",
    "DialsetError",
    "EditionChanged",
    "NotATable",
    "NotReachable",
    "NotUnderstood",
    "Refused",
    "Summary",
]
