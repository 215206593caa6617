"""Many questions in one request, as JSON, CSV or TSV."""

from collections.abc import Mapping, Sequence
from typing import Any

from flask import Response, current_app, g, request

from api.batch.column_names import check_header, check_names
from api.batch.lines import Line, LineAnswer, Summary, answer_lines, known_fields, problem_of, split_line
from api.batch.reading import columns_of, line_of, read_table
from api.batch.writing import as_text, write_table
from api.http.problems import Problem
from api.http.requests import JSON, body, largest_batch, query
from api.registry.calculation import Calculation
from schemas.batch import BatchOptions, BatchRequest
from schemas.core.faults import InputFault, InvalidInput, Malformed, load, read_json
from schemas.core.fields import field_named

CSV, TSV = "text/csv", "text/tab-separated-values"
SEPARATORS = {CSV: ",", TSV: "\t"}
FORMATS = {"json": JSON, "csv": CSV, "tsv": TSV}
REQUEST, OPTIONS = BatchRequest(), BatchOptions()


def answer(calculation: Calculation) -> Response:
    """The answers to many questions, in the form asked for."""
    asked = query()
    g.query_names = set(asked)
    wanted = _format(asked.pop("format", None))
    header, lines, defaults, options = _read(calculation, asked)
    service = current_app.extensions["dialset"]
    _check_count(len(lines), calculation, service)
    if wanted != JSON and options.get("group_by") is not None:
        detail = "a table has no summary; ask for JSON"
        raise InvalidInput([InputFault(("group_by",), "unknown_field", detail, options["group_by"])])
    answers = list(answer_lines(iter(lines), defaults, calculation, service.shop, service.settings.units))
    if wanted == JSON:
        return _as_json(answers, options, defaults)
    table = write_table(header, answers, calculation, SEPARATORS[wanted])
    return Response(table, content_type=f"{wanted}; charset=utf-8; header=present")


