"""How cost grows: with the machines of a shop, with the rows of its tables, with connections at one time.

Machines are copies of those of the invented shop. Tables have joints of 20 rows, and are asked between two.
"""

import asyncio
import csv
import json
import os
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from itertools import cycle, islice
from pathlib import Path
from statistics import mean, median
from time import perf_counter

from printing import Much, micro, table
from questions import drawn, request
from servers import DEMO, Request, Server, ask, gunicorn, length_of

MACHINES, ROWS, CONNECTIONS, WORKERS = (
    (10, 100, 1000),
    (100, 1000, 10_000, 100_000),
    (1, 4, 16, 64, 256),
    (1, 2),
)
QUESTIONS = 20
"""Asked of each size of a shop."""
IN_A_FILE, OF_A_JOINT = 20_000, 20
"""Rows that one table may have, and those of one joint."""
ANSWERS = 1500
"""Given to each number of connections."""


def main(much: Much) -> None:
    """Print the three tables."""
    few = 2 if much.quick else None
    start = ["start, s of CPU", "worker, MiB"]
    table(
        "A shop of many machines; make-ups, and a choice of machines",
        ["machines", *start, "a make-up, µs", "the slowest, µs", "a choice, µs", "a choice, kB"],
        [of_machines(number) for number in MACHINES[:few]],
    )
    table(
        "A shop of many rows in its tables",
        ["rows", *start, "a torque between two rows, µs"],
        [of_rows(number) for number in ROWS[:few]],
    )
    asked = [request("make-up", each, "short").raw() for each in drawn("make-up", much.questions)]
    asked = [*islice(cycle(asked), len(asked) if much.quick else ANSWERS)]
    table(
        "Connections at one time, each with its next question when it has an answer; make-ups",
        [
            "workers and connections",
            "answers a second",
            "an answer, µs of CPU",
            "half within, ms",
            "99 of 100 within, ms",
        ],
        [row for workers in WORKERS for row in of_connections(workers, CONNECTIONS[:few], asked)],
    )


@contextmanager
def shop(**folders: Path) -> Iterator[Server]:
    """A service with these folders and no policy."""
    environment = {f"DIALSET_{name.upper()}": os.fspath(folder) for name, folder in folders.items()}
    with gunicorn(environment=environment) as server:
        yield server


def began(server: Server) -> list[str]:
    """What a start took, and what its worker takes."""
    return [f"{server.started:.2f}", f"{server.memory():.0f}"]


def each_took(server: Server, asked: Sequence[Request]) -> list[float]:
    """CPU seconds of each question, asked a second time."""
    took = []
    with server.connect() as connection:
        for each in (*asked, *asked):
            cpu = server.cpu()
            ask(connection, each.raw())
            took.append(server.cpu() - cpu)
    return took[len(asked) :]


def of_machines(number: int) -> list[str]:
    """The row of so many machines."""
    profiles = [json.loads(each.read_text("utf-8")) for each in sorted((DEMO / "machines").glob("*.json"))]
    with tempfile.TemporaryDirectory() as folder:
        for one, profile in zip(range(number), cycle(profiles)):
            copy = {**profile, "id": f"{profile['id']}-{one // len(profiles)}"}
            Path(folder, f"{copy['id']}.json").write_text(json.dumps(copy), "utf-8")
        there = {each.stem for each in Path(folder).iterdir()}
        jobs = [{**each, "machine": f"{each['machine']}-0"} for each in drawn("make-up", 4 * QUESTIONS)]
        jobs = [each for each in jobs if each["machine"] in there and each["family"] != "stated"][:QUESTIONS]
        choice = Request.post(
            "/v1/machine-choice", {key: each for key, each in jobs[0].items() if key != "machine"}
        )
        with shop(machines=Path(folder)) as server:
            took = each_took(server, [request("make-up", each, "short") for each in jobs])
            chosen = median(each_took(server, [choice] * 5))
            with server.connect() as connection:
                size = len(ask(connection, choice.raw())) / 1000
            return [
                str(number),
                *began(server),
                micro(mean(took)),
                micro(max(took)),
                micro(chosen),
                f"{size:.0f}",
            ]


def of_rows(number: int) -> list[str]:
    """The row of so many rows, in tables as long as one may be."""
    header = ["joint", "box_outside_diameter [in linear]", "target [ft-lb]", "source", "revision"]
    rows = [
        [
            f"J-{one // OF_A_JOINT}",
            5 + one % OF_A_JOINT / 10,
            10_000 + 100 * (one % OF_A_JOINT),
            "invented",
            "1",
        ]
        for one in range(number)
    ]
    with tempfile.TemporaryDirectory() as folder:
        for first in range(0, number, IN_A_FILE):
            with Path(folder, f"table-{first // IN_A_FILE}.csv").open(
                "w", encoding="utf-8", newline=""
            ) as file:
                csv.writer(file).writerows([header, *rows[first : first + IN_A_FILE]])
        asked = [
            Request.get(
                "/v1/torque/tabulated",
                {
                    "table": f"table-{OF_A_JOINT * joint // IN_A_FILE}",
                    "table_key.joint": f"J-{joint}",
                    "table_key.box_outside_diameter": "5.55 in",
                },
            )
            for joint in range(0, number // OF_A_JOINT, max(1, number // OF_A_JOINT // QUESTIONS))
        ]
        with shop(tables=Path(folder)) as server:
            took = each_took(server, asked)
            return [str(number), *began(server), micro(mean(took))]


def of_connections(workers: int, connections: Sequence[int], asked: Sequence[bytes]) -> Iterator[list[str]]:
    """The rows of so many workers."""
    with gunicorn(workers=workers) as server:
        asyncio.run(at_once(server, 8 * workers, asked))  # warm
        for number in connections:
            cpu, started = server.cpu(), perf_counter()
            waits = sorted(asyncio.run(at_once(server, number, asked)))
            seconds, cpu = perf_counter() - started, server.cpu() - cpu
            half, most = (1000 * waits[int(share * len(waits))] for share in (0.5, 0.99))
            figures = [f"{len(asked) / seconds:.0f}", micro(cpu / len(asked)), f"{half:.1f}", f"{most:.1f}"]
            yield [f"{workers} and {number}", *figures]


async def at_once(server: Server, number: int, asked: Sequence[bytes]) -> list[float]:
    """Seconds that each answer took, over so many connections at one time."""
    left, waits = iter(asked), list[float]()

    async def one() -> None:
        reader, writer = await asyncio.open_connection("127.0.0.1", server.port)
        for each in left:
            started = perf_counter()
            writer.write(each)
            head = await reader.readuntil(b"\r\n\r\n")
            await reader.readexactly(length_of(head))
            waits.append(perf_counter() - started)
        writer.close()

    await asyncio.gather(*(one() for _ in range(number)))
    return waits
