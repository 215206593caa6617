"""Starts Dialset on the invented shop and asks it: this joint, which machines can do it, and what do I set?

Needs nothing but the environment that ``deploy/environment.sh`` makes. Everything in the shop is invented.
"""

import json
import os
import re
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
QUESTION = {
    "family": "rotary_shouldered",
    "connection": "NC50",
    "component": "drill_collar",
    "box_outside_diameter": "6 1/2 in",
    "pin_bore": "2-13/16 in",
    "operation": "make_up",
    "thread_hand": "right",
    "arm_position": "square",
    "break_out_ratio": "1.25",
    "as_of": "2026-11-24",
}
SHOP = {
    "DIALSET_MACHINES": str(TOP / "deploy" / "demo" / "machines"),
    "DIALSET_UNFIT_PROFILES": "refuse",
}


def wait_until_ready(address: str) -> None:
    """Wait until the service answers that it is ready, ten seconds at most."""
    for _ in range(200):
        try:
            urlopen(f"{address}/readyz").close()
        except HTTPError as not_ready:
            raise SystemExit(f"the service is not ready: {not_ready.read().decode()}") from None
        except URLError:
            time.sleep(0.05)
        else:
            return
    raise SystemExit("the service does not answer")


@contextmanager
def service() -> Iterator[str]:
    """A running service; yields its address."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    command = [sys.executable, "-m", "gunicorn", "--config", "deploy/gunicorn.conf.py"]
    process = subprocess.Popen(
        [*command, "--bind", f"127.0.0.1:{port}", "--log-level", "warning"],
        cwd=TOP,
        env={**os.environ, **SHOP},
    )
    address = f"http://127.0.0.1:{port}"
    try:
        wait_until_ready(address)
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


def in_words(text: str) -> str:
    """A sentence with its torques as a person reads them."""
    return re.sub(r"([0-9.]+) lbf\.ft", lambda found: f"{float(found[1]):,.0f} ft-lb", text)


def report_able(machine: dict[str, Any]) -> None:
    """What to set on a machine that can."""
    setting = machine["gauge_setting"]
    mark = f"{setting['value']:g} {setting['unit']}"
    low, high = shown(machine["torque_lower_bound"]), shown(machine["torque_upper_bound"])
    print(
        f"\n  {machine['machine']}: SET {mark} on gauge {machine['gauge']}, {machine['cylinder_side']} side"
    )
    print(f"      gives {shown(machine['torque_at_gauge_setting'])}, in the worst case {low} to {high}")
    print(f"      break-out may need {shown(machine['break_out_torque'])}")
    for check in machine["checks"]:
        if check["verdict"] == "caution":
            print(f"      caution: {in_words(check['text'])}")


def main() -> None:
    """Ask and print."""
    with service() as address:
        answer = get(f"{address}/v1/machine-choice?{urlencode(QUESTION)}")
    window = answer["torque"]
    print("Joint: NC50 drill collar, 6 1/2 in x 2-13/16 in; make-up, right hand, arm square")
    print(f"Torque: at least {shown(window['minimum'])}, at most {shown(window['maximum'])}")
    print(f"Status of the figures: {answer['status']}; {answer['sources'][0]['source']}")
    print("\nMachines of the invented shop that can, the finest gauge first:")
    for machine in answer["able"]:
        report_able(machine)
    print("\nMachines that cannot, and why:")
    for machine in answer["unable"]:
        print(f"\n  {machine['machine']}")
        for reason in machine["reasons"]:
            print(f"      {in_words(reason['text'])}")
    print()
    for caution in answer["cautions"]:
        print(f"Caution: {caution}")


if __name__ == "__main__":
    main()
