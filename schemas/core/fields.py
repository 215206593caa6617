"""The fields and the base classes of every schema, and text as the values that it stands for."""

import re
from collections.abc import Collection, Mapping
from datetime import date
from difflib import get_close_matches
from math import isfinite
from typing import Any, ClassVar

from marshmallow import RAISE, Schema, ValidationError, fields

from schemas.core.faults import FieldFault, fault
from schemas.core.quantity import NotANumber, bare, given_number


class Request(Schema):
    """A schema of what comes in: a member that is not declared is refused, never ignored."""

    not_applicable: ClassVar[Mapping[str, FieldFault]] = {}
    """Names that are fields elsewhere and mean nothing here, each with the reason why it is refused."""

    class Meta:
        unknown = RAISE


LEFT_OUT = "left_out"
"""Metadata of a field of a request: the value that the request means where it leaves the field out, as it
loads, or a function of the other values, which is None where nothing is meant."""
SLUG = re.compile("[a-z0-9][a-z0-9._-]*")
"""A name that may stand in a path."""


class Number(fields.Field[float]):
    """A number without unit, or its text, within limits that are themselves accepted unless excluded."""

    def __init__(
        self,
        low: float | None = None,
        high: float | None = None,
        *,
        exclude_low: bool = False,
        exclude_high: bool = False,
        **options: Any,
    ) -> None:
        super().__init__(**options)
        self.low, self.high = low, high
        self.exclude_low, self.exclude_high = exclude_low, exclude_high
        bounds = []
        if low is not None:
            bounds.append(f"{'greater than' if exclude_low else 'at least'} {low:.10g}")
        if high is not None:
            bounds.append(f"{'less than' if exclude_high else 'at most'} {high:.10g}")
        self.accepted = "a number with a decimal point" + "".join(f", {bound}" for bound in bounds)

    def read(self, value: Any) -> float:
        """The number that is given, or that text stands for."""
        try:
            return given_number(value)
        except NotANumber as error:
            raise fault(error.code, str(error), self.accepted) from None

    def outside(self, number: float) -> ValidationError:
        """The refusal of a number beyond the limits."""
        return fault("out_of_range", f"{number!r} is out of range", self.accepted)

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> float:
        number = self.read(value)
        if not self.within(number):
            raise self.outside(number)
        return number

    def within(self, number: float) -> bool:
        """Whether a number is within the limits."""
        above = self.low is None or number > self.low or (number == self.low and not self.exclude_low)
        below = self.high is None or number < self.high or (number == self.high and not self.exclude_high)
        return above and below

    def _serialize(self, value: float | None, attr: str | None, obj: Any, **kwargs: Any) -> float | None:
        return None if value is None else ten_digits(value)


class WholeNumber(Number):
    """A number without decimals, within limits that are themselves accepted."""

    def __init__(self, low: int, high: int, **options: Any) -> None:
        super().__init__(low, high, **options)
        self.accepted = f"a whole number from {low} to {high}"

    def read(self, value: Any) -> float:
        """The number that is given, or that text stands for: an integer where it is whole."""
        number = super().read(value)
        return int(number) if number.is_integer() else number

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> int:
        number = super()._deserialize(value, attr, data, **kwargs)
        if not isinstance(number, int):
            raise fault("not_a_number", "not a whole number", self.accepted)
        return number


class Choice(fields.Field[str]):
    """One of a few words, which may be the keys of a mapping that is filled later."""

    def __init__(self, choices: Collection[str], **options: Any) -> None:
        super().__init__(**options)
        self.choices = choices

    @property
    def accepted(self) -> str:
        """The words."""
        return f"one of: {', '.join(self.choices)}"

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> str:
        word = str(value) if type(value) is int else bare(value)  # the number of an edition
        if not isinstance(word, str) or word not in self.choices:
            near = get_close_matches(str(word)[:40], self.choices, 1)
            hint = f"; did you mean {near[0]}?" if near else ""
            raise fault("not_a_choice", f"not one of the words known here{hint}", self.accepted)
        return word


class Text(fields.Field[str]):
    """Printable text of limited length."""

    def __init__(self, longest: int = 100, **options: Any) -> None:
        super().__init__(**options)
        self.longest = longest
        self.accepted = f"printable text of 1 to {longest} characters"

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> str:
        text = bare(value)
        if not isinstance(text, str) or not 0 < len(text) <= self.longest or not text.isprintable():
            raise fault("not_text", "not printable text of that length", self.accepted)
        return text


