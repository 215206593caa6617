"""The form of an answer: which one is asked for, and an answer as text."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from werkzeug.datastructures import MIMEAccept

from api.answers.record import stops
from api.batch.cells import Members, in_words, members_of, reasons_in_words
from api.http.problems import Problem
from schemas.core.faults import InputFault, InvalidInput
from schemas.core.units import Unit, UnknownUnit, unit_named

JSON, TEXT = "application/json", "text/plain"
CSV, SVG, HTML = "text/csv", "image/svg+xml", "text/html"
FORMATS = {"json": JSON, "text": TEXT, "csv": CSV, "svg": SVG, "html": HTML}
"""Media types by the name that a query has for them."""


def media_type(accept: MIMEAccept, wanted: str | None, offered: tuple[str, ...] = (JSON, TEXT)) -> str:
    """The media type to answer with.

    Args:
        accept: the Accept header; absent means anything.
        wanted: the ``format`` of the query, which outranks the header.
        offered: what can be given, best first.

    Raises:
        Problem: 406 where nothing offered is acceptable.
    """
    if wanted is not None:
        form = FORMATS[wanted]
        if form not in offered:
            raise Problem(406, "not_acceptable", f"this answers with {' or '.join(offered)}")
        return form
    if not accept:
        return offered[0]
    chosen = accept.best_match(offered)
    if chosen is None:
        raise Problem(406, "not_acceptable", f"this answers with {' or '.join(offered)}")
    return chosen


REFUSAL = "refusal"
"""The name under which a cell asks why a question is refused."""
NONE = "none"
"""What a cell shows where there is nothing to say: an empty one could be mistaken for a failure."""


SAID_WITH_A_STOP = ("findings", "status", "reasons", "assumptions", "sources")
"""What is told as text of an answer that has a stop: a bare number would hide it."""


def unit_asked(spelling: str | None) -> Unit | None:
    """The unit of the text.

    Raises:
        InvalidInput: ``unknown_unit``.
    """
    if spelling is None:
        return None
    try:
        return unit_named(spelling.strip())
    except UnknownUnit as error:
        raise InvalidInput([InputFault(("unit",), "unknown_unit", str(error), spelling)]) from None


def value_as_text(answer: Mapping[str, Any], members: Members, name: str | None, unit: Unit | None) -> str:
    """The value called ``name``, such as ``torque.target``, in ``unit``, in which the answer is written.

    ``members`` are the fields that wrote the answer.

    Raises:
        InvalidInput: ``answer_required``, ``unknown_answer``, ``no_value``, ``unit_required``,
            ``wrong_kind``, ``fixed_unit``, ``unit_not_applicable``, ``stop_to_settle``.
    """
    names = dict(_values(answer, members))
    if name is None:
        raise _refuse("answer", "answer_required", "name the value that you want", None, ", ".join(names))
    if name.partition(".")[0] not in SAID_WITH_A_STOP and (found := stops(answer)):
        accepted = f"one of {', '.join(SAID_WITH_A_STOP)}, or the whole answer"
        raise _refuse("answer", "stop_to_settle", " ".join(found), name, accepted)
    parent = name.rpartition(".")[0]
    if name not in names and parent in names and names[parent] is None:
        name = parent
    if name not in names:
        raise _refuse("answer", "unknown_answer", "the answer has no such value", name, ", ".join(names))
    value = names[name]
    if value is None:
        reason = names.get(f"reasons.{name}", "it is empty in this answer")
        raise _refuse("answer", "no_value", str(reason), name, None)
    if isinstance(value, Mapping):
        return _quantity(name, value, unit)
    if unit is not None:
        raise _refuse("unit", "unit_not_applicable", f"{name} has no unit", unit.code, "no unit")
    return number_as_text(value) if isinstance(value, (int, float)) else str(value)


def _quantity(name: str, value: Mapping[str, Any], unit: Unit | None) -> str:
    if unit is None:
        detail = f"{name} is a quantity: name the unit, since a number alone could be misread"
        raise _refuse("unit", "unit_required", detail, None, f"a unit, such as {value['unit']}")
    if value["unit"] != unit.code:
        shown = unit_named(value["unit"])
        if set(shown.kinds) & set(unit.kinds):
            detail = f"{name} is given in {shown.code} only"
            raise _refuse("unit", "fixed_unit", detail, unit.code, shown.code)
        detail = f"{unit.code} is a unit of {unit.kinds[0]}, {name} is a {shown.kinds[0]}"
        raise _refuse("unit", "wrong_kind", detail, unit.code, f"a unit such as {shown.code}")
    return number_as_text(value["value"])


def number_as_text(value: float) -> str:
    """A number with a decimal point, no exponent and no needless zeros.

    >>> number_as_text(27116.0), number_as_text(1e-07), number_as_text(0.5)
    ('27116', '0.0000001', '0.5')
    """
    text = format(Decimal(repr(float(value))), "f")
    return text.rstrip("0").rstrip(".") if "." in text else text


def _values(answer: Mapping[str, Any], members: Members, path: str = "") -> Any:
    """Every value of an answer with its dotted name; lists in words, what was asked left out."""
    for name, value in answer.items():
        if not path and name in ("inputs", "version", "steps"):
            continue
        if not path and name == "reasons":
            yield name, "\n".join(reasons_in_words(value)) or NONE
        if isinstance(value, Mapping) and set(value) != {"value", "unit"}:
            yield from _values(value, members_of(members.get(name)), f"{path}{name}.")
        elif isinstance(value, list):
            yield f"{path}{name}", in_words(value, members.get(name)) or NONE
        else:
            yield f"{path}{name}", value


def _refuse(field: str, code: str, detail: str, value: Any, accepted: str | None) -> InvalidInput:
    return InvalidInput([InputFault((field,), code, detail, value, accepted)])
