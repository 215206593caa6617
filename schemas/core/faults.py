"""What is wrong with a request: JSON that is not strict, and every fault at once with its place and its code.

JSON is what RFC 8259 means by it: no NaN, no Infinity, no member twice, no bottomless nesting.
"""

import json
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache
from typing import Any

from marshmallow import Schema, ValidationError, fields, missing

from schemas.core.quantity import bare

UNKNOWN = "Unknown field."
MESSAGE_CODES = {
    "Missing data for required field.": ("missing_field", "this field is required"),
    "Field may not be null.": ("not_null", "null is not accepted; leave the field out"),
    UNKNOWN: ("unknown_field", "there is no such field"),
    "Invalid input type.": ("not_an_object", "a JSON object is expected"),
    "Invalid type.": ("not_an_object", "a JSON object is expected"),
    "Not a valid list.": ("not_a_list", "a JSON list is expected"),
}
"""marshmallow's own messages, which have no code, and ours in their place."""


@dataclass(frozen=True)
class FieldFault:
    """What a field finds wrong with a value; travels inside marshmallow's ValidationError."""

    code: str
    detail: str
    accepted: str | None = None


@dataclass(frozen=True)
class InputFault:
    """A fault and its place in the request: ``path`` from the outermost member inwards."""

    path: tuple[str | int, ...]
    code: str
    detail: str
    value: Any = None
    accepted: str | None = None


LONGEST_NAME = 100
"""Characters of a name that a pointer shows."""


def pointer(path: tuple[Any, ...]) -> str:
    """A path as JSON Pointer (RFC 6901)."""
    return "".join("/" + str(part)[:LONGEST_NAME].replace("~", "~0").replace("/", "~1") for part in path)


class InvalidInput(ValueError):
    """Raised with every fault found in a request."""

    def __init__(self, faults: list[InputFault]) -> None:
        self.faults = faults
        super().__init__("; ".join(f"{'/'.join(map(str, f.path))}: {f.code} ({f.detail})" for f in faults))


def fault(code: str, detail: str, accepted: str | None = None) -> ValidationError:
    """The exception a field raises; marshmallow collects these over all fields."""
    return ValidationError([FieldFault(code, detail, accepted)])


def contradictions(found: Mapping[str, str | None]) -> None:
    """Refuse every field of ``found`` that has a detail: its value contradicts another."""
    faults = {name: [FieldFault("contradiction", detail)] for name, detail in found.items() if detail}
    if faults:
        raise ValidationError(faults)


def load(schema: Schema, raw: Any) -> dict[str, Any]:
    """Load ``raw`` into plain values.

    Raises:
        InvalidInput: with every fault, in the order of the schema's fields.
    """
    if (sound := of_a_sound_request(schema, raw)) is not None:
        return sound
    try:
        loaded: dict[str, Any] = schema.load(raw)
    except ValidationError as error:
        found = list(_walk(error.messages, schema, raw, ()))
        order = list(schema.fields)
        found.sort(key=lambda f: order.index(str(f.path[0])) if f.path and f.path[0] in order else len(order))
        raise InvalidInput(found) from None
    return loaded


def of_a_sound_request(schema: Schema, raw: Any) -> dict[str, Any] | None:
    """What marshmallow loads from a request without a fault; None for any other, which it is to judge.

    It asks each field what marshmallow asks it, and no more: that takes a quarter of the time.
    """
    plan = _plan(schema)
    if plan is None or type(raw) is not dict or not plan.required <= raw.keys():
        return None
    loaded = {}
    try:
        for name, value in raw.items():
            way = plan.ways.get(name)
            if way is None or value is None:
                return None
            key, field = way
            loaded[key] = field._deserialize(value, name, raw)
        for validate, with_original in plan.judges:
            validate(loaded, *((raw,) if with_original else ()), partial=None, many=False, unknown=None)
    except ValidationError:
        return None
    return loaded


@dataclass(frozen=True)
class _Plan:
    """How a schema is loaded: each field under the name of its value, and what judges the whole."""

    ways: Mapping[str, tuple[str, "fields.Field[Any]"]]
    required: frozenset[str]
    judges: tuple[tuple[Callable[..., Any], bool], ...]


