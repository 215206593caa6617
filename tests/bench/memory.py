"""The most memory of a worker above rest while it answers the largest batch, and that of a client.

The lines are full pressures. A worker rests when it has answered a small batch of the same form.
"""

import os
import sys
from itertools import cycle, islice
from time import perf_counter

from batch import CSV, JSON, JSON_LINES, Batch, batch, pressures
from printing import Much, table
from questions import PRESSURE, drawn
from servers import ROOT, Server, gunicorn, memory

AIM = 20
FORMS = {"JSON": JSON, "JSON Lines": JSON_LINES, "CSV": CSV}
WARM = 300
"""Lines of the small batch."""
BY_CLIENT = 5
"""How many of the largest batches the client sends, of torques."""


def main(much: Much) -> None:
    """Print a row for each form, and one for the client."""
    lines = [*islice(cycle(pressures(2 * much.questions)), much.lines)]
    rows = []
    for name, form in FORMS.items():
        with gunicorn() as server:
            rows.append(
                [
                    name,
                    *answered(
                        server, *(batch(PRESSURE, each, "full", form) for each in (lines[:WARM], lines))
                    ),
                ]
            )
    table(
        f"A batch of {much.lines} full pressures; MiB of the worker",
        ["form", "MB sent back", "seconds", "first byte after", "at rest", "most above it", "at most"],
        rows,
    )
    client(much)


def answered(server: Server, small: Batch, large: Batch) -> list[str]:
    """The figures of one batch."""
    small.answer(server)
    rest = server.memory()
    server.forget_peak()
    started, size = perf_counter(), 1
    with large.asked(server) as response:
        response.read(1)
        first = perf_counter() - started
        while data := response.read(65536):
            size += len(data)
    whole = perf_counter() - started
    most = server.memory("VmHWM") - rest
    return [f"{size / 1e6:.0f}", f"{whole:.0f}", f"{first:.2f} s", f"{rest:.0f}", f"{most:.0f}", str(AIM)]


def client(much: Much) -> None:
    """Print what a client takes that sends torques from an iterator, in windows."""
    sys.path.insert(0, os.fspath(ROOT / "clients" / "python" / "src"))
    from dialset_client import Dialset  # noqa: PLC0415  # the checkout must be on the path first

    count = BY_CLIENT * much.lines
    lines = islice(cycle(drawn("torque", 2 * much.questions)), count)
    with gunicorn() as server:
        answers = Dialset(f"http://127.0.0.1:{server.port}").batch("torque/rotary-shouldered", lines)
        next(answers)
        rest, rest_of_client, started = server.memory(), memory("self"), perf_counter()
        answered = 1 + sum(each["line_status"] != "refused" for each in answers)
        rate = answered / (perf_counter() - started)
        worker = server.memory("VmHWM") - rest
    above = memory("self", "VmHWM") - rest_of_client
    print(
        f"\n{answered} torques by the client in windows: {rate:.0f} a second, its reading of JSON counted; "
        f"at most {worker:.0f} MiB of the worker and {above:.0f} of the client above what one window took"
    )
