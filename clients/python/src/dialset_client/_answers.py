"""A file of answers as it is written: beside its target until it is whole, so that it can be gone on with."""

import csv
import os
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from types import TracebackType
from typing import BinaryIO, Self

from dialset_client._errors import NotUnderstood
from dialset_client._windows import OneEdition, check_all_came

NUMBER, CODE, EDITION, QUESTION = "line_number", "problem_code", "service_edition", "question"


def part_of(target: Path) -> Path:
    """The partial file of a target: ``answers.csv.part``."""
    return target.with_name(f"{target.name}.part")


class AnswerFile:
    """The answers so far, whole lines only.

    Args:
        target: where they are once they are whole; a file there is replaced then, and not before.
        separator: of its cells.
        any_edition: whether lines may be answered by services that differ.

    Attributes:
        lines: how many are in it.
        codes: how often each code of refusal is.
        taken_up: whether lines of an earlier run are kept; the last of them is then to be asked again.
    """

    def __init__(self, target: Path, separator: str, *, any_edition: bool) -> None:
        self.target, self.part, self.separator = target, part_of(target), separator
        self.editions = OneEdition(any_edition)
        self.lines, self.codes, self.taken_up = 0, Counter[str](), False
        self._head: list[str] = []
        self._last: list[str] = []
        self._end = 0

    def take_up(self) -> None:
        """Keep the whole lines of an earlier run; without any of them begin anew.

        Raises:
            ValueError: for a partial file that is none.
        """
        if not self.part.exists():
            return
        with self.part.open("rb") as file:
            for row, end in _whole_rows(file, self.separator):
                self._keep(row)
                self._end = end
        self.taken_up = self.lines > 0

    def __enter__(self) -> Self:
        if self.taken_up:
            os.truncate(self.part, self._end)
        self._out = self.part.open("a" if self.taken_up else "w", encoding="utf-8", newline="")
        self._writer = csv.writer(self._out, delimiter=self.separator, lineterminator="\r\n")
        return self

    def __exit__(self, kind: type[BaseException] | None, *_: BaseException | TracebackType | None) -> None:
        self._out.close()
        if kind is None:
            self.part.replace(self.target)
        elif self.lines == 0:
            self.part.unlink(missing_ok=True)

    def add(self, head: list[str], rows: list[list[str]], sent: int) -> None:
        """Write the answers to a window.

        Args:
            head: their columns.
            rows: one for each line; the first of an earlier run is compared with what it got then.
            sent: how many lines were sent.

        Raises:
            NotUnderstood: for what is no table of answers, or not all of them.
            EditionChanged: for answers of another edition than those before.
            ValueError: where the lines of an earlier run do not go with these.
        """
        if not {NUMBER, CODE, EDITION, QUESTION} <= set(head):
            raise NotUnderstood("the table that came back is not from Dialset")
        number = head.index(NUMBER)
        check_all_came([_whole(row, number) for row in rows], sent)
        before = self.lines - self.taken_up
        numbered = [[*row[:number], str(before + at), *row[number + 1 :]] for at, row in enumerate(rows, 1)]
        for row in numbered:
            self.editions.check(row[head.index(EDITION)], int(row[number]))
        if self.taken_up:
            self._check_same(head, numbered.pop(0) if numbered else None)
        elif self.lines == 0:
            self._writer.writerow(head)
        self._head, self.taken_up = head, False
        self._writer.writerows(numbered)
        self._out.flush()
        self.lines += len(numbered)
        self.codes.update(row[head.index(CODE)] for row in numbered)

    def _keep(self, row: list[str]) -> None:
        if not self._head:
            if not {NUMBER, CODE, EDITION, QUESTION} <= set(row):
                raise ValueError(f"{self.part} is no file of answers: delete it, or begin anew")
            self._head = row
            return
        self.lines, self._last = self.lines + 1, row
        self.codes[row[self._head.index(CODE)]] += 1
        self.editions.check(row[self._head.index(EDITION)], self.lines)

    def _check_same(self, head: list[str], again: list[str] | None) -> None:
        """Whether the line kept last gets the same answer again; of another edition only the question is."""
        if again is not None and head == self._head:
            number, edition, question = (head.index(name) for name in (NUMBER, EDITION, QUESTION))
            if again[edition] != self._last[edition]:
                again, self._last = ([*row[:number], row[question]] for row in (again, self._last))
            if again == self._last:
                return
        raise ValueError(
            f"line {self.lines} in {self.part} is not what is asked now: the questions, the calculation or "
            "the fields for every line are others. Begin anew"
        )


def _whole(row: list[str], column: int) -> int | None:
    return int(row[column]) if column < len(row) and row[column].isdecimal() else None


def _whole_rows(file: BinaryIO, separator: str) -> Iterator[tuple[list[str], int]]:
    """The rows of a file that may have been cut off anywhere, each with the place of its end."""
    end = 0

    def lines() -> Iterator[str]:
        nonlocal end
        for line in file:
            if not line.endswith(b"\n"):
                return
            end += len(line)
            yield line.decode("utf-8")

    try:
        for row in csv.reader(lines(), delimiter=separator, strict=True):
            yield row, end
    except (csv.Error, UnicodeDecodeError):
        return
