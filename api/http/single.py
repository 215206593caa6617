"""One question, one answer: GET for a cell, POST for a program, from one declaration.

`answer=refusal` answers 200 with the reasons, or `none`: a spreadsheet shows the body of no other status.
"""

from collections.abc import Callable, Mapping
from decimal import Decimal
from typing import Any

from flask import Response, current_app, g, request

from api.answers.record import ALWAYS, stops
from api.batch import cells
from api.batch.cells import Members, members_of, reasons_in_words
from api.engineering.checks import NoAnswer
from api.http.exchange import JSON, TEXT, encoded, json_body, largest_body, media_type, query, unit_asked
from api.http.problems import errors_told
from api.refusals.errors import in_words
from api.registry.calculation import Calculation
from schemas.core.faults import InputFault, InvalidInput, load
from schemas.core.parts import Pick, dotted
from schemas.core.quantity_fields import PORTION, PRESENTATION, PlainText, apart
from schemas.core.units import Unit, unit_named

REFUSAL = "refusal"
"""The name under which a cell asks why a question is refused."""
NONE = "none"
"""What a cell shows where there is nothing to say: an empty one could be mistaken for a failure."""
SAID_WITH_A_STOP = ("findings", "status", "reasons", "assumptions", "sources", "next_step", "next_action")
"""What is told as text of an answer that has a stop: a bare number would hide it."""
NOT_TOLD = ("inputs", "version", "steps")
"""Members of an answer that are never told as text."""

WITH_TEXT = ("reasons", "findings")
"""What is told with several values as text."""

MARKS = ("fingerprint", "seal")
"""What is of an answer as JSON, so that as text too that is what is marked."""

PLAIN_TEXT = PlainText()


def answer(calculation: Calculation) -> Response:
    """The answer to one question, in the form asked for."""
    service = current_app.extensions["dialset"]
    asked, body = _read()
    wanted = load(PLAIN_TEXT, {name: asked.pop(name) for name in PLAIN_TEXT.fields if name in asked})
    form = media_type(request.accept_mimetypes, wanted.get("format"), _forms(calculation))
    unit = unit_asked(wanted.get("unit"))
    name = wanted.get("answer")
    several = "answers" in asked or (isinstance(body, Mapping) and "answers" in body)

    def answered() -> dict[str, Any]:
        raw = asked
        if request.method == "POST":
            g.raw = raw = _with_query(body, asked)
        raw, portion = apart(_in_unit(raw, unit), PORTION)
        g.pick = pick = told = calculation.pick(portion, WITH_TEXT if form == TEXT else ALWAYS)
        if form == TEXT and not several and name not in MARKS:
            pick = told = _pick_of_one(calculation, name)
        elif not isinstance(told, str) and not told.keys().isdisjoint(MARKS):
            pick = calculation.pick(portion)
        given = calculation.answer(raw, service.shop, service.settings.units, pick)
        return given if pick is told else {each: given[each] for each in told if each in given}

    if form == TEXT and several:
        _none_alone(wanted)
        return _as_text(values_as_text(answered(), calculation.members))
    if form == TEXT:
        return _as_text(_text(answered, calculation, name, unit))
    _only_for_text(wanted)
    return Response(encoded(answered()), content_type="application/json")


def _as_text(text: str) -> Response:
    return Response(text, content_type="text/plain; charset=utf-8")


def _pick_of_one(calculation: Calculation, name: str | None) -> Pick:
    """What is written to tell one value as text: its outermost member, and what may stand against it."""
    outermost = (name or "").partition(".")[0]
    if outermost not in calculation.members or outermost == "reasons":
        return "full"
    return {outermost: "full", "reasons": "full", "findings": "full"}


def _forms(calculation: Calculation) -> tuple[str, ...]:
    return (JSON,) if calculation.body_only else (JSON, TEXT)


