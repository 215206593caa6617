"""Many questions in one request, as JSON, JSON Lines, CSV or TSV."""

import logging
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import chain, islice
from typing import Any

from flask import Response, current_app, g, request

from api.answers.shop import Shop
from api.batch.column_names import check_header, check_names
from api.batch.columns import columns_of_answer
from api.batch.lines import (
    Asking,
    Line,
    LineAnswer,
    Summary,
    answer_lines,
    known_fields,
    problem_of,
    split_line,
)
from api.batch.reading import columns_of, line_of, read_table
from api.batch.writing import as_text, table_rows
from api.http.exchange import JSON, body, encoded, largest_batch, query
from api.http.problems import Problem
from api.registry.calculation import Calculation
from schemas.batch import BatchOptions, BatchRequest
from schemas.core.faults import InputFault, InvalidInput, Malformed, load, read_json
from schemas.core.fields import field_named
from schemas.core.parts import DETAILS, Pick
from schemas.core.quantity import number_rule, numbers_read
from schemas.core.quantity_fields import PORTION, apart

CSV, TSV, JSON_LINES = "text/csv", "text/tab-separated-values", "application/jsonl"
SEPARATORS = {CSV: ",", TSV: "\t"}
FORMATS = {"json": JSON, "csv": CSV, "tsv": TSV, "jsonl": JSON_LINES}
REQUEST, OPTIONS = BatchRequest(), BatchOptions()
log = logging.getLogger("dialset")


def answer(calculation: Calculation) -> Response:
    """The answers to many questions, in the form asked for, each sent as it is answered."""
    with numbers_read(current_app.extensions["dialset"].shop.number_rule):
        return _answer(calculation)


def _answer(calculation: Calculation) -> Response:
    asked = query()
    g.query_names = set(asked)
    wanted = _format(asked.pop("format", None))
    asked, in_query = apart(asked, PORTION)
    g.pick = in_query["detail"] if in_query.get("detail") in DETAILS else "short"
    header, lines, defaults, options, in_body = _read(calculation, asked)
    service = current_app.extensions["dialset"]
    _check_count(len(lines), calculation, service)
    if wanted in SEPARATORS and options.get("group_by") is not None:
        detail = "a table has no summary; ask for JSON"
        raise InvalidInput([InputFault(("group_by",), "unknown_field", detail, options["group_by"])])
    asking = Asking(service.shop, service.settings.units, _pick(calculation, in_query, in_body))
    answers = answer_lines(lines, defaults, calculation, asking)
    if wanted in SEPARATORS:
        columns = columns_of_answer(calculation, asking.pick)
        sealed = service.shop.receipt_key is not None
        rows = table_rows(header, answers, columns, SEPARATORS[wanted], sealed=sealed)
        return _sent((row.encode() for row in rows), f"{wanted}; charset=utf-8; header=present")
    counted = Counted(options.get("group_by"), defaults, calculation)
    write = _json_lines if wanted == JSON_LINES else _json
    return _sent(write(answers, counted), wanted)


def _pick(calculation: Calculation, in_query: Mapping[str, Any], in_body: Mapping[str, Any]) -> Pick:
    """Which members are written: the query says it, or the defaults of a body."""
    if twice := [name for name in in_body if name in in_query]:
        detail = "occurs in the query and in the body"
        raise InvalidInput([InputFault(("defaults", name), "duplicate_member", detail) for name in twice])
    try:
        return calculation.pick({**in_query, **in_body})
    except InvalidInput as refusal:
        faults = [
            replace(each, path=("defaults", *each.path)) if each.path[0] in in_body else each
            for each in refusal.faults
        ]
        raise InvalidInput(faults) from None


AT_ONCE = 32 * 1024
"""Bytes that are gathered before they are sent, once the first line is out."""


def _sent(pieces: Iterator[bytes], content_type: str) -> Response:
    """A response that is sent while it is made: a worker holds no more of it than a few lines.

    A bug of ours in the first line is answered as any other. One in a later line ends the connection without
    the mark of its end, so that no client takes what came for a whole answer; HTTP/1.0 has no such mark, and
    gets all at once.
    """
    if request.environ.get("SERVER_PROTOCOL") == "HTTP/1.0":
        return Response(b"".join(pieces), content_type=content_type)
    begun = b"".join(islice(pieces, 2))
    return Response(chain([begun], _gathered(pieces, request.path, g.request_id)), content_type=content_type)


