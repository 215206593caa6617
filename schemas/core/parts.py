"""What goes out: parts of answers, which of their members an answer holds, and how each is written."""

from collections.abc import Callable, Collection, Iterator, Mapping
from difflib import get_close_matches
from functools import cached_property
from operator import attrgetter
from typing import Any, ClassVar, Literal, NamedTuple, TypeVar

from marshmallow import EXCLUDE, Schema, fields

from schemas.core.faults import InputFault, InvalidInput

KNOWABLE = "knowable"
AnyField = TypeVar("AnyField", bound=fields.Field[Any])
Reasons = dict[str, Any]
"""Why members are null, by their dotted names; each an `api.engineering.provenance.NotKnown`."""
Writer = Callable[[Any, Reasons, str], Any]
"""Writes a member that may hold reasons: its value, the reasons found so far, its dotted name."""
Detail = Literal["short", "full"]
"""How much of an answer is written: what to do, or everything."""
DETAILS: tuple[Detail, ...] = ("short", "full")
Pick = Detail | Mapping[str, Any]
"""Which members are written: by the detail, or by name, each with the pick of what it holds."""


def knowable(member: AnyField) -> AnyField:
    """A member whose value may not be known: null then, and ``reasons`` of the answer says why.

    It takes a `Known` or a `NotKnown` of `api.engineering.provenance`, never None: a null without its reason
    is a bug of ours and raises.
    """
    member.allow_none = True
    member.metadata = {**member.metadata, KNOWABLE: True}
    return member


class Part(Schema):
    """A schema of what goes out; members may be added in later versions.

    Every member that is picked is written, and a value that is missing is a bug of ours and raises.
    """

    aside: ClassVar[frozenset[str]] = frozenset()
    """Members that are no value of the object: see `schemas.record.Reasoned`."""
    only_full: ClassVar[frozenset[str]] = frozenset()
    """Members that a short answer leaves out."""
    may_lack: ClassVar[frozenset[str]] = frozenset()
    """Members that not every object has, such as the cylinder side of a motor: absent then, not null."""

    class Meta:
        unknown = EXCLUDE

    def dump(self, obj: Any, *, many: bool | None = None) -> Any:
        """``obj``, a mapping or an object with the attributes of this schema, as plain JSON values."""
        if many:
            return [self.dump(each) for each in obj]
        return self.written(obj, {}, "")

    def written(self, obj: Any, reasons: Reasons, path: str, pick: Pick = "full") -> dict[str, Any]:
        """``obj`` as plain JSON values, and the reasons of what is not known in it.

        Args:
            obj: a mapping or an object with the attributes of this schema.
            reasons: what is not known is added to it.
            path: what the dotted names of the members begin with.
            pick: which members.
        """
        ways = self._ways[pick] if isinstance(pick, str) else self._picked(pick)
        if isinstance(obj, Mapping):
            return {
                name: deep(obj[key], reasons, path + name) if deep else write(obj[key], key, obj)
                for name, key, _, write, deep, lacking in ways
                if not lacking or key in obj
            }
        return {
            name: deep(get(obj), reasons, path + name) if deep else write(get(obj), key, obj)
            for name, key, get, write, deep, _ in ways
        }

    def in_a_cell(self, entry: Mapping[str, Any]) -> str:
        """One entry of a list as a cell of a table shows it; a part that stands in a list says how."""
        raise NotImplementedError(f"{type(self).__name__} does not say how a cell shows it")

    def members(self, pick: Pick) -> dict[str, "fields.Field[Any]"]:
        """The fields that are written, by name; those that are picked by name in the order of the pick."""
        if not isinstance(pick, str):
            return {name: self.dump_fields[name] for name in pick if name in self.dump_fields}
        left_out = self.only_full if pick == "short" else ()
        return {name: field for name, field in self.dump_fields.items() if name not in left_out}

    @cached_property
    def _ways(self) -> Mapping[str, list["_Way"]]:
        return {"full": self._picked("full"), "short": self._picked("short")}

    def _picked(self, pick: Pick) -> list["_Way"]:
        """How each member is found and written, of those that are picked."""
        plan = []
        for name, field in self.members(pick).items():
            if name in self.aside:
                continue
            of = self.dump_fields[name.removesuffix(BASIS)] if isinstance(field, Basis) else field
            key = of.attribute or str(of.name)
            deep = self._deep(field, pick_of(pick, name))
            plan.append(_Way(name, key, attrgetter(key), field._serialize, deep, name in self.may_lack))
        return plan

    def _deep(self, field: fields.Field[Any], pick: Pick) -> Writer | None:
        """How a member is written that may hold reasons; None for any other."""
        write = _write_parts(field, pick)
        if KNOWABLE in field.metadata or isinstance(self.fields.get(f"{field.name}{BASIS}"), Basis):
            return _write_either(write or _write_value(field))
        return write


class _Way(NamedTuple):
    """How a member is found and written.

    marshmallow looks every value up four ways; here the way is known, and a third of the time saved.
    """

    name: str
    key: str
    get: Callable[[Any], Any]
    write: Callable[..., Any]
    deep: Writer | None
    lacking: bool


def names_of(pick: Mapping[str, Any], path: str = "") -> Iterator[str]:
    """The names of a pick, as a request gives them."""
    for name, inner in pick.items():
        if isinstance(inner, str):
            yield f"{path}{name}"
        else:
            yield from names_of(inner, f"{path}{name}.")


