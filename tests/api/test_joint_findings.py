"""What is found of a joint on its own question is found of it on every machine that is asked for it."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest
from findings import ROOT, findings_written
from flask.testing import FlaskClient
from machine_kinds import SHOP
from machines import JOB, profile

from api.app import create_app
from api.registry.families import FAMILY
from api.settings import Settings

DEMO = ROOT / "deploy" / "demo"
PATHS = {
    "rotary_shouldered": "torque/rotary-shouldered",
    "round_thread": "torque/round-thread",
    "bolt": "torque/bolt",
    "tabulated": "torque/tabulated",
}
"""The question of each family; a stated joint has none of its own."""
OF_JOINTS = (
    "api/answers/rotary/torque.py",
    "api/answers/tubular/round_thread.py",
    "api/answers/bolts/method.py",
    "api/answers/bolts/state.py",
    "api/answers/bolts/strength.py",
    "api/answers/shop_tables/",
)
"""Where findings of a joint are written that every question about it shares."""

NC50 = {"connection": "NC50", "component": "drill_collar", "box_outside_diameter": "6.5 in"}
TOOL_JOINT = {
    **{"connection": "NC50", "component": "tool_joint", "box_outside_diameter": "6 5/8 in"},
    "pin_bore": "3 1/4 in",
}
CASING = {"size": "5-1/2", "weight": "17 lb/ft", "pipe_grade": "J55", "thread_type": "STC"}
DIMENSIONS = {
    **{"pipe_outside_diameter": "5.5 in", "pipe_inside_diameter": "4.892 in", "engaged_length": "2.171 in"},
    **{"threads_per_inch": 8, "pipe_yield_strength": "55000 psi", "pipe_tensile_strength": "75000 psi"},
}
BOLT = {"thread": "M20", "bolt_grade": "8.8", "method": "nut_factor", "nut_factor": 0.2, "preload": "100 kN"}
EXACT = {
    **{"thread": "M20", "bolt_grade": "8.8", "method": "exact_helix", "thread_friction": 0.12},
    **{"bearing_friction": 0.12, "bearing_outside_diameter": "28 mm", "bearing_hole_diameter": "22 mm"},
}
FLANGE = {"bolt_grade": "B7", "method": "heavy_hex_nut", "thread_friction": 0.13, "thread": "1-1/2-8 UN"}
OWN_TABLE = (
    '"od [mm, linear]",minimum [N.m],target [N.m],source,revision,note\n'
    "100,9000,10000,invented,1,\n200,,20000,invented,1,dope both shoulders\n"
)
JOINTS: list[tuple[str, dict[str, Any]]] = [
    ("rotary_shouldered", {**NC50, "pin_bore": "2-13/16 in"}),
    ("rotary_shouldered", {**NC50, "pin_bore": "4.3 in"}),
    ("rotary_shouldered", {**NC50, "pin_bore": "2-13/16 in", "box_outside_diameter": "7 1/2 in"}),
    ("rotary_shouldered", {**TOOL_JOINT, "box_outside_diameter": "5 3/8 in"}),
    ("rotary_shouldered", {**TOOL_JOINT, "edition": "1998"}),
    ("rotary_shouldered", {**NC50, "pin_bore": "2-13/16 in", "component": "kelly"}),
    ("round_thread", {**CASING, "pipe_grade": "C75"}),
    ("round_thread", {**CASING, "size": "20", "weight": "94 lb/ft"}),
    ("round_thread", DIMENSIONS),
    ("bolt", {**BOLT, "nut_factor": 0.08}),
    ("bolt", {**BOLT, "preload": "147 kN"}),
    ("bolt", {**EXACT, "preload": "136 kN"}),
    ("bolt", {**FLANGE, "yield_share": 0.51}),
    ("bolt", {**FLANGE, "yield_share": 0.5, "thread_friction": 0.1}),
    ("bolt", {**FLANGE, "yield_share": 0.5, "thread": "2-5/8-8 UN", "bolt_grade": "BD"}),
    ("tabulated", {"table": "own", "table_key": {"od": "125 mm"}}),
    ("tabulated", {"table": "own", "table_key": {"od": "200 mm"}}),
    (
        "tabulated",
        {
            "table": "customer-collars",
            "as_of": "2026-11-24",
            "table_key": {
                "connection": "NC46",
                "component": "drill collar",
                "box_outside_diameter": "6 1/4 in",
                "pin_bore": "2-13/16 in",
            },
        },
    ),
]
FINE = profile(
    id="fine",
    breakaway_pressure="0 psi",
    lowest_setting="1 psi",
    relief={"lowest": "5 psi", "highest": "2500 psi", "override": "1 psi"},
    outside_diameter={"minimum": "1 in", "maximum": "30 in"},
    gauges__make_up={
        **{"serial": "F-1", "span": "1000 psi", "division": "1 psi", "accuracy_percent_of_span": 0.1},
        "connected_at": "work_port",
    },
)
"""The example machine with a finer gauge, which can make the smallest of these joints."""
MACHINES: Mapping[str, Any] = {**{name: name for name in SHOP}, "example": profile(), "fine": FINE}


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> FlaskClient:
    """The invented shop, with one table more."""
    folder: Path = tmp_path_factory.mktemp("tables")
    for path in (DEMO / "tables").glob("*.csv"):
        (folder / path.name).write_bytes(path.read_bytes())
    (folder / "own.csv").write_text(OWN_TABLE, "utf-8")
    return create_app(Settings(machines=DEMO / "machines", tables=folder)).test_client()


def found(client: FlaskClient, family: str, joint: Mapping[str, Any]) -> list[dict[str, Any]]:
    """The findings of a joint on its own question."""
    answer = client.post(f"/v1/{PATHS[family]}", json=joint)
    assert answer.status_code == 200, answer.get_json()
    return list(answer.get_json()["findings"])


def test_every_family_but_the_stated_one_has_a_question_of_its_own() -> None:
    assert set(FAMILY) - set(PATHS) == {"stated"}


def test_the_joints_provoke_every_finding_of_a_joint(shop: FlaskClient) -> None:
    written = [each.codes for each in findings_written() if each.place.startswith(OF_JOINTS)]
    provoked = {each["code"] for family, joint in JOINTS for each in found(shop, family, joint)}
    assert provoked == frozenset().union(*written)


@pytest.mark.parametrize(
    ("family", "joint"), JOINTS, ids=[f"{family} {number}" for number, (family, _) in enumerate(JOINTS)]
)
def test_they_are_found_on_every_machine(shop: FlaskClient, family: str, joint: dict[str, Any]) -> None:
    own = found(shop, family, joint)
    assert own
    job = {**JOB, **joint, "family": family, "gripped_outside_diameter": "6 in"}
    answers = [
        shop.post("/v1/pressure", json={**job, "machine": machine}).get_json()
        for machine in MACHINES.values()
    ]
    able = [answer for answer in answers if "gauge_setting" in answer]
    assert able, [error["detail"] for answer in answers for error in answer["errors"]]
    for answer in [*able, shop.post("/v1/machine-choice", json=job).get_json()]:
        assert [each for each in own if each not in answer["findings"]] == []
