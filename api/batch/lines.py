"""Many questions in one request: every line is answered or refused, in order, none is lost."""

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from api.answers.answer import Answer
from api.answers.question import Unanswered
from api.answers.record import stops
from api.answers.shop import Shop
from api.engineering.checks import NoAnswer
from api.refusals.codes import CODES
from api.refusals.errors import errors_of, single_code
from api.registry.calculation import Calculation, Log
from schemas.core.faults import InputFault, InvalidInput, not_applicable
from schemas.core.fields import Members, field_named, gathered
from schemas.core.parts import Pick
from schemas.core.quantity_fields import PRESENTATION


@dataclass(frozen=True)
class Line:
    """One line: the fields it asks with, the line as it was given, and what is wrong with it as a line.

    ``fields`` are JSON values; ``refusal`` is set where the line could not even be read.
    """

    fields: Mapping[str, Any]
    given: Mapping[str, Any]
    carried: Mapping[str, Any]
    refusal: InvalidInput | None = None


@dataclass(frozen=True)
class LineAnswer:
    """What became of a line: its result, or the errors that refused it.

    ``stamped`` says which edition answered which question: the result itself, or what stands by the errors.
    ``computed`` is the answer as it was computed, whatever of it is written.
    """

    number: int
    line: Line
    result: Mapping[str, Any] | None
    stamped: Mapping[str, Any]
    errors: Sequence[dict[str, Any]] = ()
    computed: Answer | None = None

    @property
    def status(self) -> str:
        """``answered``, ``refused``, or ``stop``: answered, but something is to be settled first."""
        if self.result is None:
            return "refused"
        return "stop" if stops(self.result) else "answered"

    @property
    def code(self) -> str | None:
        """The stable code of the refusal, if it is one."""
        return single_code(list(self.errors)) if self.errors else None


@dataclass
class Summary:
    """How many lines were answered and refused, and why; in all, or of one group. Stops are answered too.

    ``log`` is what else the calculation says of its answered lines.
    """

    lines: int = 0
    answered: int = 0
    stop: int = 0
    refused: int = 0
    codes: Counter[str] = field(default_factory=Counter)
    log: Log | None = None

    def count(self, line: LineAnswer) -> None:
        """Add a line."""
        self.lines += 1
        if line.code is None:
            self.answered += 1
            self.stop += line.status == "stop"
            if self.log is not None and line.computed is not None:
                self.log.count(line.number, line.computed)
        else:
            self.refused += 1
            self.codes[line.code] += 1

    def shown(self) -> dict[str, Any]:
        """The line as it stands in an answer."""
        codes = dict(self.codes.most_common())
        return {
            "lines": self.lines,
            "answered": self.answered,
            "stop": self.stop,
            "refused": self.refused,
            "problem_codes": codes,
            **(self.log.shown() if self.log else {}),
        }


def known_fields(calculation: Calculation) -> dict[str, Any]:
    """Every field that a line of this calculation may have, of any family, with those of presentation."""
    fields: dict[str, Any] = dict(PRESENTATION.fields)
    for schema in calculation.requests.values():
        # What is refused with a reason of its own must reach its schema, not be carried along.
        fields = {**not_applicable(schema), **fields, **schema.fields}
    return fields


def split_line(given: Any, known: Mapping[str, Any], carry: Sequence[str]) -> Line:
    """Fields and carried members of one line; anything but an object is a refused line."""
    if not isinstance(given, Mapping):
        refusal = InvalidInput([InputFault((), "not_an_object", "a line is an object", given)])
        return Line({}, {}, {}, refusal)
    asked = (name for name in given if name not in carry and field_named(known, name) is not None)
    fields = {name: given[name] for name in asked}
    carried = {name: value for name, value in given.items() if name not in fields}
    endless = [name for name, value in carried.items() if not _finite(value)]
    if not endless:
        return Line(fields, given, carried)
    faults = [
        InputFault((name,), "not_finite", "JSON cannot carry it back", carried[name]) for name in endless
    ]
    kept = {name: value for name, value in carried.items() if name not in endless}
    return Line(fields, given, kept, InvalidInput(faults))


def _finite(value: Any) -> bool:
    """Whether no number in a JSON value overflowed, as 1e400 does."""
    if isinstance(value, Mapping):
        return all(_finite(each) for each in value.values())
    if isinstance(value, list):
        return all(_finite(each) for each in value)
    return not isinstance(value, float) or math.isfinite(value)


@dataclass(frozen=True)
class Asking:
    """What answers every line of a batch: the shop, its system of units, and which members are written."""

    shop: Shop
    system: str
    pick: Pick


def answer_lines(
    lines: Iterable[Line], defaults: Mapping[str, Any], calculation: Calculation, asking: Asking
) -> Iterator[LineAnswer]:
    """Answer line by line; a field of a line outranks a default, and so does a member of a `Members` field.

    A refusal of a line is its answer. Anything else that is raised is a bug and ends the batch.
    """
    known = known_fields(calculation)
    objects = [name for name, field in known.items() if isinstance(field, Members)]
    for_all = gathered(known, defaults)
    for number, line in enumerate(lines, 1):
        own = gathered(known, line.fields)
        asked = {**for_all, **own}
        for name in objects:
            of_line, of_all = own.get(name), for_all.get(name)
            if isinstance(of_line, Mapping) and isinstance(of_all, Mapping):
                asked[name] = {**of_all, **of_line}
        try:
            if line.refusal is not None:
                raise line.refusal
            result, computed = calculation.answered(asked, asking.shop, asking.system, asking.pick)
        except (InvalidInput, NoAnswer) as refusal:
            question = refusal.question if isinstance(refusal, Unanswered) else None
            stamped = asking.shop.stamp(calculation.path, question, asking.pick)
            errors = errors_of(refusal, asked, asking.system, asking.shop.number_rule)
            yield LineAnswer(number, line, None, stamped, errors)
        else:
            yield LineAnswer(number, line, result, result, computed=computed)


def problem_of(line: LineAnswer) -> dict[str, Any]:
    """The problem of a refused line, in the shape of a refused single question."""
    code = line.code or "several_faults"
    errors = list(line.errors)
    detail = errors[0]["detail"] if len(errors) == 1 else f"{len(errors)} faults; see errors"
    return {
        "type": f"/v1/problems/{code}",
        "title": CODES[code],
        "status": 422,
        "detail": detail,
        "code": code,
        "errors": errors,
        **line.stamped,
    }
