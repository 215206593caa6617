"""Starts Dialset on the invented shop, for as long as a demonstration asks it something.

Needs nothing but the environment that ``deploy/environment.sh`` makes. Everything in the shop is invented.
"""

import os
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from urllib.error import HTTPError, URLError
from urllib.request import urlopen

TOP = Path(__file__).resolve().parents[2]
SETTINGS = {
    "DIALSET_MACHINES": str(TOP / "deploy" / "demo" / "machines"),
    "DIALSET_TABLES": str(TOP / "deploy" / "demo" / "tables"),
    "DIALSET_UNFIT_PROFILES": "refuse",
    "DIALSET_UNITS": "us",
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
    command = [sys.executable, "-m", "gunicorn", "--config", "python:api.serving"]
    process = subprocess.Popen(
        [*command, "--bind", f"127.0.0.1:{port}", "--log-level", "warning"],
        cwd=TOP,
        env={**os.environ, **SETTINGS},
    )
    address = f"http://127.0.0.1:{port}"
    try:
        wait_until_ready(address)
        yield address
    finally:
        process.terminate()
        process.wait()
