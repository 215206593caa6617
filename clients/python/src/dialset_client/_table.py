"""A file of questions answered into another, a window at a time."""

import csv
import io
import os
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from itertools import islice
from pathlib import Path
from tempfile import NamedTemporaryFile
from typing import IO, NamedTuple

from dialset_client._errors import NotATable, NotUnderstood
from dialset_client._transport import Transport
from dialset_client._windows import SECONDS_A_LINE, check_all_came

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
    progress: Progress | None,
    query: Mapping[str, str],
) -> Summary:
    """Ask every row of the first file and write the second, which is there only when it is whole."""
    source, target = files
    _check_target(source, target)
    rows = rows_of(source)
    header = next(rows, [])
    codes: Counter[str] = Counter()
    done = 0
    with _whole_or_not(target) as out:
        writer = csv.writer(out, delimiter=separator_of(target), lineterminator="\r\n")
        for questions in _windows(rows, window):
            head, *answers = _asked(transport, calculation, files, [header, *questions], query)
            if done == 0:
                writer.writerow(head)
            if not {"line_number", "problem_code"} <= set(head):
                raise NotUnderstood("the table that came back is not from Dialset")
            number, code = head.index("line_number"), head.index("problem_code")
            check_all_came([_whole(row, number) for row in answers], _lines(questions))
            writer.writerows(_renumbered(row, number, done) for row in answers)
            codes.update(row[code] for row in answers)
            done += len(answers)
            if progress is not None:
                progress(done)
    answered = codes.pop("", 0)
    return Summary(done, answered, done - answered, dict(codes.most_common()))


def _check_target(source: Path, target: Path) -> None:
    if target.exists() and target.samefile(source):
        raise ValueError("the answers would replace the questions: name another file")
    if target.is_symlink() or (target.exists() and not target.is_file()):
        raise ValueError(f"{target} is no regular file, and would be replaced by one")


@contextmanager
def _whole_or_not(target: Path) -> Iterator[IO[str]]:
    """A file to write that takes the place of ``target`` at the end, if that is reached."""
    with NamedTemporaryFile(
        "w", encoding="utf-8", newline="", dir=target.parent, prefix=f".{target.name}.", delete=False
    ) as out:
        part = Path(out.name)
        try:
            yield out.file
            out.close()
            part.chmod(0o666 & ~_umask())
            part.replace(target)
        finally:
            part.unlink(missing_ok=True)


def _umask() -> int:
    """The mask of a new file, which can only be read by setting it."""
    mask = os.umask(0o077)
    os.umask(mask)
    return mask


def _lines(questions: list[list[str]]) -> int:
    """Lines of a window: a service takes empty rows at its end for none."""
    return max((number for number, row in enumerate(questions, 1) if any(row)), default=0)


def _whole(row: list[str], column: int) -> int | None:
    return int(row[column]) if column < len(row) and row[column].isdecimal() else None


def _asked(
    transport: Transport,
    calculation: str,
    files: tuple[Path, Path],
    rows: list[list[str]],
    query: Mapping[str, str],
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
        at_least=SECONDS_A_LINE * len(rows),
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


def _renumbered(row: list[str], column: int, before: int) -> list[str]:
    return [*row[:column], str(before + int(row[column])), *row[column + 1 :]]
