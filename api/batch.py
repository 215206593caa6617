"""Many questions in one request: every line is answered or refused, in order, none is lost."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from difflib import get_close_matches
from typing import Any

from api.answers.shop import Shop
from api.calculation import PRESENTATION, Calculation
from api.engineering.faults import NoAnswer
from api.problem_codes import CODES
from api.refusals import errors_of, single_code
from schemas.faults import InputFault, InvalidInput

NEARLY = 0.85
"""Likeness to the name of a field from which a column is rather a slip than something to carry."""


@dataclass(frozen=True)
class Line:
    """One line: the fields it asks with, what it carries along, and what is wrong with it as a line.

    ``fields`` are JSON values; ``refusal`` is set where the line could not even be read.
    """

    fields: Mapping[str, Any]
    carried: Mapping[str, Any]
    refusal: InvalidInput | None = None


@dataclass(frozen=True)
class LineAnswer:
    """What became of a line: its result, or the errors that refused it."""

    number: int
    carried: Mapping[str, Any]
    result: Mapping[str, Any] | None
    errors: Sequence[dict[str, Any]] = ()

    @property
    def status(self) -> str:
        """``answered`` or ``refused``."""
        return "refused" if self.result is None else "answered"

    @property
    def code(self) -> str | None:
        """The stable code of the refusal, if it is one."""
        return single_code(list(self.errors)) if self.errors else None


@dataclass
class Summary:
    """How many lines were answered and refused, and why; in all, or of one group."""

    lines: int = 0
    answered: int = 0
    refused: int = 0
    codes: Counter[str] = field(default_factory=Counter)

    def count(self, line: LineAnswer) -> None:
        """Add a line."""
        self.lines += 1
        if line.code is None:
            self.answered += 1
        else:
            self.refused += 1
            self.codes[line.code] += 1

    def shown(self) -> dict[str, Any]:
        """As it stands in an answer."""
        codes = dict(self.codes.most_common())
        return {
            "lines": self.lines,
            "answered": self.answered,
            "refused": self.refused,
            "problem_codes": codes,
        }


def known_fields(calculation: Calculation) -> dict[str, Any]:
    """Every field that a line of this calculation may have, of any family, with those of presentation."""
    fields = dict(PRESENTATION.fields)
    for schema in calculation.requests.values():
        fields |= schema.fields
    return fields


def check_columns(columns: Sequence[str], calculation: Calculation, carry: Sequence[str]) -> None:
    """Refuse a column that is nearly the name of a field: carried along, it would be a silent default.

    Args:
        columns: the names that the lines have.
        calculation: whose fields they may be.
        carry: names that the caller declares to be carried along.

    Raises:
        InvalidInput: ``column_in_doubt`` for each.
    """
    known = known_fields(calculation)
    faults = []
    for column in columns:
        near = get_close_matches(column, known, 1, NEARLY)
        if column not in known and column not in carry and near:
            detail = (
                f"is no field, but nearly {near[0]}; rename it, or name it in carry to have it carried along"
            )
            faults.append(InputFault((column,), "column_in_doubt", detail, column, near[0]))
    if faults:
        raise InvalidInput(faults)


def split_line(given: Any, known: Mapping[str, Any], carry: Sequence[str]) -> Line:
    """Fields and carried members of one line; anything but an object is a refused line."""
    if not isinstance(given, Mapping):
        return Line({}, {}, InvalidInput([InputFault((), "not_an_object", "a line is an object", given)]))
    fields = {name: value for name, value in given.items() if name in known and name not in carry}
    return Line(fields, {name: value for name, value in given.items() if name not in fields})


def answer_lines(
    lines: Iterator[Line], defaults: Mapping[str, Any], calculation: Calculation, shop: Shop, system: str
) -> Iterator[LineAnswer]:
    """Answer line by line; a field of a line outranks a default.

    A refusal of a line is its answer. Anything else that is raised is a bug and ends the batch.
    """
    for number, line in enumerate(lines, 1):
        asked = {**defaults, **line.fields}
        try:
            if line.refusal is not None:
                raise line.refusal
            result = calculation.answer(asked, shop, system)
        except (InvalidInput, NoAnswer) as refusal:
            yield LineAnswer(number, line.carried, None, errors_of(refusal, asked, system))
        else:
            yield LineAnswer(number, line.carried, result)


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
    }
