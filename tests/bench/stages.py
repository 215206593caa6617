"""Where the time of one question goes: its stages in one process, and what gunicorn adds to them.

A stage has the mean, over all questions, of its least time of all rounds: a busy machine disturbs it little.
What gunicorn adds is CPU of a worker, as `single` has it, less the whole application.
"""

import io
import json
from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping
from contextlib import ExitStack, contextmanager
from dataclasses import replace
from statistics import mean
from time import thread_time
from typing import Any
from unittest.mock import patch

import echo
import single
from printing import Much, micro, table
from questions import create_app, from_environment
from servers import SHOP, Request
from werkzeug.test import EnvironBuilder

from api.answers.machines.remedies import Remedies
from api.answers.shop import Shop
from api.http import routes
from api.http import single as face
from api.registry import calculation

STAGES = ("parse", "load", "question", "compute", "remedies", "write", "JSON")
WHOLE = "the application"
READING = min(-thread_time() + thread_time() for _ in range(1000))
"""What it takes to read the clock, which is a good deal beside a short stage; it is counted out."""


class Clock:
    """CPU that each stage takes of its own: what runs inside another stage counts for the inner one."""

    def __init__(self) -> None:
        self.spent: dict[str, float] = defaultdict(float)
        self.inner, self.readings = 0.0, 0

    def timed(self, stage: str, function: Callable[..., Any]) -> Callable[..., Any]:
        """A function whose time is counted."""

        def run(*given: Any, **named: Any) -> Any:
            outer, self.inner, started = self.inner, 0.0, thread_time()
            try:
                return function(*given, **named)
            finally:
                took = thread_time() - started
                self.spent[stage] += took - self.inner - READING
                self.inner = outer + took + READING
                self.readings += 2

        return run

    @contextmanager
    def watching(self) -> Iterator[None]:
        """The stages of the service are counted inside."""
        asked = {name: routes._calculation(name) for name in ("torque/rotary-shouldered", "pressure")}
        asked = {
            name: replace(each, compute=self.timed("compute", each.compute)) for name, each in asked.items()
        }
        remedies = Remedies.of
        with ExitStack() as stack:
            for place, name, stage in (
                (face, "json_body", "parse"),
                (calculation, "gathered", "load"),
                (calculation, "_load_both", "load"),
                (calculation, "as_read", "load"),
                (calculation, "question_of", "question"),
                (Shop, "by_policy", "compute"),
                (calculation, "with_record", "write"),
                (face, "encoded", "JSON"),
            ):
                stack.enter_context(patch.object(place, name, self.timed(stage, getattr(place, name))))
            of = self.timed("remedies", lambda *given: [*remedies(*given)])  # it is an iterator
            stack.enter_context(patch.object(Remedies, "of", of))
            stack.enter_context(patch.object(routes, "_calculation", asked.__getitem__))
            yield


def main(much: Much) -> None:
    """Print a column for each kind of question, short and full."""
    asked, times = single.measured(much)
    ours = create_app(from_environment(SHOP))
    bare = echo.create_app(
        {"-".join(name): [json.loads(each) for each in given.answers] for name, given in asked.items()}
    )
    columns = []
    for name, given in asked.items():
        spent = spent_in(ours, given.requests, much.rounds)
        echoed = spent_in(bare, single.echoed(name, given.requests), much.rounds)[WHOLE]
        worker, worker_of_echo = (single.middle(times[who, name]).cpu for who in ("ours", "echo"))
        rest = spent[WHOLE] - sum(spent[stage] for stage in STAGES)
        whole = (worker - spent[WHOLE], worker, echoed, worker_of_echo - echoed, worker_of_echo)
        columns.append([micro(each) for each in (*(spent[stage] for stage in STAGES), rest, *whole)])
    labels = [*STAGES, "the rest of the application", "gunicorn", "**the worker**"]
    labels += ["echo: the application", "echo: gunicorn", "**echo: the worker**"]
    table(
        "Stages of one question, µs",
        ["stage", *(", ".join(name) for name in asked)],
        [[label, *figures] for label, *figures in zip(labels, *columns, strict=True)],
    )


def spent_in(app: Any, requests: list[Request], rounds: int) -> Mapping[str, float]:
    """Seconds of each stage, and of the whole application."""
    clock, least = Clock(), defaultdict[str, list[float]](list)
    with clock.watching():
        for each in requests:
            taken = [_taken(clock, app, each) for _ in range(rounds)]
            for stage in (*STAGES, WHOLE):
                least[stage].append(min(one[stage] for one in taken))
    return {stage: mean(each) for stage, each in least.items()}


def _taken(clock: Clock, app: Any, request: Request) -> Mapping[str, float]:
    """What one request takes, from the environment of WSGI to the last byte."""
    environment = EnvironBuilder(
        path=request.path, query_string=request.query, method=request.method
    ).get_environ()
    if request.body:
        body = {"wsgi.input": io.BytesIO(request.body), "CONTENT_LENGTH": str(len(request.body))}
        environment |= body | {"CONTENT_TYPE": "application/json"}
    clock.spent.clear()
    clock.readings, started = 1, thread_time()
    b"".join(app(environment, lambda status, headers, failed=None: None))
    whole = thread_time() - started - clock.readings * READING
    return {**dict.fromkeys(STAGES, 0.0), **clock.spent, WHOLE: whole}