def _text(
    answer: Callable[[], dict[str, Any]], calculation: Calculation, name: str | None, unit: Unit | None
) -> str:
    """One value of an answer, or why there is none."""
    if name != REFUSAL:
        return value_as_text(answer(), calculation.members, name, unit)
    if unit is not None:
        fault = InputFault(("unit",), "unit_not_applicable", "a reason has no unit", unit.code, "no unit")
        raise InvalidInput([fault])
    try:
        answer()
    except (InvalidInput, NoAnswer) as refusal:
        return in_words(errors_told(refusal))
    return NONE


def _read() -> tuple[dict[str, str], Any]:
    """The query, and the body of a POST; both kept for a refusal to refer to."""
    asked = query()
    if request.method != "POST":
        g.from_query, g.raw = True, asked
        return asked, None
    g.query_names = set(asked)
    g.raw = json_body(largest_body())
    return asked, g.raw


def _with_query(body: Any, asked: dict[str, str]) -> Any:
    """The body with the units of the query, which may stand in either but not in both."""
    if not isinstance(body, Mapping):
        return body
    faults = [
        InputFault((name,), "duplicate_member", "occurs in the query and in the body", value)
        if name in body
        else InputFault(
            (name,),
            "unknown_field",
            "on POST the query takes only units, detail and the form of the answer",
            value,
        )
        for name, value in asked.items()
        if name in body or name not in {**PRESENTATION.fields, **PORTION.fields}
    ]
    if faults:
        raise InvalidInput(faults)
    return {**body, **asked}


def _only_for_text(wanted: Mapping[str, Any]) -> None:
    faults = [
        InputFault((name,), "unknown_field", "only with format=text", wanted[name])
        for name in ("answer", "unit")
        if name in wanted
    ]
    if faults:
        raise InvalidInput(faults)


def _none_alone(wanted: Mapping[str, Any]) -> None:
    """Refuse what is for one value alone where several are asked for, each told with its own unit."""
    details = {
        "answer": "answers names the values; leave one of the two out",
        "unit": "each has its own unit",
    }
    faults = [
        InputFault((name,), "contradiction", detail, wanted[name])
        for name, detail in details.items()
        if name in wanted
    ]
    if faults:
        raise InvalidInput(faults)


def _in_unit(raw: Any, unit: Unit | None) -> Any:
    """The request with the unit of the text as that of every quantity of its kind."""
    if unit is None or not isinstance(raw, Mapping):
        return raw
    chosen = {f"{kind}_unit": unit.code for kind in unit.kinds if f"{kind}_unit" in PRESENTATION.fields}
    faults = [
        InputFault(("unit",), "contradiction", f"{name} is given too; leave one out", unit.code)
        for name in chosen
        if name in raw
    ]
    if faults:
        raise InvalidInput(faults)
    return {**raw, **chosen}


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
    if name not in names and name in dotted(members) and name.partition(".")[0] not in NOT_TOLD:
        raise _refuse("answer", "no_value", f"there is no {name} on this machine or in this job", name, None)
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
    return _plain(value)


def values_as_text(answer: Mapping[str, Any], members: Members) -> str:
    """Every value of an answer on a line of its own, after its name: ``gauge_setting: 860 psi``."""
    return "\n".join(
        f"{name}: {_in_a_line(value)}" for name, value in _values(answer, members) if name != "reasons"
    )


def _in_a_line(value: Any) -> str:
    if isinstance(value, Mapping):
        return f"{number_as_text(value['value'])} {value['unit']}"
    if value is None:
        return NONE
    return _plain(value)


def _plain(value: Any) -> str:
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
        if not path and name in NOT_TOLD:
            continue
        if not path and name == "reasons":
            yield name, "\n".join(reasons_in_words(value)) or NONE
        if isinstance(value, Mapping) and set(value) != {"value", "unit"}:
            yield from _values(value, members_of(members.get(name)), f"{path}{name}.")
        elif isinstance(value, list):
            yield f"{path}{name}", cells.in_words(value, members.get(name)) or NONE
        else:
            yield f"{path}{name}", value


def _refuse(field: str, code: str, detail: str, value: Any, accepted: str | None) -> InvalidInput:
    return InvalidInput([InputFault((field,), code, detail, value, accepted)])
