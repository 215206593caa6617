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
from tempfile import TemporaryFile
from typing import IO
from urllib.error import HTTPError
from urllib.request import ProxyHandler, build_opener

TOP = Path(__file__).resolve().parents[2]
SETTINGS = {
    "DIALSET_MACHINES": str(TOP / "deploy" / "demo" / "machines"),
    "DIALSET_TABLES": str(TOP / "deploy" / "demo" / "tables"),
    "DIALSET_POLICY": str(TOP / "deploy" / "demo" / "policy.json"),
    "DIALSET_UNITS": "us",
}
LONGEST_START = 120.0
"""Seconds that a start may take; a machine with nothing else to do needs a few."""
ask = build_opener(ProxyHandler({})).open
"""Opens an address as ``urlopen`` does, but asks no proxy for a service of this very machine."""

DIED = """\
The service did not start: it ended with exit code {code}. The last lines of its log:
{log}
What to do: mend what the last line names; if that is a module, remove .venv.
Then: sh deploy/demo/main-job.sh"""
TOO_SLOW = """\
The service has not answered within {seconds:.0f} s, and is stopped. The last lines of its log:
{log}
What to do: end what else keeps this machine busy.
Then: sh deploy/demo/main-job.sh"""


def end_of(log: IO[bytes]) -> str:
    """The last 20 lines of a log, or that it is empty."""
    log.seek(0)
    lines = log.read().decode(errors="replace").splitlines()[-20:] or ["(nothing)"]
    return "\n".join(f"    {line}" for line in lines)


def wait_until_ready(address: str, process: subprocess.Popen[bytes], log: IO[bytes]) -> None:
    """Wait until the service answers that it is ready: as long as its process lives, 120 s at most."""
    end = time.monotonic() + LONGEST_START
    while process.poll() is None:
        left = end - time.monotonic()
        if left <= 0:
            raise SystemExit(TOO_SLOW.format(seconds=LONGEST_START, log=end_of(log)))
        try:
            ask(f"{address}/readyz", timeout=left).close()
        except HTTPError as not_ready:
            raise SystemExit(f"The service is not ready: {not_ready.read().decode()}") from None
        except OSError:  # it ends, or the time is over
            time.sleep(0.1)
        else:
            return
    raise SystemExit(DIED.format(code=process.returncode, log=end_of(log)))


@contextmanager
def service() -> Iterator[str]:
    """A running service; yields its address."""
    print("starting the service ... (a few seconds; on a busy machine up to two minutes)", flush=True)
    command = [sys.executable, "-m", "gunicorn", "--config", "python:api.serving"]
    with TemporaryFile() as log:
        # The service is given a socket that listens: a question waits there until it is up, or breaks.
        with socket.create_server(("127.0.0.1", 0)) as listener:
            address = f"http://127.0.0.1:{listener.getsockname()[1]}"
            process = subprocess.Popen(
                [*command, "--bind", f"fd://{listener.fileno()}"],
                pass_fds=[listener.fileno()],
                cwd=TOP,
                env={**os.environ, **SETTINGS},
                stdout=log,
                stderr=log,
            )
        try:
            wait_until_ready(address, process, log)
            yield address
        finally:
            process.terminate()
            process.wait()
