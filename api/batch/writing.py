"""A batch as a table that is safe to open in a spreadsheet."""

import csv
import io
import json
from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from api.batch.column_names import RESULT, SEAL, STAMP, STATUS_COLUMNS
from api.batch.columns import Columns, harmless
from api.batch.lines import LineAnswer
from api.refusals.errors import in_words


def table_rows(
    header: Sequence[str], answers: Iterable[LineAnswer], columns: Columns, separator: str, *, sealed: bool
) -> Iterator[str]:
    """A batch row by row: the columns given, the status of the line, then its result (RFC 4180).

    Args:
        header: the names of the columns given.
        answers: what became of each line.
        columns: those of a result.
        separator: of cells.
        sealed: whether answers have a seal.
    """
    out = io.StringIO(newline="")
    writer = csv.writer(out, delimiter=separator, lineterminator="\r\n")

    def row(cells: list[Any]) -> str:
        writer.writerow(cells)
        text = out.getvalue()
        out.seek(0)
        out.truncate()
        return text

    own = [RESULT + name for name in columns.names]
    stamp = (*STAMP, SEAL) if sealed else STAMP
    yield row([*map(harmless, header), *STATUS_COLUMNS, *stamp[len(STAMP) :], *own])
    for answer in answers:
        given = [harmless(as_text(answer.line.given.get(name, ""))) for name in header]
        reasons = harmless(in_words(answer.errors))
        stamped = [answer.stamped.get(name) for name in stamp]
        status = [answer.number, answer.status, answer.code or "", reasons, *stamped]
        yield row([*given, *status, *columns.cells(answer.result)])


def as_text(value: Any) -> str:
    """What a line gave, as text: text as it is, anything else as the JSON it was."""
    return value if isinstance(value, str) else json.dumps(value, ensure_ascii=False)
