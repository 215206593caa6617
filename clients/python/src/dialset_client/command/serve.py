"""``dialset serve``: the service on a port."""

import argparse
import errno
import os
import socket
import sys
from importlib.util import find_spec
from urllib.parse import urlsplit

from dialset_client._errors import NotReachable

HELP = "serve on a port of this machine"
DESCRIPTION = """\
Serves under gunicorn until Ctrl-C: questions as a page to try them at /docs, the
contract at /openapi.json, the state at /readyz. Needs Linux or macOS; on Windows, run
it in WSL or in a container.
"""
EPILOG = """\
Environment variables set everything else; deploy/README.md of the service lists them.
examples:
  dialset serve --machines deploy/demo/machines
  dialset serve --machines /srv/machines --policy /srv/policy.json --address 0.0.0.0:8000
"""
EVERY_ADDRESS = {"0.0.0.0": "127.0.0.1", "::": "::1"}
"""Hosts that stand for every address of this machine, and by which of them it is reached here."""


MOST_WORKERS = 64
"""Processes; each has some 40 MB, and more than there are cores gain nothing."""


def _workers(text: str) -> int:
    """A number of worker processes."""
    if not (text.isascii() and text.isdigit() and 1 <= int(text) <= MOST_WORKERS):
        raise argparse.ArgumentTypeError(f"{text!r} is no number of processes: 1 to {MOST_WORKERS}")
    return int(text)


def arguments(command: argparse.ArgumentParser) -> None:
    """The arguments of the command."""
    command.add_argument("--address", metavar="HOST:PORT", help="where to listen; 127.0.0.1:8000 if left out")
    command.add_argument(
        "--workers", type=_workers, metavar="COUNT", help="processes, 1 to 64; two if left out"
    )


def run(asked: argparse.Namespace) -> int:
    """Say where it serves, and become gunicorn.

    Raises:
        NotReachable: where the service cannot run, or its port is taken.
        ValueError: for a setting that the service cannot run with.
    """
    if find_spec("fcntl") is None:
        raise NotReachable(
            "the service runs on Linux and macOS, not on Windows: serve it in WSL or in a container there. "
            "dialset ask and dialset batch run everywhere and reach it with --service"
        )
    if find_spec("api") is None or find_spec("gunicorn") is None:
        raise NotReachable("the service is not installed here; only its client is")
    from api import serving  # noqa: PLC0415 - only where the service is installed
    from api.answers.policy_file import read_policy  # noqa: PLC0415
    from api.settings import from_environment  # noqa: PLC0415

    # a bad setting or policy is told here, and not by a worker that does not start
    read_policy(from_environment(os.environ).policy)
    address = asked.address or serving.bind
    if not address.startswith("unix:"):
        host, port = _host_and_port(address)
        _refuse_unless_free(host, port)
        print(_greeting(host, port))
    command = [sys.executable, "-m", "gunicorn", "--config", "python:api.serving", "--bind", address]
    if asked.workers is not None:
        command += ["--workers", str(asked.workers)]
    sys.stdout.flush()
    os.execv(sys.executable, command)


def _host_and_port(address: str) -> tuple[str, int]:
    """The parts of an address; a bare port is refused, since gunicorn would take it for a host."""
    try:
        parts = urlsplit(f"//{address}")
        if parts.hostname and parts.port and parts.netloc == address:
            return parts.hostname, parts.port
    except ValueError:  # a port that is no number, or a bracket that is not closed
        pass
    raise ValueError(f"the address is HOST:PORT, such as 127.0.0.1:8001, and not '{address}'")


def _refuse_unless_free(host: str, port: int) -> None:
    """Try to listen as gunicorn will, which tries five times and says less."""
    with socket.socket(socket.AF_INET6 if ":" in host else socket.AF_INET) as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((host, port))
        except OSError as error:
            if error.errno == errno.EADDRINUSE:
                other = max(1024, (port + 1) % 65536)
                raise NotReachable(
                    f"port {port} of {host} is taken by another program, perhaps by this service already. "
                    f"Stop that one, or serve on another port: --address {_netloc(host, other)}"
                ) from None
            raise NotReachable(
                f"cannot listen on port {port} of {host}: {error.strerror}. "
                "Name an address of this machine and a port from 1024 to 65535: --address 127.0.0.1:8001"
            ) from None


def _greeting(host: str, port: int) -> str:
    """Where it serves, how to stop it, where to begin."""
    if host in EVERY_ADDRESS:
        place, host = f"port {port} of every address of this machine", EVERY_ADDRESS[host]
    else:
        place = f"http://{_netloc(host, port)}"
    return (
        f"Dialset starts on {place}. To stop it, press Ctrl-C here.\n"
        f"Questions to try, in a browser: http://{_netloc(host, port)}/docs"
    )


def _netloc(host: str, port: int) -> str:
    return f"[{host}]:{port}" if ":" in host else f"{host}:{port}"
