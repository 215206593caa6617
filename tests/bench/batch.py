"""A batch beside the csv module, which reads and writes the table that the batch answers: CPU of one core.

Lines are the questions of `questions`, all different, the machines in turn; pressures are make-ups and
break-outs by halves.
"""

import csv
import io
import json
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from http.client import HTTPConnection, HTTPResponse
from itertools import chain
from statistics import median
from time import process_time
from typing import NamedTuple

from printing import Much, micro, table
from questions import DETAILS, PRESSURE, TORQUE, Fields, drawn
from servers import Server, gunicorn

CSV, JSON, JSON_LINES = "text/csv", "application/json", "application/jsonl"
AIMS = {
    ("torques", "short"): 6,
    ("pressures", "short"): 8,
    ("torques", "full"): 12,
    ("pressures", "full"): 12,
}
"""One over the share of csv's speed that is aimed at."""
AGAIN = 5
"""How often the csv module does its work: it is quick, and the clock is coarse."""


class Batch(NamedTuple):
    """A batch as it is sent, and the form of its answer."""

    path: str
    body: bytes
    content_type: str
    accept: str

    @contextmanager
    def asked(self, server: Server) -> Iterator[HTTPResponse]:
        """Its answer, to be read; it must be a success."""
        connection = HTTPConnection("127.0.0.1", server.port, timeout=600)
        headers = {"Content-Type": self.content_type, "Accept": self.accept}
        connection.request("POST", self.path, self.body, headers)
        response = connection.getresponse()
        if response.status != 200:
            raise SystemExit(response.read().decode())
        yield response
        connection.close()

    def answer(self, server: Server) -> bytes:
        """Its answer, whole."""
        with self.asked(server) as response:
            return response.read()


def batch(path: str, lines: Sequence[Fields], detail: str, accept: str) -> Batch:
    """Lines as a table where a table is wanted back, else as JSON."""
    path = f"{path}/batch"
    if accept != CSV:
        return Batch(
            path, json.dumps({"lines": lines, "defaults": {"detail": detail}}).encode(), JSON, accept
        )
    out = io.StringIO(newline="")
    writer = csv.DictWriter(out, list(dict.fromkeys(chain.from_iterable(lines))))
    writer.writeheader()
    writer.writerows(lines)
    return Batch(f"{path}?detail={detail}", out.getvalue().encode(), CSV, accept)


def torques(count: int) -> list[Fields]:
    """So many lines."""
    return drawn("torque", count)


def pressures(count: int) -> list[Fields]:
    """So many lines: make-ups and break-outs in turn."""
    half = -(-count // 2)
    return [*chain.from_iterable(zip(drawn("make-up", half), drawn("break-out", half), strict=True))][:count]


def main(much: Much) -> None:
    """Print a row for torques and pressures, short and full, as CSV and as JSON."""
    count = 2 * much.questions
    rows: list[list[str]] = []
    with gunicorn() as server:
        for name, path, lines in (
            ("torques", TORQUE, torques(count)),
            ("pressures", PRESSURE, pressures(count)),
        ):
            for detail in DETAILS:
                rows += measured(server, much.rounds, name, path, lines, detail)
    table(
        f"A batch of {count} lines beside the csv module; µs of CPU for a line",
        ["batch", "form", "bytes a line", "columns", "ours", "csv", "ours / csv", "at most"],
        rows,
    )


def measured(
    server: Server, rounds: int, name: str, path: str, lines: list[Fields], detail: str
) -> Iterator[list[str]]:
    """The rows of one kind of batch."""
    forms = {"CSV": batch(path, lines, detail, CSV), "JSON": batch(path, lines, detail, JSON)}
    answers = {form: each.answer(server) for form, each in forms.items()}
    written = answers["CSV"].decode()
    times: dict[str, list[tuple[float, float]]] = {form: [] for form in forms}
    for _ in range(rounds):
        for form, each in forms.items():
            cpu = server.cpu()
            each.answer(server)
            times[form].append((server.cpu() - cpu, by_csv(written)))
    columns = len(written.partition("\r\n")[0].split(","))
    for form, took in times.items():
        ours, plain = (median(side) / len(lines) for side in zip(*took, strict=True))
        ratio = median(own / other for own, other in took)
        figures = [
            f"{len(answers[form]) / len(lines):.0f}",
            str(columns),
            micro(ours),
            micro(plain),
            f"{ratio:.1f}",
            str(AIMS[name, detail]),
        ]
        yield [f"{name}, {detail}", form, *figures]


def by_csv(text: str) -> float:
    """CPU seconds of the csv module to read this table and write it."""
    started = process_time()
    for _ in range(AGAIN):
        csv.writer(io.StringIO(newline="")).writerows([*csv.reader(io.StringIO(text, newline=""))])
    return (process_time() - started) / AGAIN
