"""Quantities as fields: in with their unit, out in the units that a request asks for."""

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from decimal import Decimal
from functools import cache
from typing import Any

from marshmallow import Schema, fields

from schemas.core.faults import InvalidInput, fault, load
from schemas.core.fields import Choice, Flag, Request, Text, ten_digits
from schemas.core.quantity import LONGEST, NotAQuantity, given_quantity, how_to_write, read_quantity
from schemas.core.quantity import Quantity as ReadQuantity
from schemas.core.units import UNITS, Unit, UnknownUnit, codes_of, unit_named

SYSTEMS = {
    "us": {
        "torque": "lbf.ft", "pressure": "psi", "stress": "psi", "force": "lbf", "length": "in", "area": "in2",
        "volume": "in3", "displacement": "in3/rev", "flow": "US gal/min", "kinematic_viscosity": "cSt",
        "dynamic_viscosity": "cP", "angle": "deg", "temperature": "degF", "linear_mass": "lb/ft",
        "time": "s",
    },
    "si": {
        "torque": "N.m", "pressure": "Pa", "stress": "Pa", "force": "N", "length": "m", "area": "m2",
        "volume": "m3", "displacement": "m3/rad", "flow": "m3/s", "kinematic_viscosity": "m2/s",
        "dynamic_viscosity": "Pa.s", "angle": "rad", "temperature": "K", "linear_mass": "kg/m",
        "time": "s",
    },
    "metric": {
        "torque": "kN.m", "pressure": "bar", "stress": "MPa", "force": "kN", "length": "mm", "area": "mm2",
        "volume": "cm3", "displacement": "cm3/rev", "flow": "L/min", "kinematic_viscosity": "cSt",
        "dynamic_viscosity": "cP", "angle": "deg", "temperature": "degC", "linear_mass": "kg/m",
        "time": "s",
    },
}  # fmt: skip


MANY: Mapping[str, int] = {"number": 3, "length": 7, "other": 5}
"""Significant digits of an amount in a sentence, by its kind: enough to compare it with a limit.

A length is told to the 1/64 in.
"""
FEW: Mapping[str, int] = {"number": 3, "length": 5, "other": 4}
"""The same of a finding, which is read at the machine."""
MOST_DIGITS = 10
READABLE = (1e-9, 1e10)
"""Between these a number in a sentence has no exponent."""


class OutputUnits:
    """A unit for every kind of quantity."""

    def __init__(self, system: str, chosen: Mapping[str, Unit] | None = None) -> None:
        self.units = {kind: UNITS[code] for kind, code in SYSTEMS[system].items()} | dict(chosen or {})

    def with_units(self, chosen: Mapping[str, Unit]) -> "OutputUnits":
        """The same with other units for some kinds."""
        changed = OutputUnits.__new__(OutputUnits)
        changed.units = self.units | dict(chosen)
        return changed

    def show(self, kind: str, si: float, code: str | None = None) -> dict[str, float | str]:
        """``{"value", "unit"}`` with 10 significant digits; a ``number`` has the unit 1.

        Args:
            kind: of quantity.
            si: its value.
            code: of the unit that it has whatever was asked for; None for the one asked for.
        """
        if kind == "number":
            return {"value": ten_digits(si), "unit": "1"}
        unit = UNITS[code] if code else self.units[kind]
        return {"value": ten_digits(unit.from_si(si)), "unit": unit.code}

    def fill(self, sentence: str, amounts: Mapping[str, Any], digits: Mapping[str, int] = MANY) -> str:
        """A sentence with ``{name}`` replaced by the amounts of that name, each with a kind and an SI value.

        Nothing else in braces is touched: a sentence may hold text of a user, which must never be a format.
        Amounts that differ look different, with more digits than their kind has if need be.

        Args:
            sentence: with names in braces.
            amounts: by name; one that is None is not touched.
            digits: significant ones by kind of quantity, `MANY` or `FEW`.
        """
        if "{" not in sentence:
            return sentence
        known = {name: amount for name, amount in amounts.items() if amount is not None}
        if not known:
            return sentence
        for name, text in self._apart(known, digits).items():  # no amount as text has a brace
            sentence = sentence.replace(f"{{{name}}}", text)
        return sentence

    def _apart(self, amounts: Mapping[str, Any], digits: Mapping[str, int]) -> dict[str, str]:
        """Every amount as text, those of different values told apart."""
        values: set[tuple[str, str]] | None = None
        for more in range(MOST_DIGITS):
            texts = {
                name: self.text(each, more + digits.get(each.kind, digits["other"]))
                for name, each in amounts.items()
            }
            different = len(set(texts.values()))
            if different == len(texts):
                break
            if values is None:
                values = {(each.kind, f"{each.value:.{MOST_DIGITS}g}") for each in amounts.values()}
            if different >= len(values):
                break
        return texts

    def reasons(self, found: Mapping[str, Any]) -> dict[str, str]:
        """Why members are null, by their dotted names, as sentences."""
        return {name: self.fill(each.reason, each.amounts) for name, each in found.items()}

    def text(self, amount: Any, digits: int) -> str:
        """An amount inside a sentence: ``5.3125 in``; a mark of a dial as it stands there.

        Args:
            amount: with a kind, an SI value, a unit of its own or None, and whether it is a mark.
            digits: significant ones, at most `MOST_DIGITS`.
        """
        digits = MOST_DIGITS if amount.on_mark else min(digits, MOST_DIGITS)
        if amount.kind == "number":
            return rounded(amount.value, digits)
        unit = UNITS[amount.unit] if amount.unit else self.units[amount.kind]
        return f"{rounded(unit.from_si(amount.value), digits)} {unit.code}"