def _check_count(lines: int, calculation: Calculation, service: Any) -> None:
    """Refuse more lines than are taken at once; one that is asked of every machine counts for each."""
    machines = max(1, len(service.shop.machines)) if calculation.needs_machines else 1
    most = max(1, service.settings.most_lines // machines)
    if lines > most:
        each = f" ({machines} machines a line)" if machines > 1 else ""
        detail = f"{lines} lines; at most {most} are accepted at once{each}: send them in windows"
        raise Problem(413, "too_many_lines", detail)


def _format(asked: str | None) -> str:
    """The media type of the answer: as asked, as accepted, else as that of the body."""
    if asked is not None:
        if asked not in FORMATS:
            accepted = f"one of: {', '.join(FORMATS)}"
            raise InvalidInput(
                [InputFault(("format",), "not_a_choice", "no form of a batch", asked, accepted)]
            )
        return FORMATS[asked]
    same = request.mimetype if request.mimetype in SEPARATORS else JSON
    if not request.accept_mimetypes:
        return same
    chosen = request.accept_mimetypes.best_match([same, *(each for each in (JSON, CSV, TSV) if each != same)])
    if chosen is None:
        raise Problem(406, "not_acceptable", f"a batch answers with {', '.join((JSON, CSV, TSV))}")
    return chosen


Read = tuple[Sequence[str], list[Line], Mapping[str, Any], Mapping[str, Any]]


def _read(calculation: Calculation, asked: dict[str, str]) -> Read:
    data = body(largest_batch(), (JSON, CSV, TSV))
    if request.mimetype == JSON:
        return _read_json(calculation, data, asked)
    return _read_table(calculation, data, asked)


def _read_json(calculation: Calculation, data: bytes, asked: dict[str, str]) -> Read:
    if asked:
        faults = [
            InputFault((name,), "unknown_field", "put the defaults of a JSON batch in its body", value)
            for name, value in asked.items()
        ]
        raise InvalidInput(faults)
    g.raw = read_json(data)
    given = load(REQUEST, g.raw)
    carry, defaults = given.get("carry", []), given.get("defaults", {})
    known = known_fields(calculation)
    _check_defaults(defaults, [name for name in defaults if name not in known])
    names = dict.fromkeys(name for each in given["lines"] if isinstance(each, dict) for name in each)
    check_header(list(names))
    in_value = " (in JSON the unit stands in the value)"
    check_names([name for name in names if name not in known], known, carry, in_value)
    _check_group(given.get("group_by"), {*names, *defaults})
    lines = [split_line(each, known, carry) for each in given["lines"]]
    return list(names), lines, defaults, given


def _read_table(calculation: Calculation, data: bytes, asked: dict[str, str]) -> Read:
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        raise Malformed("not_utf8", f"byte {error.start} is not UTF-8; save it as CSV UTF-8") from None
    g.defaults_in_query = True
    named = {name: asked.pop(name) for name in OPTIONS.fields if name in asked}
    carry = [name for name in named.pop("carry", "").split(",") if name]
    options = load(OPTIONS, {**named, "carry": carry})
    known = known_fields(calculation)
    _check_defaults(asked, [name for name in asked if field_named(known, name) is None])
    _check_given(asked)
    if request.mimetype_params.get("header") == "absent":
        raise InvalidInput([InputFault((), "empty_table", "the media type says that there is no header")])
    header, rows = read_table(text, SEPARATORS[request.mimetype])
    check_header(header)
    columns = columns_of(header, calculation, carry)
    own = [each.header for each in columns if not each.field and each.header.partition(" [")[0] not in carry]
    check_names(own, known, carry, " (with a unit it would be 'name [unit]')")
    _check_group(options.get("group_by"), {*header, *asked})
    lines = [line_of(cells, columns, calculation) for cells in rows]
    return header, lines, _defaults_from_text(asked, calculation), options


def _check_defaults(defaults: Mapping[str, Any], unknown: Sequence[str]) -> None:
    faults = [
        InputFault(("defaults", name), "unknown_field", "is no field of this question", defaults[name])
        for name in unknown
    ]
    if faults:
        raise InvalidInput(faults)


def _check_given(asked: Mapping[str, str]) -> None:
    """An empty cell is a field not given; an empty default would only look like one that is."""
    faults = [
        InputFault((name,), "invalid", "is empty; leave it out or give a value", value)
        for name, value in asked.items()
        if not value.strip()
    ]
    if faults:
        raise InvalidInput(faults)


def _check_group(group_by: str | None, names: set[str]) -> None:
    if group_by is not None and group_by not in names:
        raise InvalidInput([InputFault(("group_by",), "not_a_choice", "no line has this column", group_by)])


def _defaults_from_text(asked: dict[str, str], calculation: Calculation) -> Mapping[str, Any]:
    columns = columns_of(list(asked), calculation, ())
    return line_of(list(asked.values()), columns, calculation).fields


def _as_json(answers: list[LineAnswer], options: Mapping[str, Any], defaults: Mapping[str, Any]) -> Response:
    summary = _summary(answers, options.get("group_by"), defaults)
    body = {"summary": summary, "lines": [_line(each) for each in answers]}
    return Response(current_app.json.dumps(body) + "\n", content_type=JSON)


def _line(answer: LineAnswer) -> dict[str, Any]:
    shown: dict[str, Any] = {
        "line_number": answer.number,
        "line_status": answer.status,
        "problem_code": answer.code,
        "carried": answer.line.carried,
    }
    outcome = {"result": answer.result} if answer.result is not None else {"problem": problem_of(answer)}
    return shown | outcome


def _summary(answers: list[LineAnswer], group_by: str | None, defaults: Mapping[str, Any]) -> dict[str, Any]:
    whole, groups = Summary(), dict[str, Summary]()
    for answer in answers:
        whole.count(answer)
        if group_by is not None:
            value = answer.line.given.get(group_by, defaults.get(group_by, ""))
            groups.setdefault(as_text(value), Summary()).count(answer)
    shown = whole.shown()
    if group_by is not None:
        shown["groups"] = [{"value": value, **group.shown()} for value, group in groups.items()]
    return shown
