"""JSON in and out of Flask: strict both ways."""

import json
from typing import Any

from flask.json.provider import JSONProvider

from schemas.strict_json import read_json

_encoder = json.JSONEncoder(allow_nan=False, separators=(",", ":"))


class StrictJSON(JSONProvider):
    """Refuses NaN, Infinity and doubled members on the way in, and NaN on the way out; keeps order."""

    def dumps(self, obj: Any, **kwargs: Any) -> str:
        """Compact JSON; a number that is not finite is a bug of ours and raises."""
        return _encoder.encode(obj)

    def loads(self, s: str | bytes, **kwargs: Any) -> Any:
        """Strict JSON; raises `schemas.strict_json.Malformed`."""
        return read_json(s.encode() if isinstance(s, str) else s)
