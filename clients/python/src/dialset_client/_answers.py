"""A file of answers as it is written: beside its target until it is whole, so that it can be gone on with."""

import csv
import io
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from hashlib import sha256
from itertools import islice
from pathlib import Path
from types import TracebackType
from typing import Any, BinaryIO, Self

from dialset_client._beside import Done, in_record, line_of, part_of, record_of
from dialset_client._errors import NotUnderstood
from dialset_client._windows import OneEdition, check_all_came

NUMBER, CODE, EDITION, QUESTION = "line_number", "problem_code", "service_edition", "question"

Rows = Sequence[list[str]]


class AnswerFile:
    """The answers so far, whole windows only, and the record of what was asked for them.

    Args:
        target: where they are once they are whole; a file there is replaced then, and not before.
        separator: of its cells.
        asked: what is asked for every line.
        any_edition: whether lines may be answered by services that differ.

    Attributes:
        lines: how many are in it.
        codes: how often each code of refusal is.
    """

    def __init__(self, target: Path, separator: str, asked: Mapping[str, Any], *, any_edition: bool) -> None:
        self.target, self.separator, self.asked = target, separator, dict(asked)
        self.part, self.record = part_of(target), record_of(target)
        self.editions = OneEdition(any_edition)
        self.lines, self.codes = 0, Counter[str]()
        self._head: list[str] = []
        self._end = self._record_end = 0
        self._questions, self._answers = sha256(), sha256()

    def take_up(self, rows: Iterator[list[str]]) -> None:
        """Keep the windows of an earlier run, and pass over their questions; without a part begin anew.

        Args:
            rows: the questions from the first on.

        Raises:
            ValueError: for a part without its record, or one of other questions.
            EditionChanged: for one of several editions.
        """
        if not self.part.exists() or not self.part.stat().st_size:
            return
        if not self.record.exists():
            raise self._without_record()
        with self.record.open("rb") as record, self.part.open("rb") as part:
            found = in_record(record)
            self._check_asked(next(found, None))
            for done, end in found:
                if set(done) != set(Done._fields) or not self._keep(Done(**done), part, rows):
                    break
                self._record_end = end
        if self._end:
            with self.part.open(encoding="utf-8", newline="") as text:
                self._head = next(csv.reader(text, delimiter=self.separator))

    def __enter__(self) -> Self:
        # the record first: a part without it is gone on with by nobody
        self._record_out, self._part_out = self.record.open("ab"), self.part.open("ab")
        self._record_out.truncate(self._record_end)
        self._part_out.truncate(self._end)
        if not self._record_end:
            self._record_out.write(line_of(self.asked))
            self._record_out.flush()
        return self

    def __exit__(self, kind: type[BaseException] | None, *_: BaseException | TracebackType | None) -> None:
        self._part_out.close()
        self._record_out.close()
        if kind is None:
            self.part.replace(self.target)
        elif self.lines == 0:
            self.part.unlink(missing_ok=True)
        if kind is None or self.lines == 0:
            self.record.unlink(missing_ok=True)

    def add(self, head: list[str], rows: Rows, questions: Rows) -> None:
        """Write the answers to a window, and then the record of it.

        Args:
            head: their columns.
            rows: one for each question.
            questions: the lines that were sent.

        Raises:
            NotUnderstood: for what is no table of answers, or not all of them.
            EditionChanged: for answers of another edition than those before.
            ValueError: for other columns than those before.
        """
        if not {NUMBER, CODE, EDITION, QUESTION} <= set(head):
            raise NotUnderstood("the table that came back is not from Dialset")
        number, code, edition = (head.index(name) for name in (NUMBER, CODE, EDITION))
        check_all_came([_whole(row, number) for row in rows], len(questions))
        editions: dict[str, int] = {}
        for line, row in enumerate(rows, self.lines + 1):
            row[number] = str(line)
            editions.setdefault(row[edition], line)
        self._check_editions(editions)
        end = self._end + self._write(head, rows)
        self._questions.update(_digested(questions))
        digests = self._questions.hexdigest(), self._answers.hexdigest()
        done = Done(self.lines + len(rows), end, *digests, editions, Counter(row[code] for row in rows))
        self._record_out.write(line_of(done._asdict()))
        self._record_out.flush()
        self._count(done)

    def _write(self, head: list[str], rows: Rows) -> int:
        """Write rows, the first time below their columns; returns how many bytes."""
        if self._head not in ([], head):
            raise ValueError(f"line {self.lines + 1} has other columns than those before: begin anew")
        text = io.StringIO(newline="")
        writer = csv.writer(text, delimiter=self.separator, lineterminator="\r\n")
        writer.writerows(rows if self._head else [head, *rows])
        self._head, written = head, text.getvalue().encode()
        self._part_out.write(written)
        self._part_out.flush()
        self._answers.update(written)
        return len(written)

    def _count(self, done: Done) -> None:
        self.lines, self._end = done.lines, done.end
        self.codes.update(done.codes)

    def _check_editions(self, editions: Mapping[str, int]) -> None:
        for edition, line in editions.items():
            self.editions.check(edition, line)

    def _check_asked(self, first: tuple[dict[str, Any], int] | None) -> None:
        """Whether the same is asked for every line as in the earlier run."""
        if first is None:
            raise self._without_record()
        before, self._record_end = first
        others = [name for name in {**before, **self.asked} if before.get(name) != self.asked.get(name)]
        if others:
            raise ValueError(
                f"{self.part} answers what was asked otherwise: {', '.join(others)} changed. "
                "Ask the same, or begin anew, without going on"
            )

    def _without_record(self) -> ValueError:
        return ValueError(
            f"{self.part} cannot be gone on with: no {self.record.name} beside it tells what was asked: "
            "begin anew, without going on"
        )

    def _keep(self, done: Done, part: BinaryIO, rows: Iterator[list[str]]) -> bool:
        """Keep a window of an earlier run and pass over its questions; False if it is not whole in the part.

        Raises:
            ValueError: for other questions than then.
        """
        answers = self._answers.copy()
        answers.update(part.read(done.end - self._end))
        if answers.hexdigest() != done.answers:
            return False
        self._questions.update(_digested(islice(rows, done.lines - self.lines)))
        if self._questions.hexdigest() != done.questions:
            raise ValueError(
                f"lines {self.lines + 1} to {done.lines} are not those that {self.part} answers: "
                "the questions changed. Begin anew, without going on"
            )
        self._check_editions(done.editions)
        self._answers = answers
        self._count(done)
        return True


def _digested(rows: Iterable[list[str]]) -> bytes:
    return b"".join(map(line_of, rows))


def _whole(row: list[str], column: int) -> int | None:
    return int(row[column]) if column < len(row) and row[column].isdecimal() else None
