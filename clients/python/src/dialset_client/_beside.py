"""What stands beside a target until it is whole: the part so far, the record of what was asked, a lock.

The record is ``answers.csv.part.asked``, JSON in lines: first what was asked for every line, then, after
each window, how far the part goes and a digest of all questions and of all answers up to there.
"""

import json
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, BinaryIO, NamedTuple

try:
    import fcntl
except ImportError:  # not on Windows, where two runs on one target are not kept apart
    fcntl = None  # type: ignore[assignment, unused-ignore]


class Done(NamedTuple):
    """What the record says after a window.

    Attributes:
        lines: how many lines are answered.
        end: where the part ends, in bytes.
        questions: SHA-256 of the rows of the source up to there.
        answers: SHA-256 of the part up to there.
        editions: each edition that answered in this window, with its first line.
        codes: how often each code of refusal is in this window.
    """

    lines: int
    end: int
    questions: str
    answers: str
    editions: dict[str, int]
    codes: dict[str, int]


def part_of(target: Path) -> Path:
    """The partial file of a target: ``answers.csv.part``."""
    return target.with_name(f"{target.name}.part")


def record_of(target: Path) -> Path:
    """The record of what was asked for it: ``answers.csv.part.asked``."""
    return target.with_name(f"{target.name}.part.asked")


@contextmanager
def alone(part: Path) -> Iterator[None]:
    """Keep a part for this run.

    Raises:
        ValueError: where another run has it.
    """
    if fcntl is None:
        yield
        return
    # Two runs would write into each other's lines. The lock lies on the part, and not on a file of its own,
    # so that none is left behind: the system frees it however a run ends.
    with part.open("ab") as file:
        if not _locked(file) or not _still_is(part, file):
            raise ValueError(f"another run writes {part}: let it end, or name another file")
        yield


def _locked(file: BinaryIO) -> bool:
    """Whether the lock is had; on a file system that has no locks it always is."""
    try:
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    except OSError:
        return True
    return True


def _still_is(part: Path, file: BinaryIO) -> bool:
    """Whether an open file is still the part: the run that had it may have made it the target meanwhile."""
    return part.exists() and os.path.samestat(os.fstat(file.fileno()), part.stat())


def line_of(value: object) -> bytes:
    """A value as a line of JSON."""
    return json.dumps(value).encode() + b"\n"


def in_record(record: BinaryIO) -> Iterator[tuple[dict[str, Any], int]]:
    """What stands in a record, which may have been cut off anywhere, each with the place of its end."""
    end = 0
    for line in record:
        try:
            found = json.loads(line) if line.endswith(b"\n") else None
        except ValueError:
            return
        if not isinstance(found, dict):
            return
        end += len(line)
        yield found, end
