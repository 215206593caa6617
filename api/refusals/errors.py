"""Every way of saying no, in one shape: a list of errors with place, code, value and what is accepted."""

from collections.abc import Mapping, Sequence
from math import isfinite
from typing import Any

from api.engineering.checks import Fault, NoAnswer
from schemas.core.faults import InputFault, InvalidInput, pointer
from schemas.core.quantity import NotAQuantity, NumberRule, given_quantity, numbers_read
from schemas.core.quantity_fields import OutputUnits, units_asked

LONGEST_ECHO = 100
"""Characters of a value that an error shows."""
MOST_ERRORS = 100
"""Errors that one refusal tells; a request with more is broken as a whole."""


def errors_of(
    refusal: InvalidInput | NoAnswer, raw: Any, system: str, numbers: NumberRule = "strict"
) -> list[dict[str, Any]]:
    """The errors of a refusal; amounts are told in the unit the caller used for the field at fault.

    Args:
        refusal: what was raised.
        raw: the request as it came.
        system: system of units where the request names none.
        numbers: how the request was read.
    """
    if isinstance(refusal, InvalidInput):
        return [_input_error(fault) for fault in refusal.faults[:MOST_ERRORS]]
    members = raw if isinstance(raw, Mapping) else {}
    with numbers_read(numbers):
        return [_no_answer_error(fault, members, system) for fault in refusal.faults]


def single_code(errors: list[dict[str, Any]]) -> str:
    """The one code that stands for all errors: theirs if they share it, else ``several_faults``."""
    codes = {error["code"] for error in errors}
    return str(codes.pop()) if len(codes) == 1 else "several_faults"


def in_words(errors: Sequence[Mapping[str, Any]]) -> str:
    """Every reason of a refusal, for a person: the place, what is wrong, and what would be accepted."""
    return "; ".join(_reason(error) for error in errors)


def _reason(error: Mapping[str, Any]) -> str:
    place = error.get("parameter") or (error.get("pointer") or "").removeprefix("/")
    accepted = f" (accepted: {error['accepted']})" if "accepted" in error else ""
    return f"{place + ': ' if place else ''}{error['detail']}{accepted}"


def _input_error(fault: InputFault) -> dict[str, Any]:
    error = {"pointer": pointer(fault.path), "code": fault.code, "detail": fault.detail}
    if fault.value is not None:
        error["value"] = _shown(fault.value)
    if fault.accepted:
        error["accepted"] = fault.accepted
    return error


def _no_answer_error(fault: Fault, raw: Mapping[str, Any], system: str) -> dict[str, Any]:
    path = tuple(fault.field.split(".", 1)) if fault.field else ()
    given = _member(raw, path) if path else None
    units = _units_used(given, units_asked(raw, system))
    error: dict[str, Any] = {"pointer": pointer(path) if path else None}
    error |= {"code": fault.code, "detail": units.fill(fault.text, fault.amounts)}
    if given is not None:
        error["value"] = _shown(given)
    if fault.accepted:
        error["accepted"] = fault.accepted
    return error


def _member(raw: Mapping[str, Any], path: tuple[str, ...]) -> Any:
    """What stands at a path; in a query the member of an object is a name of its own."""
    outer = raw.get(path[0])
    if len(path) == 1:
        return outer
    if isinstance(outer, Mapping):
        return outer.get(path[1])
    return raw.get(".".join(path), raw.get(f"{path[0]}[{path[1]}]"))


def _units_used(given: Any, asked: OutputUnits) -> OutputUnits:
    """The units asked for, but for the kind of the field at fault the one it was given in."""
    try:
        unit = given_quantity(given, None).unit
    except NotAQuantity:
        return asked
    return asked.with_units(dict.fromkeys(unit.kinds, unit))


def _shown(value: Any) -> Any:
    """A value as an error may show it: short, finite, and never a whole structure."""
    if isinstance(value, Mapping):
        return _shown(f"{value['value']} {value['unit']}") if set(value) == {"value", "unit"} else "an object"
    if isinstance(value, list):
        return "a list"
    if value is None or isinstance(value, bool):
        return value
    if isinstance(value, (int, float)) and abs(value) < 1e300 and isfinite(value):
        return value
    text = str(value) if isinstance(value, (str, float)) else "a number too large to show"
    return text if len(text) <= LONGEST_ECHO else text[:LONGEST_ECHO] + "…"
