"""Stored answers as somebody may have kept them, and the check of their receipts."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from flask.testing import FlaskClient

from api.app import create_app
from api.settings import Settings

DEMO = Path(__file__).parents[2] / "deploy" / "demo"
PATH = "/v1/receipt-check"
PRESSURE = "/v1/pressure"
COLLAR = {
    "connection": "NC50",
    "component": "drill_collar",
    "box_outside_diameter": "6 1/2 in",
    "pin_bore": "2-13/16 in",
}
TURN = {"operation": "make_up", "thread_hand": "right", "arm_position": "square"}
MAKE_UP = {"family": "rotary_shouldered", **COLLAR, **TURN, "machine": "north-bay-2", "as_of": "2026-11-24"}
IN_TABLE = {
    "table": "double-shoulder",
    "table_key": {
        "connection": "bay joint 40",
        "box_outside_diameter": "5.3 in",
        "pin_bore": "2 11/16 in",
    },
}
BETWEEN_ROWS = {"family": "tabulated", **IN_TABLE, **TURN, "machine": "north-bay-2", "as_of": "2026-11-24"}
STORED: Mapping[str, tuple[str, Mapping[str, Any]]] = {
    "make-up, full": (PRESSURE, {**MAKE_UP, "detail": "full"}),
    "make-up, short": (PRESSURE, MAKE_UP),
    "break-out, full": (
        PRESSURE,
        {**MAKE_UP, "operation": "break_out", "break_out_ratio": "1.0/1.2/1.5", "detail": "full"},
    ),
    "make-up, short, self-contained": (PRESSURE, {**MAKE_UP, "self_contained": True}),
    "row of a table, full, self-contained": (
        PRESSURE,
        {**BETWEEN_ROWS, "detail": "full", "self_contained": True},
    ),
    "torque, full, with its working, in metric units": (
        "/v1/torque/rotary-shouldered",
        {**COLLAR, "detail": "full", "steps": True, "units": "metric", "torque_unit": "N.m"},
    ),
    "members by name": ("/v1/grip", {
        "torque": "10000 ft-lb", "outside_diameter": "5 in", "friction": 0.3, "margin": 1.5,
        "machine": "north-bay-2", "answers": "inputs,status",
    }),
    "conversion, short": ("/v1/conversion", {"quantity": "20000 ft-lb", "to": "kN.m"}),
}  # fmt: skip
"""Eight answers as somebody may have stored them, each with its question."""
HOW = ("detail", "answers", "units", "torque_unit", "steps", "self_contained")


def service(folder: Path | None = None, **settings: Any) -> FlaskClient:
    """A service on a shop, or on none; it answers short unless it is asked for more."""
    if folder is not None:
        settings = {"machines": folder / "machines", "tables": folder / "tables", **settings}
    app = create_app(Settings(**settings))
    return FlaskClient(app, app.response_class)


def asked(client: FlaskClient, name: str) -> dict[str, Any]:
    path, question = STORED[name]
    response = client.post(path, json=question)
    assert response.status_code == 200, response.text
    answer: dict[str, Any] = response.get_json()
    return answer


def checked(client: FlaskClient, body: Any) -> dict[str, Any]:
    response = client.post(PATH, json=body)
    assert response.status_code == 200, response.text
    found: dict[str, Any] = response.get_json()
    return found


def with_inputs(name: str, answer: Mapping[str, Any]) -> Any:
    """An answer as it is sent to be checked: with its question beside where it does not hold it."""
    question = {field: value for field, value in STORED[name][1].items() if field not in HOW}
    return answer if "inputs" in answer else {"answer": answer, "inputs": question}
