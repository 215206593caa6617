"""Readiness: a known answer that no longer comes out right takes the service out of use."""

import pytest
from flask.testing import FlaskClient

from api import readiness


def test_ready(client: FlaskClient) -> None:
    answer = client.get("/readyz")
    body = answer.get_json()
    assert (answer.status_code, body["status"]) == (200, "ready")
    assert body["compared"] > 300
    assert body["worst_difference"] < 5e-4
    assert body["refused_profiles"] == []


def test_not_ready_when_a_formula_is_wrong(client: FlaskClient, monkeypatch: pytest.MonkeyPatch) -> None:
    right = readiness.make_up

    def wrong(*args, **options):  # type: ignore[no-untyped-def]
        return right(*args, **{**options, "compound_friction_factor": 1.01})

    monkeypatch.setattr(readiness, "make_up", wrong)
    answer = client.get("/readyz")
    assert (answer.status_code, answer.get_json()["code"]) == (503, "not_ready")
    assert len(answer.get_json()["missed"]) > 300
