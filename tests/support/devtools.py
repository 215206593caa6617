"""A page in a real browser that a test works like a person: over the pipe of its developer tools."""

import base64
import json
import os
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO, Any

from browser import FLAGS
from programs import needed

PIPED = 'exec "$@" 3<"$TO" 4>"$FROM"'
"""How the browser gets the two ends of its pipe, which it looks for under these numbers."""


class Page:
    """One page; every call waits for the answer of the browser."""

    def __init__(self, to: IO[bytes], from_: IO[bytes]) -> None:
        self.to, self.from_ = to, from_
        self.asked, self.session = 0, ""
        target = self.ask("Target.createTarget", url="about:blank")["targetId"]
        self.session = self.ask("Target.attachToTarget", targetId=target, flatten=True)["sessionId"]

    def ask(self, method: str, **params: Any) -> dict[str, Any]:
        """One call of the DevTools protocol; what the browser tells besides is passed over."""
        self.asked += 1
        session = {"sessionId": self.session} if self.session else {}
        call = {"id": self.asked, "method": method, "params": params, **session}
        self.to.write(json.dumps(call).encode() + b"\0")
        self.to.flush()
        while True:
            told = json.loads(self._message())
            if told.get("id") == self.asked:
                assert "error" not in told, told["error"]
                result: dict[str, Any] = told["result"]
                return result

    def _message(self) -> bytes:
        message = bytearray()
        while (byte := self.from_.read(1)) != b"\0":
            assert byte, "the browser ended"
            message += byte
        return bytes(message)

    def open(self, address: str, width: int, height: int, *, phone: bool = False) -> None:
        """Show an address in a window of this size."""
        size = {"width": width, "height": height, "deviceScaleFactor": 1, "mobile": phone}
        self.ask("Emulation.setDeviceMetricsOverride", **size)
        self.ask("Page.navigate", url=address)

    def run(self, script: str) -> Any:
        """The value of a script, awaited where it is a promise."""
        asked = {"expression": script, "awaitPromise": True, "returnByValue": True}
        done = self.ask("Runtime.evaluate", **asked)
        assert "exceptionDetails" not in done, done["exceptionDetails"]
        return done["result"].get("value")

    def picture(self, to: Path, *, whole: bool = False) -> None:
        """What the window shows, or the whole page, as PNG."""
        shot = self.ask("Page.captureScreenshot", format="png", captureBeyondViewport=whole)
        to.write_bytes(base64.b64decode(shot["data"]))


@contextmanager
def page_in_a_browser(folder: Path) -> Iterator[Page]:
    """A browser with one empty page.

    Args:
        folder: an empty one.
    """
    browser = needed("chromium-headless-shell", "chromium")
    ends = {name: str(folder / name) for name in ("TO", "FROM")}
    for end in ends.values():
        os.mkfifo(end)
    flags = [*FLAGS, f"--user-data-dir={folder / 'user'}", "--remote-debugging-pipe"]
    command = ["sh", "-c", PIPED, "sh", browser, *flags]
    process = subprocess.Popen(command, env={**os.environ, **ends}, stderr=subprocess.DEVNULL)
    try:
        with Path(ends["TO"]).open("wb") as to, Path(ends["FROM"]).open("rb") as from_:
            yield Page(to, from_)
    finally:
        process.terminate()
        process.wait()