def rounded(value: float, digits: int) -> str:
    """A number with so many significant digits, without an exponent while it is readable."""
    text = f"{value:.{digits}g}"
    return f"{Decimal(text):f}" if "e" in text and READABLE[0] <= abs(value) < READABLE[1] else text


output_units: ContextVar[OutputUnits] = ContextVar("output_units")
"""The units in which the answer being written shows its quantities; see `written_in`."""


@contextmanager
def written_in(units: OutputUnits) -> Iterator[None]:
    """Answers that are dumped inside show their quantities in these units."""
    token = output_units.set(units)
    try:
        yield
    finally:
        output_units.reset(token)


REASONABLE = {
    "torque": ("0.001 N.m", "100000 kN.m"),
    "pressure": ("100 Pa", "10000 bar"),
    "stress": ("1 kPa", "100000 MPa"),
    "force": ("0.001 N", "1000000 kN"),
    "length": ("0.01 mm", "100 m"),
    "area": ("0.001 mm2", "100 m2"),
    "angle": ("0.001 deg", "1000 rev"),
    "displacement": ("0.1 cm3/rev", "100000 cm3/rev"),
    "linear_mass": ("0.1 lb/ft", "2000 lb/ft"),
    "time": ("0.1 s", "1440 min"),
}
"""Limits of each kind beyond which a value is a slip of the keyboard, whatever field it is in."""


@cache  # most of the hundreds of fields have the reasonable limits of their kind
def _limit(text: str, kind: str) -> float:
    return read_quantity(text, kind).si


class Quantity(fields.Field[float]):
    """A quantity of one kind; loads to SI, dumps to ``{"value", "unit"}`` in the asked units.

    Args:
        kind: one of `schemas.core.units.SI_UNITS`.
        limits: lowest and highest accepted, as text with unit; the reasonable ones of the kind by default.
        zero: whether exactly 0 is accepted below the lowest.

    Raises:
        ValueError: for a kind without a row in REASONABLE that is given no limits.
    """

    def __init__(
        self, kind: str, *, limits: tuple[str, str] | None = None, zero: bool = False, **options: Any
    ) -> None:
        super().__init__(**options)
        if limits is None and kind not in REASONABLE:
            raise ValueError(
                f"{kind!r} is no kind with a row in REASONABLE: add one, or give limits=(lowest, highest), "
                f"each with its unit; kinds with a row: {', '.join(REASONABLE)}"
            )
        self.kind = kind
        self.limits = limits or REASONABLE[kind]
        self.zero = zero
        self.low, self.high = (_limit(limit, kind) for limit in self.limits)
        self.accepted = f"{how_to_write(kind)}; {self.range_text}"

    @property
    def range_text(self) -> str:
        """The limits in words."""
        either = "0 or " if self.zero else ""
        return f"{either}{self.limits[0]} to {self.limits[1]}"

    def read(self, value: Any) -> ReadQuantity:
        """The quantity given, within the limits."""
        try:
            quantity = given_quantity(value, self.kind)
        except NotAQuantity as error:
            raise fault(error.code, str(error), self.accepted) from None
        if not (self.low <= quantity.si <= self.high or (self.zero and quantity.si == 0)):
            code, bounds = quantity.unit.code, (self.low, self.high)
            low, high = (rounded(quantity.unit.from_si(si), MANY["other"]) for si in bounds)
            raise fault(
                "out_of_range",
                f"{rounded(quantity.value, MOST_DIGITS)} {code} is not between {low} and {high} {code}",
                self.accepted,
            )
        return quantity

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> float:
        return self.read(value).si

    def _serialize(self, value: float | None, attr: str | None, obj: Any, **kwargs: Any) -> Any:
        return None if value is None else output_units.get().show(self.kind, value)


