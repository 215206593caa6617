"""The application on the demo shop and a client of it, and how much is run: what is quick, or all."""

import os
import re
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from flask import Flask
from flask.testing import FlaskClient
from full_answers import FullAnswers
from hypothesis import HealthCheck, settings

from api.app import create_app
from api.settings import Settings

ROOT = Path(__file__).parents[1]
DEMO_MACHINES = ROOT / "deploy" / "demo" / "machines"
DEMO_TABLES = ROOT / "deploy" / "demo" / "tables"

# A slow machine fails nothing. A quick run has the same examples each time, so that what fails is what was
# changed. At length they are new ones each time, but in CI, where a change is judged.
patient = settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.register_profile("default", patient, max_examples=20, derandomize=True)
settings.register_profile("evidence", patient, max_examples=100, derandomize="CI" in os.environ)

Flask.test_client_class = FullAnswers

WHOLE_FILE = re.compile(r"^pytestmark = pytest\.mark\.evidence$", re.MULTILINE)


class LeftOut(NamedTuple):
    """How much evidence a run leaves out: whole files, which are not even imported, and tests of others."""

    files: int = 0
    tests: int = 0


LEFT_OUT = pytest.StashKey[LeftOut]()


def pytest_addoption(parser: pytest.Parser) -> None:
    """Add what ``tests/run.sh`` hands on."""
    parser.addoption("--all", action="store_true", help="run what is marked as evidence too")


def pytest_configure(config: pytest.Config) -> None:
    """Choose how many examples hypothesis makes."""
    config.stash[LEFT_OUT] = LeftOut()
    settings.load_profile("evidence" if config.option.all else "default")


def pytest_ignore_collect(collection_path: Path, config: pytest.Config) -> bool | None:
    """Leave out a file that is evidence as a whole, with all that only it imports."""
    if config.option.all or collection_path.suffix != ".py":
        return None
    if not WHOLE_FILE.search(collection_path.read_text("utf-8")):
        return None
    named = (config.invocation_params.dir / name.partition("::")[0] for name in config.args)
    if any(collection_path.is_relative_to(name) for name in named):
        files, tests = config.stash[LEFT_OUT]
        config.stash[LEFT_OUT] = LeftOut(files + 1, tests)
    return True


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Leave out the other tests that are evidence."""
    if config.option.all:
        return
    evidence = [item for item in items if item.get_closest_marker("evidence")]
    items[:] = [item for item in items if not item.get_closest_marker("evidence")]
    config.hook.pytest_deselected(items=evidence)
    config.stash[LEFT_OUT] = config.stash[LEFT_OUT]._replace(tests=len(evidence))
    # what asks a service in a process of its own comes first, while this process is small: a run has 400 MB
    items.sort(key=lambda item: "address" not in getattr(item, "fixturenames", ()))


def pytest_sessionfinish(session: Any) -> None:
    """Tell the process that hands out the tests, where there are several, what this one left out."""
    if hasattr(session.config, "workeroutput"):
        session.config.workeroutput["left out"] = tuple(session.config.stash[LEFT_OUT])


@pytest.hookimpl(optionalhook=True)
def pytest_testnodedown(node: Any) -> None:
    """Take what a process left out, which is the same in all of them."""
    node.config.stash[LEFT_OUT] = LeftOut(*getattr(node, "workeroutput", {}).get("left out", ()))


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter, config: pytest.Config) -> None:
    """Say what was left out, and how it is run."""
    files, tests = config.stash[LEFT_OUT]
    if files or tests:
        left_out = f"Left out: {files} files and {tests} tests of evidence at length"
        terminalreporter.write_line(f"{left_out}; sh tests/run.sh --all runs them")


@pytest.fixture(scope="session")
def app() -> Flask:
    """The service as the demo shop runs it; TESTING stays off, so that failures are answered, not raised."""
    return create_app(Settings(machines=DEMO_MACHINES, tables=DEMO_TABLES))


@pytest.fixture(scope="session")
def client(app: Flask) -> FlaskClient:
    """A client without a socket, which gets whole answers."""
    return FullAnswers(app, app.response_class)


@pytest.fixture(scope="session")
def plain(app: Flask) -> FlaskClient:
    """A client that says nothing of how much it wants, and gets short answers as anyone does."""
    return FlaskClient(app, app.response_class)
