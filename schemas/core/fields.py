"""The fields and the base classes of every schema, and text as the values that it stands for."""

import re
from collections.abc import Collection, Mapping
from datetime import date
from difflib import get_close_matches
from math import isfinite
from typing import Any, ClassVar

from marshmallow import RAISE, Schema, fields

from schemas.core.faults import FieldFault, fault
from schemas.core.quantity import NotANumber, note_comma, number_rule, plain_number


class Request(Schema):
    """A schema of what comes in: a member that is not declared is refused, never ignored."""

    not_applicable: ClassVar[Mapping[str, FieldFault]] = {}
    """Names that are fields elsewhere and mean nothing here, each with the reason why it is refused."""

    class Meta:
        unknown = RAISE


SLUG = re.compile("[a-z0-9][a-z0-9._-]*")
"""A name that may stand in a path."""


class Number(fields.Field[float]):
    """A number without unit, within limits that are themselves accepted unless excluded."""

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

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> float:
        if isinstance(value, str):
            value = self._with_comma(value)
        if isinstance(value, bool) or not isinstance(value, (int, float)):
            raise fault("not_a_number", "not a JSON number", self.accepted)
        try:
            number = float(value)
        except OverflowError:
            number = float("inf")
        if not isfinite(number):
            raise fault("not_finite", "the number is too large to be represented", self.accepted)
        if not self._within(number):
            raise fault("out_of_range", f"{number!r} is out of range", self.accepted)
        return number + 0.0

    def _with_comma(self, text: str) -> float:
        """Text is no JSON number, but one with a comma is read where the shop says what its commas mean."""
        rule = number_rule()
        if rule == "strict" or "," not in text:
            raise fault("not_a_number", why_not_a_number(text), self.accepted)
        try:
            number = plain_number(text, rule)
        except NotANumber as error:
            raise fault("not_a_number", str(error), self.accepted) from None
        note_comma(text, number)
        return number

    def _within(self, number: float) -> bool:
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

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> int:
        number = super()._deserialize(value, attr, data, **kwargs)
        if not number.is_integer():
            raise fault("not_a_number", "not a whole number", self.accepted)
        return int(number)


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
        if not isinstance(value, str) or value not in self.choices:
            near = get_close_matches(str(value)[:40], self.choices, 1)
            hint = f"; did you mean {near[0]}?" if near else ""
            raise fault("not_a_choice", f"not one of the words known here{hint}", self.accepted)
        return value


class Text(fields.Field[str]):
    """Printable text of limited length."""

    def __init__(self, longest: int = 100, **options: Any) -> None:
        super().__init__(**options)
        self.longest = longest
        self.accepted = f"printable text of 1 to {longest} characters"

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> str:
        if not isinstance(value, str) or not 0 < len(value) <= self.longest or not value.isprintable():
            raise fault("not_text", "not printable text of that length", self.accepted)
        return value


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
        if not isinstance(value, str) or not re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", value):
            raise fault("not_a_date", "not written as a day", self.accepted)
        try:
            return date.fromisoformat(value)
        except ValueError:
            raise fault("not_a_date", "there is no such day", self.accepted) from None


class Flag(fields.Field[bool]):
    """true or false; in a query or a cell also yes and no."""

    words = {"true": True, "yes": True, "false": False, "no": False}
    accepted = "true or false (in a query also yes or no)"

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> bool:
        if not isinstance(value, bool):
            raise fault("not_a_flag", "neither true nor false", self.accepted)
        return value


class Members(fields.Field[Mapping[str, Any]]):
    """An object whose members are named by something that this schema does not know, such as a shop's table.

    In a query and in the header of a table each stands alone, as ``name.member``: see `from_text`.
    """

    accepted = "an object; in a query or a table each member stands under a name with a dot"

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Mapping[str, Any]:
        if not isinstance(value, Mapping):
            raise fault("not_an_object", "a JSON object is expected", self.accepted)
        return value


def ten_digits(value: float) -> float:
    """A number rounded to 10 significant digits, as all answers are; never ``-0.0``.

    Raises:
        ValueError: for one that is not finite: that is a bug of ours, and no answer shows it.
    """
    shown = float(f"{value:.10g}") + 0.0
    if not isfinite(shown):
        raise ValueError(f"{value} in an answer")
    return shown


def why_not_a_number(text: str) -> str:
    """The reason why ``text`` is not taken for a number."""
    try:
        plain_number(text, number_rule())
    except NotANumber as error:
        return str(error)
    return "a JSON number is expected, not text"


MEMBER = re.compile(r"(?P<outer>[^.\[\]]+)(?:\.(?P<dotted>.+)|\[(?P<bracketed>[^\[\]]+)\])")
"""A member as a name of its own: ``table_key.bore``, or as OpenAPI's deepObject ``table_key[bore]``."""


def field_named(fields: Mapping[str, Any], name: str) -> Any:
    """The field that a name stands for, by itself or as that of its member; None if there is none."""
    if name in fields:
        return fields[name]
    match = MEMBER.fullmatch(name)
    field = fields.get(match["outer"]) if match else None
    return field if isinstance(field, Members) else None


def from_text(schema: Schema, raw: Mapping[str, str]) -> dict[str, Any]:
    """Text as JSON values; what cannot be is left as it is, for the field to refuse.

    Members are gathered into their object, but never into one that is also given whole, and never twice: such
    a name is left over, and is no field.
    """
    values: dict[str, Any] = {}
    for name, text in raw.items():
        match, field = MEMBER.fullmatch(name), field_named(schema.fields, name)
        if match and isinstance(field, Members) and match["outer"] not in raw:
            members = values.setdefault(match["outer"], {})
            member = match["dotted"] or match["bracketed"]
            if member not in members:
                members[member] = text
                continue
        values[name] = _value(field, text)
    return values


def _value(field: Any, text: str) -> Any:
    if isinstance(field, Number):
        rule = number_rule()
        if "," in text and rule != "strict":
            return text  # the field reads it, so that the answer lists how
        try:
            return plain_number(text, rule)
        except NotANumber:
            return text
    return Flag.words.get(text, text) if isinstance(field, Flag) else text
