"""JSON in and out: strict on the way in, fast on the way out."""

import json
from typing import Any

import orjson
from flask.json.provider import JSONProvider

from schemas.core.faults import read_json

_encoder = json.JSONEncoder(allow_nan=False, separators=(",", ":"))


def encoded(obj: Any) -> bytes:
    """Compact JSON and the end of its line.

    Answers hold finite numbers alone: `schemas.core.fields.ten_digits` sees to it. What an answer repeats of
    its request may be more than the fast encoder takes, such as a whole number of thirty digits.

    Raises:
        ValueError: for a number that is not finite, where the fast encoder does not write it as null.
    """
    try:
        return orjson.dumps(obj, option=orjson.OPT_APPEND_NEWLINE)
    except orjson.JSONEncodeError:
        return _encoder.encode(obj).encode() + b"\n"


class StrictJSON(JSONProvider):
    """Refuses NaN, Infinity and doubled members on the way in; keeps order."""

    def dumps(self, obj: Any, **kwargs: Any) -> str:
        """Compact JSON, as `encoded`."""
        return encoded(obj).decode().removesuffix("\n")

    def loads(self, s: str | bytes, **kwargs: Any) -> Any:
        """Strict JSON; raises `schemas.core.faults.Malformed`."""
        return read_json(s.encode() if isinstance(s, str) else s)
