"""JSON as RFC 8259 means it: no NaN, no Infinity, no member twice, no bottomless nesting."""

import json
from typing import Any


class Malformed(ValueError):
    """The text is not strict JSON; ``code`` is stable, the message says where and why."""

    def __init__(self, code: str, message: str) -> None:
        self.code = code
        super().__init__(message)


def _no_constant(name: str) -> Any:
    raise Malformed("malformed_json", f"{name} is not a JSON number")


def _no_duplicates(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    members = dict(pairs)
    if len(members) != len(pairs):
        seen: set[str] = set()
        twice = next(name for name, _ in pairs if name in seen or seen.add(name))  # type: ignore[func-returns-value]
        raise Malformed("duplicate_member", f"the member {twice[:60]!r} occurs twice in one object")
    return members


_decoder = json.JSONDecoder(parse_constant=_no_constant, object_pairs_hook=_no_duplicates)


def read_json(data: bytes) -> Any:
    """Parse UTF-8 JSON strictly.

    Raises:
        Malformed: ``not_utf8``, ``malformed_json``, ``duplicate_member``, ``nested_too_deep``.
    """
    if data.startswith(b"\xef\xbb\xbf"):
        raise Malformed("malformed_json", "the JSON begins with a byte order mark: remove it")
    try:
        parsed = _decoder.decode(data.decode("utf-8"))
    except UnicodeDecodeError as error:
        raise Malformed("not_utf8", f"byte {error.start} is not UTF-8") from None
    except json.JSONDecodeError as error:
        where = f"line {error.lineno}, column {error.colno}"
        raise Malformed("malformed_json", f"{error.msg} at {where}") from None
    except RecursionError:
        raise Malformed("nested_too_deep", "lists and objects are nested too deep") from None
    except Malformed:
        raise
    except ValueError as error:
        raise Malformed("malformed_json", str(error)) from None
    if b"\\ud" in data or b"\\uD" in data:
        _refuse_half_characters(parsed)
    return parsed


def _refuse_half_characters(parsed: Any) -> None:
    try:
        json.dumps(parsed, ensure_ascii=False).encode()
    except UnicodeEncodeError:
        raise Malformed("malformed_json", "half of a surrogate pair is no character") from None