class Slug(Text):
    """A name that may stand in a path: lower-case letters, digits, dots, hyphens and underscores."""

    pattern = f"^{SLUG.pattern}$"

    def __init__(self, longest: int = 60, **options: Any) -> None:
        super().__init__(longest, **options)
        self.accepted = f"1 to {longest} of a-z, 0-9, dot, hyphen and underscore, beginning with a-z or 0-9"

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> str:
        text = super()._deserialize(value, attr, data, **kwargs)
        if not SLUG.fullmatch(text):
            raise fault("not_text", "has characters that a name here cannot have", self.accepted)
        return text


class Day(fields.Field[date]):
    """A day, such as 2026-11-24."""

    accepted = "a day such as 2026-11-24"

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> date:
        day = bare(value)
        if not isinstance(day, str) or not re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", day):
            raise fault("not_a_date", "not written as a day", self.accepted)
        try:
            return date.fromisoformat(day)
        except ValueError:
            raise fault("not_a_date", "there is no such day", self.accepted) from None


class Flag(fields.Field[bool]):
    """true or false, or as text yes, no, true or false."""

    words = {"true": True, "yes": True, "false": False, "no": False}
    accepted = "true or false; as text also yes or no"

    def read(self, value: Any) -> bool:
        """What is given, or what text stands for."""
        flag = self.words.get(bare(value)) if isinstance(value, str) else value
        if not isinstance(flag, bool):
            raise fault("not_a_flag", "neither true nor false", self.accepted)
        return flag

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> bool:
        return self.read(value)


def ten_digits(value: float) -> float:
    """A number rounded to 10 significant digits, as all answers are; never ``-0.0``.

    Raises:
        ValueError: for one that is not finite: that is a bug of ours, and no answer shows it.
    """
    shown = float(f"{value:.10g}") + 0.0
    if not isfinite(shown):
        raise ValueError(f"{value} in an answer")
    return shown


def as_read(fields: Mapping[str, Any], given: Mapping[str, Any]) -> dict[str, Any]:
    """A request that was read, with text for numbers and flags as what it stands for.

    Text with a comma is kept: sent again, it is read by the same rule, and that is told again.
    """
    return {name: _as_read(fields.get(name), value) for name, value in given.items()}


def _as_read(field: Any, value: Any) -> Any:
    if not isinstance(value, str) or not isinstance(field, (Number, Flag)) or "," in value:
        return value
    try:
        return field.read(value)
    except ValidationError:  # a way of writing of its own, such as three ratios
        return value


class Members(fields.Field[Mapping[str, Any]]):
    """An object whose members are named by something that this schema does not know, such as a shop's table.

    Each may also stand alone, as ``name.member``, as it must in a query and in the header of a table: see
    `gathered`.
    """

    accepted = "an object; in a query or a table each member stands under a name with a dot"

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Mapping[str, Any]:
        if not isinstance(value, Mapping):
            raise fault("not_an_object", "a JSON object is expected", self.accepted)
        return value


MEMBER = re.compile(r"(?P<outer>[^.\[\]]+)(?:\.(?P<dotted>.+)|\[(?P<bracketed>[^\[\]]+)\])")
"""A member as a name of its own: ``table_key.bore``, or as OpenAPI's deepObject ``table_key[bore]``."""


def field_named(known: Mapping[str, Any], name: str) -> Any:
    """The field that a name stands for, by itself or as that of its member; None if there is none."""
    if name in known:
        return known[name]
    match = MEMBER.fullmatch(name)
    field = known.get(match["outer"]) if match else None
    return field if isinstance(field, Members) else None


def gathered(known: Mapping[str, Any], raw: Any) -> Any:
    """A request with members that stand alone gathered into their object; anything else as it is.

    Never into one that is also given whole, and never twice: such a name is left over, and is no field.
    """
    if not isinstance(raw, Mapping) or not any("." in name or "[" in name for name in raw):
        return raw
    values: dict[str, Any] = {}
    for name, value in raw.items():
        match = MEMBER.fullmatch(name)
        if match and isinstance(known.get(match["outer"]), Members) and match["outer"] not in raw:
            members = values.setdefault(match["outer"], {})
            member = match["dotted"] or match["bracketed"]
            if member not in members:
                members[member] = value
                continue
        values[name] = value
    return values