def _gathered(pieces: Iterator[bytes], path: str, request_id: str) -> Iterator[bytes]:
    """Pieces of a size worth sending; the request is over by now, and is named as it was."""
    held = bytearray()
    try:
        for piece in pieces:
            held += piece
            if len(held) > AT_ONCE:
                yield bytes(held)
                held.clear()
    except Exception:
        log.exception("internal error in a batch %s, request id %s", path, request_id)
        raise
    yield bytes(held)


def _json(answers: Iterator[LineAnswer], counted: "Counted") -> Iterator[bytes]:
    yield b'{"lines":['
    for each in answers:
        counted.count(each)
        yield (b"," if each.number > 1 else b"") + encoded(_line(each)).rstrip()
    yield b'],"summary":' + encoded(counted.shown()).rstrip() + b"}\n"


def _json_lines(answers: Iterator[LineAnswer], counted: "Counted") -> Iterator[bytes]:
    for each in answers:
        counted.count(each)
        yield encoded(_line(each))
    yield encoded({"summary": counted.shown()})


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
    chosen = request.accept_mimetypes.best_match([same, *(each for each in FORMATS.values() if each != same)])
    if chosen is None:
        raise Problem(406, "not_acceptable", f"a batch answers with {', '.join(FORMATS.values())}")
    return chosen


class Lines:
    """The lines of a batch, each read when its turn comes, by the rule of numbers that holds for all."""

    def __init__(self, given: Sequence[Any], read: Callable[[Any], Line]) -> None:
        self.given, self.read, self.rule = given, read, number_rule()

    def __len__(self) -> int:
        return len(self.given)

    def __iter__(self) -> Iterator[Line]:
        for each in self.given:
            with numbers_read(self.rule):
                line = self.read(each)
            yield line


Read = tuple[Sequence[str], Lines, Mapping[str, Any], Mapping[str, Any], Mapping[str, Any]]
"""Header, lines, defaults, options, and how much of an answer the body asks for."""


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
    carry = given.get("carry", [])
    defaults, portion = apart(given.get("defaults", {}), PORTION)
    known = known_fields(calculation)
    _check_defaults(defaults, [name for name in defaults if field_named(known, name) is None])
    names = dict.fromkeys(name for each in given["lines"] if isinstance(each, dict) for name in each)
    check_header(list(names))
    in_value = " (in JSON the unit stands in the value)"
    own = [name for name in names if field_named(known, name) is None]
    check_names(own, known, carry, in_value)
    _check_group(given.get("group_by"), {*names, *defaults})
    lines = Lines(given["lines"], lambda each: split_line(each, known, carry))
    return list(names), lines, defaults, given, portion


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
    lines = Lines(rows, lambda cells: line_of(cells, columns))
    return header, lines, _defaults_from_text(asked, calculation), options, {}


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
    return line_of(list(asked.values()), columns).fields


def _line(answer: LineAnswer) -> dict[str, Any]:
    shown: dict[str, Any] = {
        "line_number": answer.number,
        "line_status": answer.status,
        "problem_code": answer.code,
        "carried": answer.line.carried,
    }
    outcome = {"result": answer.result} if answer.result is not None else {"problem": problem_of(answer)}
    return shown | outcome


def example_answer(calculation: Calculation, given: Sequence[Any], shop: Shop) -> Any:
    """The answer to lines of JSON as an example shows it: short, in US units."""
    known = known_fields(calculation)
    lines = (split_line(each, known, ()) for each in given)
    answers = answer_lines(lines, {}, calculation, Asking(shop, "us", "short"))
    return read_json(b"".join(_json(answers, Counted(None, {}, calculation))))


class Counted:
    """The summary of a batch, counted line by line, whole and by the values of one field or column."""

    def __init__(self, group_by: str | None, defaults: Mapping[str, Any], calculation: Calculation) -> None:
        self.group_by, self.defaults, self.logged = group_by, defaults, calculation.log
        self.whole, self.groups = self._begun(), dict[str, Summary]()

    def count(self, answer: LineAnswer) -> None:
        """Add a line."""
        self.whole.count(answer)
        if self.group_by is not None:
            value = answer.line.given.get(self.group_by, self.defaults.get(self.group_by, ""))
            if (text := as_text(value)) not in self.groups:
                self.groups[text] = self._begun()
            self.groups[text].count(answer)

    def _begun(self) -> Summary:
        return Summary(log=self.logged.begin() if self.logged else None)

    def shown(self) -> dict[str, Any]:
        """The summary as it stands in an answer."""
        shown = self.whole.shown()
        if self.group_by is not None:
            shown["groups"] = [{"value": value, **group.shown()} for value, group in self.groups.items()]
        return shown
