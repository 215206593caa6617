"""``deploy/nginx.conf`` in a real nginx; only addresses, paths and a time limit are others than there."""

import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import asdict, dataclass
from pathlib import Path

from programs import needed
from raw_http import HANGS, ROOT, Server, free_port, running

CONFIGURATION = (ROOT / "deploy" / "nginx.conf").read_text("utf-8")
FIRST = next(line for line in CONFIGURATION.splitlines() if "server 127.0.0.1:8000" in line)
PATIENCE = "120s"
TEMPORARY = ("client_body", "proxy", "fastcgi", "uwsgi", "scgi")


@dataclass(frozen=True)
class Proxy(Server):
    """A running nginx with its log."""

    log: Path

    def assert_logged(self, identity: str) -> None:
        """A request of this id is in the log; nginx writes its line a moment after the answer."""
        deadline = time.monotonic() + HANGS
        while not any(line.endswith(f" {identity}") for line in self.log.read_text("utf-8").splitlines()):
            assert time.monotonic() < deadline, f"{identity} is not in the log"
            time.sleep(0.01)


def configured(folder: str, port: int, services: tuple[int, ...], patience: str) -> str:
    """The file as it is, but for a test."""
    changes = {
        "listen 80;": f"listen 127.0.0.1:{port};",
        FIRST: "\n".join(FIRST.replace("8000", str(service)) for service in services),
        "/var/log/nginx/": f"{folder}/",
        "http {": "http {" + "".join(f" {kind}_temp_path {folder}/{kind};" for kind in TEMPORARY),
        f"proxy_read_timeout {PATIENCE};": f"proxy_read_timeout {patience};",
    }
    text = CONFIGURATION
    for old, new in changes.items():
        assert old in text, old
        text = text.replace(old, new)
    return text


@contextmanager
def proxying(*services: int, patience: str = PATIENCE) -> Iterator[Proxy]:
    """nginx before services at these ports, for which it waits that long."""
    port, program = free_port(), needed("nginx")
    with tempfile.TemporaryDirectory() as folder:
        Path(folder).chmod(0o711)  # nginx works as another user
        file = Path(folder, "nginx.conf")
        file.write_text(configured(folder, port, services, patience), "utf-8")
        command = [program, "-c", str(file), "-g", f"daemon off; pid {folder}/pid;"]
        with running(command, port, {}) as server:
            yield Proxy(**asdict(server), log=Path(folder, "dialset.log"))
