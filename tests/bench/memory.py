"""Memory of client and service while a million lines go through in windows.

Run: ``python tests/bench/memory.py [LINES]``. A client in this process sends the lines from an iterator to a
real gunicorn with one worker, and the resident memory of both is printed at each tenth. Nothing is asserted.
"""

import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

from environment import environment

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "clients" / "python" / "src")]
ADDRESS = "127.0.0.1:8765"
JOINT = {"connection": "NC50", "component": "drill_collar", "pin_bore": "2-13/16 in"}


def questions(count: int) -> Iterator[dict[str, str]]:
    """So many joints, each with an order of its own."""
    for number in range(count):
        yield {**JOINT, "order": f"W-{number}", "box_outside_diameter": f"{6.3 + number % 90 / 100:.2f} in"}


def resident(process: int | str) -> float:
    """Resident memory of a process, MiB."""
    status = Path(f"/proc/{process}/status").read_text("utf-8")
    return int(status.partition("VmRSS:")[2].split()[0]) / 1024


def worker_of(process: int) -> str:
    """The one worker of a gunicorn."""
    return Path(f"/proc/{process}/task/{process}/children").read_text("utf-8").split()[0]


def main() -> None:
    """Send the lines and print."""
    from dialset_client import Dialset  # noqa: PLC0415  # the checkout must be on the path first

    print(environment())
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 1_000_000
    gunicorn = [sys.executable, "-m", "gunicorn", "-c", "python:api.serving", "--log-level", "error"]
    service = subprocess.Popen([*gunicorn, "--workers", "1", "--bind", ADDRESS], cwd=ROOT)
    try:
        time.sleep(2)
        worker, shop = worker_of(service.pid), Dialset(f"http://{ADDRESS}")
        started, answered = time.perf_counter(), 0
        print("lines        client    worker")
        for number, answer in enumerate(shop.batch("torque/rotary-shouldered", questions(count)), 1):
            answered += answer["line_status"] == "answered"
            if number % (count // 10) == 0:
                print(f"{number:9,} {resident('self'):5.0f} MiB {resident(worker):5.0f} MiB", flush=True)
        seconds = time.perf_counter() - started
        print(
            f"{answered:,} of {count:,} lines answered, {count / seconds:,.0f} lines/s with client and JSON"
        )
    finally:
        service.terminate()
        service.wait()


if __name__ == "__main__":
    main()
