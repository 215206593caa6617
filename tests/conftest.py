"""The application on the demo shop and a client of it, and how much is run: what is quick, or all."""

import os
import re
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from hypothesis import settings

from api.app import create_app
from api.settings import Settings

ROOT = Path(__file__).parents[1]
DEMO_MACHINES = ROOT / "deploy" / "demo" / "machines"
DEMO_TABLES = ROOT / "deploy" / "demo" / "tables"

# A quick run has the same examples each time, so that what fails is what was changed. At length they are new
# ones each time, but in CI, where a change is judged.
settings.register_profile("default", max_examples=20, derandomize=True, database=None, deadline=None)
settings.register_profile("evidence", max_examples=100, derandomize="CI" in os.environ, deadline=None)

WHOLE_FILE = re.compile(r"^pytestmark = pytest\.mark\.evidence$", re.MULTILINE)
LEFT_OUT = pytest.StashKey[dict[str, int]]()


def pytest_addoption(parser: pytest.Parser) -> None:
    """Add what ``tests/run.sh --all`` hands on."""
    parser.addoption("--all", action="store_true", help="run what is marked as evidence too")


def pytest_configure(config: pytest.Config) -> None:
    """Choose how many examples hypothesis makes."""
    config.stash[LEFT_OUT] = {"tests": 0, "files": 0}
    settings.load_profile("evidence" if config.option.all else "default")


def pytest_ignore_collect(collection_path: Path, config: pytest.Config) -> bool | None:
    """Leave out a file that is evidence as a whole before it imports what only it needs."""
    if config.option.all or collection_path.suffix != ".py":
        return None
    if not WHOLE_FILE.search(collection_path.read_text("utf-8")):
        return None
    config.stash[LEFT_OUT]["files"] += 1
    return True


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Leave out what is evidence at length."""
    if config.option.all:
        return
    evidence = [item for item in items if item.get_closest_marker("evidence")]
    config.stash[LEFT_OUT]["tests"] = len(evidence)
    config.hook.pytest_deselected(items=evidence)
    items[:] = [item for item in items if not item.get_closest_marker("evidence")]


def pytest_terminal_summary(terminalreporter: Any, config: pytest.Config) -> None:
    """Say what was left out, and how it is run."""
    left_out = config.stash[LEFT_OUT]
    if any(left_out.values()):
        terminalreporter.write_line(
            f"Not run: {left_out['tests']} tests and {left_out['files']} files of evidence at length; "
            "sh tests/run.sh --all runs them"
        )


@pytest.fixture(scope="session")
def app() -> Flask:
    """The service as the demo shop runs it; TESTING stays off, so that failures are answered, not raised."""
    return create_app(Settings(machines=DEMO_MACHINES, tables=DEMO_TABLES))


@pytest.fixture(scope="session")
def client(app: Flask) -> FlaskClient:
    """A client without a socket."""
    return app.test_client()
