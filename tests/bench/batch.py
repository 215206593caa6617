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

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))
LINES, ROUNDS, AIM = 5000, 5, 1 / 12


def lines_a_second(work: Callable[[], object]) -> float:
    """The rate of a piece of work over `LINES` lines."""
    started = time.perf_counter()
    work()
    return LINES / (time.perf_counter() - started)


def main() -> None:
    """Print the rates and their ratios."""
    from api.app import create_app  # noqa: PLC0415  # the checkout must be on the path first
    from api.settings import Settings  # noqa: PLC0415

    client = create_app(Settings(machines=ROOT / "deploy" / "demo" / "machines")).test_client()
    header = ["order", "connection", "component", "box_outside_diameter [in]", "pin_bore [in]"]
    rows = [[f"W-{n}", "NC50", "drill_collar", f"{6.3 + n % 90 / 100:.2f}", "2-13/16"] for n in range(LINES)]
    text = "\n".join(",".join(row) for row in [header, *rows]) + "\n"
    names = ["order", "connection", "component", "box_outside_diameter", "pin_bore"]
    lines = [dict(zip(names, [*row[:3], f"{row[3]} in", f"{row[4]} in"], strict=True)) for row in rows]
    body = json.dumps({"lines": lines})
    path = "/v1/torque/rotary-shouldered/batch"
    finished = list(csv.reader(io.StringIO(client.post(path, data=text, content_type="text/csv").text)))

    def plain() -> None:
        list(csv.reader(io.StringIO(text)))
        csv.writer(io.StringIO()).writerows(finished)

    work: dict[str, Callable[[], object]] = {
        "CSV": lambda: client.post(path, data=text, content_type="text/csv"),
        "JSON": lambda: client.post(path, data=body, content_type="application/json"),
    }
    rounds = [
        (lines_a_second(plain), *(lines_a_second(each) for each in work.values())) for _ in range(ROUNDS)
    ]
    bare, *rates = (statistics.median(each) for each in zip(*rounds, strict=True))
    print(f"csv module, {len(finished[0])} columns: {bare:8.0f} lines/s")
    for name, rate in zip(work, rates, strict=True):
        print(f"{name:4} batch of {path}: {rate:6.0f} lines/s, 1/{bare / rate:.0f} (aim 1/{1 / AIM:.0f})")


if __name__ == "__main__":
    main()
