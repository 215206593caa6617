"""One question at a time: CPU of the worker beside a bare Flask and FastAPI, which give the same answers."""

import json
import os
import tempfile
from collections.abc import Iterator, Mapping
from contextlib import ExitStack, contextmanager
from functools import cache
from pathlib import Path
from statistics import median
from typing import NamedTuple

from printing import Much, micro, table
from questions import DETAILS, KINDS, Kind, drawn, request
from servers import Request, Server, ask, ask_all, gunicorn, uvicorn, yardstick_missing

AIMS: dict["Name", float] = {
    ("torque", "short"): 0.90,
    ("torque", "full"): 0.80,
    ("make-up", "short"): 0.80,
    ("make-up", "full"): 0.65,
}
AIMS |= {("break-out", detail): AIMS["make-up", detail] for detail in DETAILS}
Name = tuple[Kind, str]
"""A kind of question and how much of the answer."""


class Took(NamedTuple):
    """Seconds a question, of a worker and of the clock."""

    cpu: float
    wall: float


class Asked(NamedTuple):
    """The questions of a name, and our answers to them."""

    requests: list[Request]
    answers: list[bytes]


def main(much: Much) -> None:
    """Print a row for each kind of question, short and full."""
    asked, times = measured(much)
    rows = []
    for name, given in asked.items():
        kind, detail = name
        took = {who: times[who, name] for who in ("ours", "echo", "FastAPI") if (who, name) in times}
        ours, echo = middle(took["ours"]), middle(took["echo"])
        fast = [micro(middle(took["FastAPI"]).cpu), ratio(took, "FastAPI")] if "FastAPI" in took else ["", ""]
        size = sum(map(len, given.answers)) / len(given.answers)
        figures = [f"{size:.0f}", micro(ours.cpu), micro(ours.wall), micro(echo.cpu), micro(echo.wall)]
        rows.append([f"{kind}, {detail}", *figures, ratio(took, "echo"), f"{AIMS[name]:.2f}", *fast])
    table(
        f"One question, of {much.questions} of each kind; µs of the worker's CPU, and of the clock",
        [
            "question",
            "bytes",
            "ours",
            "clock",
            "echo",
            "clock",
            "echo / ours",
            "aim",
            "FastAPI",
            "FastAPI / ours",
        ],
        rows,
    )


def middle(rounds: list[Took]) -> Took:
    """The median of the rounds."""
    return Took(*map(median, zip(*rounds, strict=True)))


def ratio(took: Mapping[str, list[Took]], who: str) -> str:
    """CPU of another over ours: the median of the ratios of each round."""
    return f"{median(other.cpu / own.cpu for other, own in zip(took[who], took['ours'], strict=True)):.2f}"


@cache  # the stages need it too
def measured(much: Much) -> tuple[dict[Name, Asked], dict[tuple[str, Name], list[Took]]]:
    """What was asked, and what each server took for it in each round; all are asked in turn."""
    with ExitStack() as stack:
        ours = stack.enter_context(gunicorn())
        asked = {
            (kind, detail): answered(
                ours, [request(kind, each, detail) for each in drawn(kind, much.questions)]
            )
            for kind in KINDS
            for detail in DETAILS
        }
        turns = [("ours", ours, name, given.requests) for name, given in asked.items()]
        echo = stack.enter_context(echoing(asked))
        for name, given in asked.items():  # warm, as ours is by now
            answered(echo, echoed(name, given.requests))
        turns += [("echo", echo, name, echoed(name, given.requests)) for name, given in asked.items()]
        if missing := yardstick_missing():
            print(missing)
        else:
            fast = stack.enter_context(uvicorn("yardstick:app"))
            short = {name: given for name, given in asked.items() if "short" in name}
            print(f"FastAPI gives {alike(fast, short)} of its answers leaf for leaf as ours")
            turns += [("FastAPI", fast, name, given.requests) for name, given in short.items()]
        turns.sort(key=lambda turn: list(asked).index(turn[2]))
        times: dict[tuple[str, Name], list[Took]] = {(who, name): [] for who, _, name, _ in turns}
        for _ in range(much.rounds):
            for who, server, name, requests in turns:
                cpu, wall = ask_all(server, [each.raw() for each in requests])
                times[who, name].append(Took(cpu / len(requests), wall / len(requests)))
    return asked, times


def answered(server: Server, requests: list[Request]) -> Asked:
    """Requests with the answers of a server."""
    with server.connect() as connection:
        return Asked(requests, [ask(connection, each.raw()) for each in requests])


@contextmanager
def echoing(asked: Mapping[Name, Asked]) -> Iterator[Server]:
    """A bare Flask that gives these answers, with the settings of ours."""
    answers = {"-".join(name): [json.loads(each) for each in given.answers] for name, given in asked.items()}
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder, "answers.json")
        file.write_text(json.dumps(answers), "utf-8")
        with gunicorn("echo:create_app()", environment={"ECHO_ANSWERS": os.fspath(file)}) as server:
            yield server


def echoed(name: Name, requests: list[Request]) -> list[Request]:
    """The same requests at the paths of the echo."""
    return [each._replace(path=f"/{'-'.join(name)}/{number}") for number, each in enumerate(requests)]


def alike(server: Server, asked: Mapping[Name, Asked]) -> str:
    """How many answers of another server are ours."""
    given = [
        json.loads(theirs) == json.loads(our)
        for each in asked.values()
        for theirs, our in zip(answered(server, each.requests).answers, each.answers, strict=True)
    ]
    return f"{sum(given)} of {len(given)}"
