"""A client of Dialset. See `Dialset`."""

from dialset_client._client import Dialset
from dialset_client._errors import DialsetError, NotReachable, Refused

__all__ = ["Dialset", "DialsetError", "NotReachable", "Refused"]
