"""The application on the demo shop, and a client of it."""

from pathlib import Path

import pytest
from flask import Flask
from flask.testing import FlaskClient

from api.app import create_app
from api.settings import Settings

ROOT = Path(__file__).parents[1]
DEMO_MACHINES = ROOT / "deploy" / "demo" / "machines"
DEMO_TABLES = ROOT / "deploy" / "demo" / "tables"


@pytest.fixture(scope="session")
def app() -> Flask:
    """The service as the demo shop runs it; TESTING stays off, so that failures are answered, not raised."""
    return create_app(Settings(machines=DEMO_MACHINES, tables=DEMO_TABLES))


@pytest.fixture(scope="session")
def client(app: Flask) -> FlaskClient:
    """A client without a socket."""
    return app.test_client()
