"""``dialset serve``: the service on a port."""

import argparse
import os
import sys
from importlib.util import find_spec

from dialset_client._errors import NotReachable

HELP = "serve on a port of this machine"
DESCRIPTION = """\
Serves under gunicorn until it is stopped: questions as a page to try them at /docs,
the contract at /openapi.json, the state at /readyz.
"""
EPILOG = """\
Everything else is set by environment variables; the README of the service lists them.
examples:
  dialset serve --machines deploy/demo/machines
  DIALSET_UNFIT_PROFILES=refuse dialset serve --machines /srv/machines --address 0.0.0.0:8000
"""


def arguments(command: argparse.ArgumentParser) -> None:
    """The arguments of the command."""
    command.add_argument("--address", metavar="HOST:PORT", help="where to listen; 127.0.0.1:8000 if left out")
    command.add_argument("--workers", type=int, metavar="COUNT", help="processes; two if left out")


def run(asked: argparse.Namespace) -> int:
    """Become gunicorn.

    Raises:
        NotReachable: where the service is not installed.
        ValueError: for a setting that the service cannot run with.
    """
    if find_spec("api") is None or find_spec("gunicorn") is None:
        raise NotReachable("the service is not installed here; only its client is")
    from api.settings import from_environment  # noqa: PLC0415 - only where the service is installed

    from_environment(os.environ)  # a bad setting is told here, and not by a worker that does not start
    command = [sys.executable, "-m", "gunicorn", "--config", "python:api.serving"]
    if asked.address:
        command += ["--bind", asked.address]
    if asked.workers:
        command += ["--workers", str(asked.workers)]
    sys.stdout.flush()
    os.execv(sys.executable, command)
