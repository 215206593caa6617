"""A file of questions answered into another, a window at a time."""

import csv
import io
from collections.abc import Callable, Iterator, Mapping
from itertools import islice
from pathlib import Path
from typing import Any, NamedTuple

from dialset_client._answers import AnswerFile
from dialset_client._beside import alone, part_of, record_of
from dialset_client._errors import NotATable
from dialset_client._transport import Transport
from dialset_client._windows import SECONDS_A_LINE, asked_in_order

Progress = Callable[[int], None]

SEPARATORS = {".tsv": "\t"}
"""The separator by the end of a file's name; of every other a comma."""
MEDIA_TYPES = {",": "text/csv", "\t": "text/tab-separated-values"}
FORMATS = {",": "csv", "\t": "tsv"}
MOST_EMPTY = 5000
"""Empty rows in the middle of a file that are taken for lines; more are no table."""


class Summary(NamedTuple):
    """What became of the lines of a file.

    Attributes:
        lines: how many there were.
        answered: how many of them were answered.
        refused: how many of them were refused.
        codes: how often each code of refusal came, the most frequent first.
    """

    lines: int
    answered: int
    refused: int
    codes: dict[str, int]


def separator_of(path: Path) -> str:
    """The separator of a file: a tab for ``.tsv``, else a comma."""
    return SEPARATORS.get(path.suffix.lower(), ",")


def rows_of(path: Path) -> Iterator[list[str]]:
    """The rows of a file as they stand in it.

    Raises:
        NotATable: with the line at which it is no table, or no UTF-8.
    """
    with path.open(encoding="utf-8-sig", newline="") as text:
        reader = csv.reader(text, delimiter=separator_of(path), strict=True)
        try:
            yield from reader
        except UnicodeDecodeError as error:
            raise NotATable(f"{path} is not UTF-8 ({error.reason}): save it as CSV UTF-8") from error
        except csv.Error as error:
            raise NotATable(f"{path}, after line {reader.line_num}: {error}") from error


def ask_file(
    transport: Transport,
    calculation: str,
    files: tuple[Path, Path],
    window: int,
    at_once: int,
    progress: Progress | None,
    query: Mapping[str, Any],
    *,
    any_edition: bool,
    go_on: bool,
) -> Summary:
    """Ask every row of the first file and write the second, which is there only when it is whole."""
    source, target = files
    _check_target(source, target)
    rows = rows_of(source)
    header = next(rows, [])
    separators = [separator_of(source), separator_of(target)]
    fixed = {"the calculation": calculation, "the header": header, "the separator": separators}
    answers = AnswerFile(target, separators[1], {**query, **fixed}, any_edition=any_edition)

    def asked(questions: list[list[str]]) -> list[list[str]]:
        time = at_once * SECONDS_A_LINE * len(questions)
        return _asked(transport, calculation, files, [header, *questions], query, time)

    with alone(part_of(target)):
        if go_on:
            answers.take_up(rows)
        with answers:
            for questions, (head, *answer) in asked_in_order(asked, _windows(rows, window), at_once):
                answers.add(head, answer, questions[: _lines(questions)])
                if progress is not None:
                    progress(answers.lines)
    codes = dict(answers.codes.most_common())
    answered = codes.pop("", 0)
    return Summary(answers.lines, answered, answers.lines - answered, codes)


def _check_target(source: Path, target: Path) -> None:
    for written in (target, part_of(target), record_of(target)):
        if written.exists() and written.samefile(source):
            raise ValueError("the answers would replace the questions: name another file")
        if written.is_symlink() or (written.exists() and not written.is_file()):
            raise ValueError(f"{written} is no regular file, and would be replaced by one")


def _lines(questions: list[list[str]]) -> int:
    """Lines of a window: a service takes empty rows at its end for none."""
    return max((number for number, row in enumerate(questions, 1) if any(row)), default=0)


def _asked(
    transport: Transport,
    calculation: str,
    files: tuple[Path, Path],
    rows: list[list[str]],
    query: Mapping[str, Any],
    time: float,
) -> list[list[str]]:
    asked, answered = (separator_of(path) for path in files)
    text = io.StringIO(newline="")
    csv.writer(text, delimiter=asked).writerows(rows)
    answer = transport.ask(
        "POST",
        f"/v1/{calculation}/batch",
        params={**query, "format": FORMATS[answered]},
        data=text.getvalue().encode(),
        headers={"Content-Type": MEDIA_TYPES[asked]},
        at_least=time,
    )
    given = io.StringIO(answer.content.decode("utf-8", "replace"), newline="")
    return list(csv.reader(given, delimiter=answered)) or [[]]


def _windows(rows: Iterator[list[str]], size: int) -> Iterator[list[list[str]]]:
    """Windows of lines: at least one, if an empty one; none but the last ends with an empty row.

    A service takes empty rows at the end for no lines; in the middle of a file they are some.
    """
    first = True
    while (part := list(islice(rows, size))) or first:
        while part and not any(part[-1]) and (another := next(rows, None)) is not None:
            part.append(another)
            if len(part) > size + MOST_EMPTY:
                raise NotATable(f"more than {MOST_EMPTY} empty rows in the middle: delete them")
        yield part
        first = False