@cache  # schemas are few, and made once
def _plan(schema: Schema) -> _Plan | None:
    """The plan of a schema; None where marshmallow does more than ask each field and judge the whole."""
    own = {*schema._hooks} - {"validates_schema"}
    judges = schema._hooks["validates_schema"]
    if any(schema._hooks[hook] for hook in own) or any(many for _, many, _ in judges):
        return None
    if any(
        each.validators or each.data_key or each.load_default is not missing
        for each in schema.fields.values()
    ):
        return None
    return _Plan(
        {name: (each.attribute or name, each) for name, each in schema.load_fields.items()},
        frozenset(name for name, each in schema.load_fields.items() if each.required),
        tuple((getattr(schema, name), how["pass_original"]) for name, _, how in judges),
    )


def _walk(
    messages: Any, schema: Schema | None, raw: Any, path: tuple[str | int, ...]
) -> Iterator[InputFault]:
    if isinstance(messages, Mapping):
        for key, inner in _in_order(messages, raw):
            if key == "_schema":
                yield from _walk(inner, schema, raw, path)
            else:
                yield from _walk(inner, _nested(schema, key, inner), _member(raw, key), (*path, key))
        return
    for message in messages if isinstance(messages, list) else [messages]:
        if isinstance(message, InputFault):
            yield InputFault(
                (*path, *message.path), message.code, message.detail, message.value, message.accepted
            )
        elif isinstance(message, FieldFault):
            yield InputFault(path, message.code, message.detail, raw, message.accepted)
        elif message == UNKNOWN and (known := not_applicable(schema).get(str(path[-1]))):
            yield InputFault(path, known.code, known.detail, raw, known.accepted)
        else:
            code, detail = MESSAGE_CODES.get(str(message), ("invalid", str(message)))
            yield InputFault(path, code, detail, raw, _accepted(code, schema, path))


def _in_order(messages: Mapping[Any, Any], raw: Any) -> list[tuple[Any, Any]]:
    """Messages with those of unknown members in the order of the request; marshmallow has them in a set."""
    place = {key: number for number, key in enumerate(raw)} if isinstance(raw, Mapping) else {}
    return sorted(messages.items(), key=lambda item: place.get(item[0], 0) if item[1] == [UNKNOWN] else -1)


def not_applicable(schema: Schema | None) -> Mapping[str, FieldFault]:
    """The names that a schema refuses with a reason of their own; see `schemas.core.fields.Request`."""
    names: Mapping[str, FieldFault] = getattr(schema, "not_applicable", {})
    return names


def _nested(schema: Schema | None, key: Any, messages: Any) -> Schema | None:
    """The schema that messages below ``key`` speak of; the same one where they speak of ``key`` itself."""
    field = schema.fields.get(key) if schema else None
    if not isinstance(messages, Mapping):
        return schema
    if isinstance(field, fields.List):
        field = field.inner
    inner: Schema | None = getattr(field, "schema", None)
    return inner


def _member(raw: Any, key: Any) -> Any:
    if isinstance(raw, Mapping):
        return raw.get(key)
    return raw[key] if isinstance(raw, list) and isinstance(key, int) and key < len(raw) else None


def _accepted(code: str, schema: Schema | None, path: tuple[str | int, ...]) -> str | None:
    if not schema or not path:
        return None
    if code == "unknown_field":
        near = get_close_matches(str(path[-1]), schema.fields, 3, 0.6)
        if near:
            return f"did you mean {' or '.join(near)}?"
        return f"fields known here: {', '.join(schema.fields)}" if schema.fields else "no field at all"
    field = schema.fields.get(str(path[-1]))
    return getattr(field, "accepted", None)


def chosen(schemas: Mapping[str, Schema], raw: Any, member: str) -> Schema:
    """The schema for ``raw`` among several, by the word that one of its members holds.

    Raises:
        InvalidInput: where the member is missing, or its word is none of these.
    """
    accepted = f"one of: {', '.join(schemas)}"
    if not isinstance(raw, Mapping):
        raise InvalidInput([InputFault((), "not_an_object", "a JSON object is expected", raw)])
    if member not in raw:
        raise InvalidInput([InputFault((member,), "missing_field", "this field is required", None, accepted)])
    word = bare(raw[member])
    if not isinstance(word, str) or word not in schemas:
        near = get_close_matches(str(word)[:40], schemas, 1)
        hint = f"; did you mean {near[0]}?" if near else ""
        detail = f"not a {member} known here{hint}"
        raise InvalidInput([InputFault((member,), "not_a_choice", detail, word, accepted)])
    return schemas[word]


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
