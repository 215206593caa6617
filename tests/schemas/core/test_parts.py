"""What goes out: every number finite, and those members alone that are picked."""

import math
import sys
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from marshmallow import fields

from api.engineering.provenance import Known, NotKnown
from schemas.core.faults import InvalidInput
from schemas.core.fields import Number, ten_digits
from schemas.core.parts import Basis, Part, Words, dotted, knowable, picked
from schemas.core.quantity_fields import AmountField, DialReading, OutputUnits, Quantity, written_in


@given(st.floats(allow_nan=True, allow_infinity=True))
@example(sys.float_info.max)
def test_no_number_leaves_that_is_not_finite(value: float) -> None:
    """What leaves differs by half a unit of its tenth digit at most, and zero has no sign."""
    if not math.isfinite(value):
        with pytest.raises(ValueError, match="in an answer"):
            ten_digits(value)
        return
    try:
        shown = ten_digits(value)
    except ValueError:
        assert abs(value) > 1.797693134e308  # rounded up it is beyond the largest number
        return
    assert math.isfinite(shown)
    assert math.isclose(shown, value, rel_tol=5.1e-10)
    assert math.copysign(1, shown) == 1 or shown < 0


class Reading:
    """A reading of a dial, or an amount, as engineering gives it."""

    def __init__(self, value: float) -> None:
        self.value, self.unit, self.kind = value, "psi", "pressure"


WRITTEN: dict[str, tuple[fields.Field[Any], Callable[[float], Any]]] = {
    "a number": (Number(), float),
    "a torque": (Quantity("torque"), float),
    "a reading": (DialReading(), Reading),
    "an amount": (AmountField(), Reading),
    "what may not be known": (knowable(Number()), lambda value: Known(value, "")),
}


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
@pytest.mark.parametrize("name", WRITTEN)
def test_a_result_that_is_not_finite_is_never_written(name: str, value: float) -> None:
    field, made = WRITTEN[name]
    part = type("Result", (Part,), {"figure": field})()
    with written_in(OutputUnits("us")):
        assert part.written({"figure": made(1.0)}, {}, "")
        with pytest.raises(ValueError, match="in an answer"):
            part.written({"figure": made(value)}, {}, "")


class Inner(Part):
    """What stands in a member."""

    only_full = frozenset({"why"})

    low = knowable(Number())
    low_basis = Basis()
    why = Words()


class Outer(Part):
    """An answer."""

    only_full = frozenset({"notes"})
    may_lack = frozenset({"side"})

    inner = fields.Nested(Inner)
    side = Words()
    notes = fields.List(fields.Nested(Inner))


OUTER = Outer()
HELD = {"inner": {"low": Known(1.0, "measured"), "why": "so"}, "side": "cap", "notes": []}


def test_short_full_and_picked() -> None:
    full = {"inner": {"low": 1.0, "low_basis": "measured", "why": "so"}, "side": "cap", "notes": []}
    assert OUTER.written(HELD, {}, "") == full
    short = {"inner": {"low": 1.0, "low_basis": "measured"}, "side": "cap"}
    assert OUTER.written(HELD, {}, "", "short") == short
    tree = picked("notes, inner.why", OUTER.fields)
    assert tree == {"notes": "full", "inner": {"why": "full"}}
    assert list(OUTER.written(HELD, {}, "", tree).items()) == [("notes", []), ("inner", {"why": "so"})]


def test_what_an_object_lacks_is_absent_if_its_part_may_lack_it() -> None:
    assert "side" not in OUTER.written({"inner": HELD["inner"], "notes": []}, {}, "")
    with pytest.raises(KeyError):
        OUTER.written({"side": "cap", "notes": []}, {}, "")


def test_reasons_are_those_of_the_members_written() -> None:
    """Under the dotted name of each, with any of them left out."""
    unknown = {**HELD, "inner": {"low": NotKnown("not measured"), "why": "so"}}
    for pick, names in ((("inner",), ["inner.low"]), (("inner.low",), ["inner.low"]), (("side",), [])):
        reasons: dict[str, Any] = {}
        OUTER.written(unknown, reasons, "", picked(",".join(pick), OUTER.fields))
        assert list(reasons) == names


def test_names_that_can_be_picked() -> None:
    """A list is picked whole."""
    assert list(dotted(OUTER.fields)) == [
        *("inner", "inner.low", "inner.low_basis", "inner.why", "side", "notes"),
    ]
    with pytest.raises(InvalidInput) as refusal:
        picked("side,notes.why,inner.hwy", OUTER.fields)
    assert [fault.value for fault in refusal.value.faults] == ["notes.why", "inner.hwy"]
    assert refusal.value.faults[1].detail.endswith("did you mean inner.why?")