class DialQuantity(Quantity):
    """A pressure on a dial: loads with the unit it was typed in, since that is the unit of the dial."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        return self.read(value)


class EitherDial(fields.Field[Any]):
    """A reading of a dial that may be of one kind or another, such as pressure or force."""

    def __init__(self, kinds: tuple[str, ...], *, zero: bool = False, **options: Any) -> None:
        """``zero`` is whether exactly 0 is accepted."""
        super().__init__(**options)
        self.dials = {kind: DialQuantity(kind, zero=zero) for kind in kinds}
        self.accepted = "; or ".join(dial.accepted for dial in self.dials.values())

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        try:
            kinds = given_quantity(value, None).unit.kinds
        except NotAQuantity as error:
            raise fault(error.code, str(error), self.accepted) from None
        for kind, dial in self.dials.items():
            if kind in kinds:
                return dial.read(value)
        raise fault("wrong_kind", f"a unit of {kinds[0]}", self.accepted)


class DialReading(fields.Field[Any]):
    """A reading of a dial in the unit of that dial, which ``units`` never changes."""

    kind = "pressure"

    def _serialize(self, value: Any, attr: str | None, obj: Any, **kwargs: Any) -> Any:
        return None if value is None else {"value": ten_digits(value.value), "unit": value.unit}


class UnitName(fields.Field[Unit]):
    """A unit in any spelling; of one kind, or of any."""

    def __init__(self, kind: str | None = None, **options: Any) -> None:
        super().__init__(**options)
        self.kind = kind
        self.accepted = f"a unit: {', '.join(codes_of(kind) if kind else UNITS)}"

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Unit:
        if not isinstance(value, str) or len(value) > LONGEST:
            raise fault("unknown_unit", f"a unit is text of at most {LONGEST} characters", self.accepted)
        try:
            unit = unit_named(value.strip())
        except UnknownUnit as error:
            raise fault("unknown_unit", str(error), self.accepted) from None
        if self.kind is not None and self.kind not in unit.kinds:
            raise fault("wrong_kind", f"{value!r} is a unit of {unit.kinds[0]}", self.accepted)
        return unit


class AmountField(fields.Field[Any]):
    """A number whose kind comes with it."""

    def _serialize(self, value: Any, attr: str | None, obj: Any, **kwargs: Any) -> Any:
        return None if value is None else output_units.get().show(value.kind, value.value, value.unit)


def _unit_of(kind: str) -> UnitName:
    return UnitName(kind, metadata={"description": f"Unit in which every {kind} of the answer is shown."})


class Presentation(Request):
    """Units, working and what is held; may stand in the query of any request or in the body of a POST."""

    units = Choice(
        tuple(SYSTEMS),
        metadata={"description": "System of units of the answer. Gauge settings keep the unit of the dial."},
    )
    torque_unit = _unit_of("torque")
    pressure_unit = _unit_of("pressure")
    length_unit = _unit_of("length")
    force_unit = _unit_of("force")
    stress_unit = _unit_of("stress")
    area_unit = _unit_of("area")
    angle_unit = _unit_of("angle")
    steps = Flag(metadata={"description": "true: the answer shows its working, equation by equation."})
    self_contained = Flag(
        metadata={
            "description": "true: inputs, in any answer, hold also profile and rows of the table, so that "
            "its receipt can be checked where these are not known."
        }
    )


class Portion(Request):
    """How much of an answer; may stand in the query of any request, in the body of a POST, or for a batch."""

    detail = Choice(
        ("short", "full"),
        metadata={
            "description": "short: what to do, and what to know of it. full: besides, the checks that "
            "passed, the uncertainty term by term, sources and inputs. short if left out."
        },
    )
    answers = Text(
        1000,
        metadata={
            "description": "Members of the answer by comma, such as gauge_setting,torque.target: these "
            "alone, with findings and reasons, whatever the detail. The others are left out.",
        },
    )


PRESENTATION = Presentation()
PORTION = Portion()
_SYSTEMS = {name: OutputUnits(name) for name in SYSTEMS}


def apart(raw: Any, schema: Schema) -> tuple[Any, dict[str, Any]]:
    """A request without the members of ``schema``, and these; anything but an object stays whole."""
    if not isinstance(raw, Mapping):
        return raw, {}
    rest, own = dict(raw), {}
    for name in schema.fields:
        if name in rest:
            own[name] = rest.pop(name)
    return rest, own


def units_of(presentation: Mapping[str, Any], system: str) -> OutputUnits:
    """The units that a loaded presentation names, in the system that it names, else in ``system``."""
    ending = "_unit"
    chosen = {name.removesuffix(ending): unit for name, unit in presentation.items() if name.endswith(ending)}
    name = presentation.get("units", system)
    return OutputUnits(name, chosen) if chosen else _SYSTEMS[name]


def units_asked(raw: Any, system: str) -> OutputUnits:
    """The units that a request asks for, as far as they can be read; a refusal shows its amounts in them."""
    try:
        return units_of(load(PRESENTATION, apart(raw, PRESENTATION)[1]), system)
    except InvalidInput:
        return _SYSTEMS[system]


class PlainText(Request):
    """One value as text, for a spreadsheet cell; in the query only."""

    format = Choice(
        ("json", "text"),
        metadata={"description": "text: one value alone, as a spreadsheet cell takes it. json if left out."},
    )
    answer = Text(
        60,
        metadata={
            "description": (
                "With text: name of the value, such as torque.target, or refusal for the "
                "reason why there is none."
            )
        },
    )
    unit = Text(
        64,
        metadata={"description": "With text: unit of the value. Required for a quantity."},
    )


class SystemOfUnits(Request):
    """A request that takes the system of units and nothing else."""

    units = Choice(tuple(SYSTEMS), metadata={"description": "System of units of the answer."})


class Nothing(Request):
    """A request that takes no query at all."""
