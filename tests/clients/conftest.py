"""Clients get what any caller gets: short answers, unless they ask for more."""

import pytest
from flask import Flask
from flask.testing import FlaskClient


@pytest.fixture(autouse=True)
def _plain(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(Flask, "test_client_class", FlaskClient)
