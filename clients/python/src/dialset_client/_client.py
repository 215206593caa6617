"""The client: one class, a method for every question."""

import csv
import io
from collections.abc import Callable, Iterable, Iterator, Mapping
from itertools import islice
from pathlib import Path
from typing import Any
from urllib.parse import quote

import requests

from dialset_client._methods import Questions
from dialset_client._transport import Transport

WINDOW = 1000
"""Lines of a batch that are sent at once: enough for speed, and little to hold in memory."""


class Dialset(Questions):
    """A Dialset service.

    Args:
        address: where it is, such as ``http://127.0.0.1:8000``.
        timeout: seconds after which a question is given up.
        session: a session of your own (for a proxy or a login); it then also decides about asking again.

    >>> shop = Dialset("http://127.0.0.1:8000")
    >>> answer = shop.conversion(quantity="20000 ft-lb", to="kN.m")  # doctest: +SKIP
    >>> answer["result"]  # doctest: +SKIP
    {'value': 27.11635897, 'unit': 'kN.m'}
    """

    def __init__(
        self, address: str, *, timeout: float = 10.0, session: requests.Session | None = None
    ) -> None:
        self._transport = Transport(address, timeout, session)

    def _question(self, path: str, fields: Mapping[str, Any]) -> dict[str, Any]:
        given = {name: value for name, value in fields.items() if value is not None}
        return dict(self._transport.json("POST", path, json=given))

    def _listing(self, path: str, filters: Mapping[str, Any]) -> list[dict[str, Any]]:
        asked = {name: _in_query(value) for name, value in filters.items() if value is not None}
        return list(self._transport.json("GET", path, params=asked)["items"])

    def _entry(self, path: str, name: str) -> dict[str, Any]:
        return dict(self._transport.json("GET", f"{path}/{quote(name, safe='')}"))

    def profile_check(self, profile: Mapping[str, Any]) -> dict[str, Any]:
        """Every fault of a machine profile."""
        return dict(self._transport.json("POST", "/v1/profile-check", json=profile))

    def ready(self) -> dict[str, Any]:
        """The state of the service; raises `Refused` if it does not reproduce its published figures."""
        return dict(self._transport.json("GET", "/readyz"))

    def batch(
        self,
        calculation: str,
        lines: Iterable[Mapping[str, Any]],
        *,
        defaults: Mapping[str, Any] | None = None,
        carry: Iterable[str] = (),
        window: int = WINDOW,
        progress: Callable[[int], None] | None = None,
    ) -> Iterator[dict[str, Any]]:
        """Ask any number of lines, a window at a time, and yield what became of each, in order.

        Args:
            calculation: such as ``pressure``.
            lines: questions; members that are no fields are carried along.
            defaults: fields that hold for every line.
            carry: names that are carried along though they are nearly those of fields.
            window: lines sent at once.
            progress: called after each window with the number of lines answered so far.

        Yields:
            ``{"line_number", "line_status", "problem_code", "carried", "result" or "problem"}``.
        """
        done, rest = 0, iter(lines)
        while part := list(islice(rest, window)):
            body = {"lines": part, "defaults": dict(defaults or {}), "carry": list(carry)}
            answers = self._transport.json("POST", f"/v1/{calculation}/batch", json=body)["lines"]
            for answer in answers:
                yield {**answer, "line_number": done + answer["line_number"]}
            done += len(part)
            if progress is not None:
                progress(done)

    def batch_file(
        self,
        calculation: str,
        source: str | Path,
        target: str | Path,
        *,
        window: int = WINDOW,
        progress: Callable[[int], None] | None = None,
        **defaults: str,
    ) -> int:
        """Ask every row of a CSV file and write the answers to another, a window at a time.

        Returns:
            The number of lines.
        """
        done = 0
        with (
            Path(source).open(encoding="utf-8-sig", newline="") as rows,
            Path(target).open("w", encoding="utf-8", newline="") as out,
        ):
            reader, writer = csv.reader(rows), csv.writer(out, lineterminator="\r\n")
            header = next(reader, [])
            for part in _windows(reader, window):
                head, *answers = self._table(calculation, [header, *part], defaults)
                if done == 0:
                    writer.writerow(head)
                number = head.index("line_number")
                writer.writerows(_renumbered(row, number, done) for row in answers)
                done += len(answers)
                if progress is not None:
                    progress(done)
        return done

    def _table(self, calculation: str, rows: list[list[str]], defaults: Mapping[str, str]) -> list[list[str]]:
        text = io.StringIO(newline="")
        csv.writer(text).writerows(rows)
        answer = self._transport.ask(
            "POST",
            f"/v1/{calculation}/batch",
            params=defaults,
            data=text.getvalue().encode(),
            headers={"Content-Type": "text/csv"},
        )
        return list(csv.reader(io.StringIO(answer.content.decode("utf-8"), newline="")))


def _windows(rows: Iterator[list[str]], size: int) -> Iterator[list[list[str]]]:
    """At least one window, if an empty one; none but the last ends with an empty row.

    A service takes empty rows at the end for no lines; in the middle of a file they are some.
    """
    first = True
    while (part := list(islice(rows, size))) or first:
        while part and not any(part[-1]) and (another := next(rows, None)) is not None:
            part.append(another)
        yield part
        first = False


def _renumbered(row: list[str], column: int, before: int) -> list[str]:
    return [*row[:column], str(before + int(row[column])), *row[column + 1 :]]


def _in_query(value: Any) -> str:
    return str(value).lower() if isinstance(value, bool) else str(value)
