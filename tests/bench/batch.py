"""Speed of a batch as lines a second in one process, beside Python's csv module at the same table.

Run: ``python tests/bench/batch.py``. The csv module reads the lines and writes the finished table again; the
medians of five rounds are printed. Nothing is asserted.
"""

import csv
import io
import json
import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

from environment import environment

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))
LINES, ROUNDS, AIM = 5000, 5, 1 / 12
HEADER = ["order", "connection", "component", "box_outside_diameter [in]", "pin_bore [in]"]
NAMES = ["order", "connection", "component", "box_outside_diameter", "pin_bore"]


def lines_a_second(work: Callable[[], object]) -> float:
    """The rate of a piece of work over `LINES` lines."""
    started = time.perf_counter()
    work()
    return LINES / (time.perf_counter() - started)


def measure(client: Any, path: str, rows: list[list[str]], defaults: dict[str, str]) -> None:
    """Print the rates of one calculation and their ratios."""
    table = "\n".join(",".join(row) for row in [HEADER, *rows]) + "\n"
    lines = [dict(zip(NAMES, [*row[:3], f"{row[3]} in", f"{row[4]} in"], strict=True)) for row in rows]
    body = json.dumps({"lines": lines, "defaults": defaults})

    def as_table() -> Any:
        return client.post(path, query_string=defaults, data=table, content_type="text/csv")

    def plain() -> None:
        list(csv.reader(io.StringIO(table)))
        csv.writer(io.StringIO()).writerows(finished)

    finished = list(csv.reader(io.StringIO(as_table().text)))
    work: dict[str, Callable[[], object]] = {
        "CSV": as_table,
        "JSON": lambda: client.post(path, data=body, content_type="application/json"),
    }
    rounds = [
        (lines_a_second(plain), *(lines_a_second(each) for each in work.values())) for _ in range(ROUNDS)
    ]
    bare, *rates = (statistics.median(each) for each in zip(*rounds, strict=True))
    print(f"{path}: csv module, {len(finished[0])} columns, {bare:.0f} lines/s")
    for name, rate in zip(work, rates, strict=True):
        print(f"  {name:4} {rate:6.0f} lines/s, 1/{bare / rate:.0f} (aim 1/{1 / AIM:.0f})")


def main() -> None:
    """Measure a torque and a pressure."""
    from api.app import create_app  # noqa: PLC0415  # the checkout must be on the path first
    from api.settings import Settings  # noqa: PLC0415

    print(environment())
    client = create_app(Settings(machines=ROOT / "deploy" / "demo" / "machines")).test_client()
    rows = [[f"W-{n}", "NC50", "drill_collar", f"{6.3 + n % 40 / 100:.2f}", "2-13/16"] for n in range(LINES)]
    measure(client, "/v1/torque/rotary-shouldered/batch", rows, {})
    job = {"machine": "south-bay-8", "operation": "make_up", "thread_hand": "right", "arm_position": "square"}
    measure(client, "/v1/pressure/batch", rows, {"family": "rotary_shouldered", **job})


if __name__ == "__main__":
    main()
