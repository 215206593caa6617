"""What a start does and what it leaves to the first question."""

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from gunicorn.config import Config

from api import serving
from api.http.routes import CALCULATIONS, LISTINGS

ROOT = Path(__file__).parents[2]
DEMO = ROOT / "deploy" / "demo"
SHOP = {"DIALSET_MACHINES": str(DEMO / "machines"), "DIALSET_TABLES": str(DEMO / "tables")}
STARTED = "import api.app; app = api.app.create_app()"


def printed_by(code: str) -> list[Any]:
    """What a fresh Python prints as JSON."""
    run = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, env={**os.environ, **SHOP}, capture_output=True, text=True,
        check=False,
    )  # fmt: skip
    assert run.returncode == 0, run.stderr
    return list(json.loads(run.stdout))


@pytest.fixture(scope="module")
def imported() -> list[str]:
    return printed_by(f"{STARTED}; import sys, json; print(json.dumps(list(sys.modules)))")


@pytest.mark.parametrize(
    "name",
    [
        "apispec",
        "api.registry.calculations",
        "api.registry.listings",
        "api.registry.chart",
        "api.registry.flanges",
        "api.http.batch",
        "api.http.listing",
        "api.http.chart",
        "api.http.charting",
        "api.http.openapi",
        "api.http.operation",
        "api.http.file_check",
        "api.http.single",
        "api.registry.joints",
        "api.registry.machines",
        "api.registry.positions",
        "api.registry.profile_check",
        "api.registry.table_check",
    ],
)
def test_a_start_imports_no_answer(name: str, imported: list[str]) -> None:
    parts = name.split(".")
    there = ROOT.joinpath(*parts)
    assert parts[0] != "api" or there.is_dir() or there.with_suffix(".py").is_file(), "moved: name it anew"
    assert name not in imported


def test_a_start_reads_every_published_table() -> None:
    """So that a row that is missing or wrong stops it, and not an answer hours later."""
    spy = """
import json, api.reference.table as table
read, names = table.read_table, []
table.read_table = lambda name: names.append(name) or read(name)
import api.app
api.app.create_app()
print(json.dumps(names))
"""
    files = {path.name for path in (ROOT / "api" / "reference").glob("*.csv")}
    assert files
    assert set(printed_by(spy)) == files


def test_every_name_of_the_server_settings_is_one_of_gunicorn() -> None:
    """A hook or a setting that gunicorn does not know is silently left out."""
    ours = {name for name in vars(serving) if not name.startswith("__")} - {"gc", "Any", "Path"}
    assert ours
    assert ours <= set(Config().settings)


def test_what_the_workers_share_is_frozen_before_they_are_forked() -> None:
    code = "import gc, json, api.serving as s; s.when_ready(None); print(json.dumps([gc.get_freeze_count()]))"
    assert printed_by(code)[0] > 0


def test_the_first_questions_may_come_all_at_once() -> None:
    """What is imported and built on first use is so under the threads of a worker too."""
    asking = f"""
{STARTED}
import json, threading
from api.http.routes import CALCULATIONS, LISTINGS
chart = "/v1/machines/north-bay-2/chart?thread_hand=right&arm_position=square"
paths = [*(f"/v1/{{name}}" for name in (*CALCULATIONS, *LISTINGS)), chart, "/openapi.json", "/readyz"]
together, seen = threading.Barrier(2 * len(paths)), []

def ask(path):
    together.wait()
    seen.append([path, app.test_client().get(path).status_code])

threads = [threading.Thread(target=ask, args=(path,)) for path in paths for _ in range(2)]
for thread in threads: thread.start()
for thread in threads: thread.join()
print(json.dumps(seen))
"""
    seen = printed_by(asking)
    assert len(seen) == 2 * (len(CALCULATIONS) + len(LISTINGS) + 3)
    unlike = [(path, status) for path, status in seen if status not in (200, 405, 422)]
    assert not unlike, "a question without its fields is refused; nothing else may happen"
