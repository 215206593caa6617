"""A real LibreOffice without a window, in a language of our choice, with a profile of its own."""

import json
import os
import signal
import subprocess
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from programs import needed
from raw_http import HANGS

SCRIPT = Path(__file__).with_name("sheet_in_office.py")
PYTHON = "/usr/bin/python3"
"""The Python for which distributions package UNO."""
NEW = "private:factory/scalc"
ODS, XLSX = "calc8", "Calc MS Excel 2007 XML"
SETTINGS = {
    ("org.openoffice.Setup/L10N", "ooSetupSystemLocale"): "{locale}",
    ("org.openoffice.Setup/L10N", "ooLocale"): "{language}",
    ("org.openoffice.Office.Linguistic/General", "UILocale"): "{language}",
    # in this folder links are followed without asking; elsewhere nobody is there to be asked
    ("org.openoffice.Office.Common/Security/Scripting", "SecureURL"): "<it>{allowed}</it>",
    ("org.openoffice.Office.Calc/Content/Update", "Link"): "0",
}


Cells = dict[str, float | str | None]
"""What cells hold, by their names: a number as it is, not as it is shown; a text; None for an error."""


@dataclass(frozen=True)
class Office:
    """A running LibreOffice."""

    process: subprocess.Popen[bytes]
    pipe: str
    locale: str
    folder: Path

    @property
    def allowed(self) -> Path:
        """A folder whose documents may follow links."""
        return self.folder / "allowed"

    def sheet(
        self,
        area: str,
        *,
        opened: str | None = None,
        typed: Mapping[str, str] = {},
        filled_down: str = "",
        recalculated: bool = False,
        saved: Mapping[str, str] = {},
    ) -> Cells:
        """Work on a document, by default the one left open, and read an area of it."""
        job = {"opened": opened, "typed": typed, "filled_down": filled_down, "area": area}
        answer = self._run({**job, "recalculated": recalculated, "saved": saved, "end": False})
        return dict(json.loads(answer))

    def end(self) -> None:
        """Ask the office to end."""
        self._run({"end": True})

    def _run(self, job: Mapping[str, object]) -> str:
        assert self.process.poll() is None, "the office has ended"
        done = subprocess.run(
            [PYTHON, SCRIPT],
            input=json.dumps({**job, "pipe": self.pipe}),
            env=environment(self.folder),
            capture_output=True,
            text=True,
            timeout=HANGS,
            check=False,
        )
        assert done.returncode == 0, done.stderr
        return done.stdout


def profile(locale: str, allowed: Path) -> str:
    """The settings of a fresh profile."""
    language = locale if locale == "en-US" else locale.partition("-")[0]
    schema = 'xmlns:oor="http://openoffice.org/2001/registry"'
    items = "".join(
        f'<item oor:path="/{path}"><prop oor:name="{name}" oor:op="fuse"><value>'
        f"{value.format(locale=locale, language=language, allowed=allowed.as_uri())}"
        "</value></prop></item>"
        for (path, name), value in SETTINGS.items()
    )
    return f'<?xml version="1.0" encoding="UTF-8"?><oor:items {schema}>{items}</oor:items>'


def program(locale: str) -> str:
    """The path of the office, if it, UNO and the language are there."""
    path = needed("soffice")
    if (
        not Path(PYTHON).exists()
        or subprocess.run([PYTHON, "-c", "import uno"], capture_output=True, check=False).returncode
    ):
        needed("python3-uno")
    language = locale.partition("-")[0]
    if language != "en" and not (Path(path).resolve().parent / "resource" / language).exists():
        needed(f"libreoffice-l10n-{language}")
    return path


def environment(folder: Path) -> dict[str, str]:
    """Nothing of ours: a Python of its own first on the path, or a proxy, would disturb the office."""
    return {"PATH": "/usr/bin:/bin", "HOME": str(folder), "TMPDIR": str(folder), "LC_ALL": "C.UTF-8"}


@contextmanager
def running_office(locale: str, folder: Path) -> Iterator[Office]:
    """An office in a process group of its own; all it leaves behind is in the folder."""
    path = program(locale)
    pipe = f"cells-{locale}-{os.getpid()}"
    allowed, user = folder / "allowed", folder / "profile" / "user"
    allowed.mkdir()
    user.mkdir(parents=True)
    (user / "registrymodifications.xcu").write_text(profile(locale, allowed), "utf-8")
    place = f"-env:UserInstallation={user.parent.as_uri()}"
    process = subprocess.Popen(
        [path, place, "--headless", "--norestore", "--nologo", f"--accept=pipe,name={pipe};urp;"],
        env=environment(folder),
        start_new_session=True,
    )
    office = Office(process, pipe, locale, folder)
    try:
        office.sheet("A1", opened=NEW)  # one that does not start fails here, and once
        yield office
        office.end()
        process.wait(HANGS)
    finally:
        if process.poll() is None:
            os.killpg(process.pid, signal.SIGKILL)
            process.wait(10)