def pick_of(pick: Pick, name: str) -> Pick:
    """The pick of what a member holds."""
    if isinstance(pick, str):
        return pick
    inner: Pick = pick[name]
    return inner


def picked(names: str, members: Mapping[str, "fields.Field[Any]"]) -> dict[str, Any]:
    """The pick of names by comma, such as ``gauge_setting, torque.target``, in their order.

    Args:
        names: as a request gives them, in its field ``answers``.
        members: those of the answer.

    Raises:
        InvalidInput: ``unknown_answer`` for each that there is not.
    """
    known = list(dotted(members))
    asked = [name.strip() for name in names.split(",")]
    faults = [_unknown(name, known, members) for name in asked if name not in known]
    if faults:
        raise InvalidInput(faults)
    tree: dict[str, Any] = {}
    for name in asked:
        *outer, last = name.split(".")
        inner: Any = tree
        for part in outer:
            inner = inner.setdefault(part, {}) if isinstance(inner, dict) else inner
        if isinstance(inner, dict):  # else the whole of it is picked already
            inner[last] = "full"
    return tree


def dotted(members: Mapping[str, "fields.Field[Any]"], path: str = "") -> Iterator[str]:
    """Every name that can be picked: of a member, or of what stands in it; a list is picked whole."""
    for name, field in members.items():
        yield f"{path}{name}"
        part = _part_within(field)
        if part is not None:
            yield from dotted(part.dump_fields, f"{path}{name}.")


def parts_picked(members: Mapping[str, "fields.Field[Any]"]) -> Iterator[Part]:
    """Every part whose members can be picked."""
    for part in filter(None, map(_part_within, members.values())):
        yield part
        yield from parts_picked(part.dump_fields)


def _part_within(field: fields.Field[Any]) -> Part | None:
    """The part whose members can be picked; None for a list, and for any other."""
    return None if isinstance(field, fields.List) else part_of(field)


def _unknown(name: str, known: list[str], members: Mapping[str, "fields.Field[Any]"]) -> InputFault:
    near = get_close_matches(name, known, 1)
    hint = f"; did you mean {near[0]}?" if near else ""
    detail = f"the answer has no such member{hint}"
    return InputFault(("answers",), "unknown_answer", detail, name, ", ".join(members))


def part_of(field: fields.Field[Any]) -> Part | None:
    """The part that a member is, or that every entry of its list is; None for any other."""
    inner = field.inner if isinstance(field, fields.List) else field
    schema = inner.schema if isinstance(inner, fields.Nested) else None
    return schema if isinstance(schema, Part) else None


def _write_parts(field: fields.Field[Any], pick: Pick) -> Writer | None:
    part = part_of(field)
    if part is None:
        return None
    if isinstance(field, fields.List):
        return lambda entries, reasons, path: None if entries is None else [*map(part.dump, entries)]
    return lambda held, reasons, path: None if held is None else part.written(held, reasons, f"{path}.", pick)


def _write_value(field: fields.Field[Any]) -> Writer:
    return lambda value, reasons, path: field._serialize(value, None, None)


def _write_either(write: Writer) -> Writer:
    """How what is `knowable` is written: the value, or null and the reason."""

    def either(value: Any, reasons: Reasons, path: str) -> Any:
        if value.reason is None:
            return write(value.value, reasons, path)
        reasons[path] = value
        return None

    return either


Entry = Mapping[str, Any]
"""An entry of a list of an answer, as JSON."""


def amount(quantity: Mapping[str, Any]) -> str:
    """A quantity of an answer as a cell shows it: ``750.0 psi``."""
    return f"{quantity['value']} {quantity['unit']}"


class Words(fields.Field[Any]):
    """Text of our own, written only."""

    def _serialize(self, value: Any, attr: str | None, obj: Any, **kwargs: Any) -> Any:
        return value


class OneOf(Words):
    """One of a few words, written only; they may be the keys of a mapping that is filled later.

    Another word is a bug of ours and raises.
    """

    def __init__(self, words: Collection[str], **options: Any) -> None:
        super().__init__(**options)
        self.words = words

    def _serialize(self, value: Any, attr: str | None, obj: Any, **kwargs: Any) -> Any:
        if value in self.words or (value is None and self.allow_none):
            return value
        raise ValueError(f"{value!r} is written, but is none of: {', '.join(self.words)}")


class Count(fields.Field[int]):
    """How many there are, or the number of one among them: whole, never negative, written only."""

    def _serialize(self, value: Any, attr: str | None, obj: Any, **kwargs: Any) -> int | None:
        if value is None:
            return None
        if value < 0 or value != int(value):
            raise ValueError(f"{value!r} is written as a count")
        return int(value)


class AsGiven(Words):
    """An object that goes out as it is, and that the contract describes under a name of its own."""

    def __init__(self, component: str, **options: Any) -> None:
        super().__init__(**options)
        self.component = component


BASIS = "_basis"


class Basis(Words):
    """What the known value of the member beside it rests on: ``torque_basis`` is that of ``torque``."""

    def __init__(self, *, allow_none: bool = True) -> None:
        text = "What the value beside it rests on" + ("; null where that is." if allow_none else ".")
        super().__init__(allow_none=allow_none, metadata={"description": text})

    def _serialize(self, value: Any, attr: str | None, obj: Any, **kwargs: Any) -> Any:
        return value.basis
