"""Starts Dialset on the invented shop and asks it: this joint, on these machines, what do I set?

Needs nothing but the environment that ``deploy/environment.sh`` makes. Everything in the shop is invented.
"""

import json
import os
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from urllib.error import HTTPError, URLError
from urllib.parse import urlencode
from urllib.request import urlopen

TOP = Path(__file__).resolve().parents[2]
JOINT = {
    "family": "rotary_shouldered",
    "connection": "NC50",
    "component": "drill_collar",
    "box_outside_diameter": "6 1/2 in",
    "pin_bore": "2-13/16 in",
    "operation": "make_up",
    "thread_hand": "right",
    "arm_position": "square",
}


@contextmanager
def service() -> Iterator[str]:
    """A running service; yields its address."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    command = [sys.executable, "-m", "gunicorn", "--config", "deploy/gunicorn.conf.py"]
    environment = {**os.environ, "DIALSET_MACHINES": str(TOP / "deploy" / "demo" / "machines")}
    process = subprocess.Popen(
        [*command, "--bind", f"127.0.0.1:{port}", "--log-level", "warning"], cwd=TOP, env=environment
    )
    address = f"http://127.0.0.1:{port}"
    try:
        for _ in range(200):
            try:
                urlopen(f"{address}/readyz").close()
                break
            except URLError:
                time.sleep(0.05)
        yield address
    finally:
        process.terminate()
        process.wait()


def get(url: str) -> dict[str, Any]:
    """The JSON answer, or the problem document of a refusal."""
    try:
        with urlopen(url) as answer:
            return dict(json.load(answer))
    except HTTPError as refusal:
        return dict(json.load(refusal))


def shown(quantity: dict[str, Any] | None) -> str:
    """A quantity as a person reads it."""
    return (
        "none"
        if quantity is None
        else f"{quantity['value']:,.0f} {quantity['unit'].replace('lbf.ft', 'ft-lb')}"
    )


def report(machine: str, answer: dict[str, Any]) -> None:
    """What to set on one machine, or why not."""
    print(f"\n{machine} (invented)")
    if "errors" in answer:
        for error in answer["errors"]:
            print(f"  cannot: {error['detail']}")
        return
    setting = answer["gauge_setting"]
    mark = f"{setting['value']:g} {setting['unit']}"
    print(f"  SET {mark} on gauge {answer['gauge']}, {answer['cylinder_side']} side")
    print(f"  this mark gives {shown(answer['torque_at_gauge_setting'])}")
    for check in answer["checks"]:
        if check["verdict"] != "pass":
            print(f"  {check['verdict']}: {check['text']}")


def main() -> None:
    """Ask and print."""
    with service() as address:
        machines = [each["id"] for each in get(f"{address}/v1/machines")["items"]]
        answers = {
            machine: get(f"{address}/v1/pressure?{urlencode({**JOINT, 'machine': machine})}")
            for machine in machines
        }
    print("Joint: NC50 drill collar, 6 1/2 in x 2-13/16 in; make-up, right hand, arm square")
    first = next(answer for answer in answers.values() if "torque" in answer)
    window = first["torque"]
    print(f"Torque: at least {shown(window['minimum'])}, at most {shown(window['maximum'])}")
    print(f"Status of the figures: {first['status']}; {first['sources'][0]['source']}")
    for machine, answer in answers.items():
        report(machine, answer)
    print()
    for caution in first["cautions"]:
        print(f"Caution: {caution}")


if __name__ == "__main__":
    main()
