"""Profile files: a bad one is named with its reason, and the service stays up."""

import json
import os
from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient
from machines import JOB, STATED, V_SEAT, profile

from api.answers.machines.profile import read_folder
from api.answers.shop_file import LARGEST_FILE
from api.app import create_app
from api.registry.examples import EXAMPLE_TENSIONER
from api.settings import Settings


def write(folder: Path, name: str, content: Any) -> None:
    text = content if isinstance(content, bytes) else json.dumps(content).encode()
    (folder / name).write_bytes(text)


TOO_HIGH = {"cracking": "2800 psi", "full_flow": "2750 psi"}
"""A fixed valve that cracks above its full flow."""
GRIP_CYLINDER = {
    "bore": "8 in", "rod": "3 in", "squeezing_side": "cap", "stroke": "18 in", "open_diameter": "10 in",
    "travel_per_diameter": 2.4, "efficiency": 0.85, "rated_pressure": "3000 psi",
}  # fmt: skip

HOSTILE = {
    "empty": (b"", "Expecting value"),
    "not json": (b"id: north", "Expecting value"),
    "not utf-8": ('{"id": "ä"}'.encode("latin-1"), "not UTF-8"),
    "utf-16": ("{}".encode("utf-16"), "not UTF-8"),
    "nested deep": (b"[" * 10_000 + b"]" * 10_000, "nested too deep"),
    "a list": (b"[]", "not_an_object"),
    "null": (b"null", "not_an_object"),
    "NaN": (b'{"torque_rating": NaN}', "NaN is not a JSON number"),
    "a member twice": (b'{"id": "a", "id": "b"}', "occurs twice"),
    "too large": (b" " * (LARGEST_FILE + 1), "larger than"),
    "id with a path": (profile(id="../north"), "id: not_text"),
    "id with a slash": (profile(id="north/1"), "id: not_text"),
    "id hidden": (profile(id=".north"), "id: not_text"),
    "id with a newline": (profile(id="north\n1"), "id: not_text"),
    "id in capitals": (profile(id="North"), "id: not_text"),
    "unknown kind": (profile(kind="motor"), "kind: not_a_choice"),
    "unknown member": (profile(colour="red"), "colour: unknown_field"),
    "bare number": (profile(arm_radius=36), "arm_radius: bare_number"),
    "rod thicker than bore": (profile(cylinder__rod="5 in"), "cylinder/rod: contradiction"),
    "open shorter than closed": (
        profile(cylinder__open_length="40 in"),
        "cylinder/open_length: contradiction",
    ),
    "efficiency above 1": (profile(efficiency__high=1.01), "efficiency/high: out_of_range"),
    "more rod showing than cylinder": (
        profile(cylinder__rod_showing_when_closed="50 in"),  # of 40 in pin to pin
        "cylinder/rod_showing_when_closed: contradiction",
    ),
    "efficiency out of order": (profile(efficiency__low=0.96), "efficiency/nominal: contradiction"),
    "relief out of order": (profile(relief=TOO_HIGH), "relief/full_flow: contradiction"),
    "relief range out of order": (profile(relief__lowest="2600 psi"), "relief/highest: contradiction"),
    "relief fixed and adjustable": (profile(relief__cracking="2500 psi"), "relief/lowest: contradiction"),
    "relief without override": (profile(relief__override=None), "relief/override: missing_field"),
    "relief of neither form": (profile(relief={}), "relief/cracking: missing_field"),
    "relief below nothing": (profile(relief__override="-1 psi"), "relief/override: out_of_range"),
    "grip without supply": (profile(grip_cylinder=GRIP_CYLINDER), "grip_supply: missing_field"),
    "supply without grip": (profile(grip_supply="common"), "grip_supply: contradiction"),
    "unknown supply": (
        profile(grip_cylinder=GRIP_CYLINDER, grip_supply="shared"),
        "grip_supply: not_a_choice",
    ),
    "system gauge as another": (
        profile(gauges__system={**profile()["gauges"]["make_up"], "division": "50 psi"}),
        "gauges/system: contradiction",
    ),
    "pins beyond dead centre": (
        profile(cylinder__open_length="96.1 in"),
        "cylinder/open_length: contradiction",
    ),
    "pins closer than they can be": (
        profile(cylinder__closed_length="23.9 in"),
        "cylinder/closed_length: contradiction",
    ),
    "dial in two units": (
        profile(gauges__make_up__division="2 bar"),
        "gauges/make_up/division: contradiction",
    ),
    "span no whole divisions": (profile(gauges__make_up__division="70 psi"), "division: contradiction"),
    "one gauge missing": (profile(gauges__break_out=None), "gauges/break_out: missing_field"),
    "table of one row": (profile(arm_radius=V_SEAT["arm_radius"][:1]), "arm_radius: not_a_table"),
    "table falling": (profile(arm_radius=V_SEAT["arm_radius"][::-1]), "arm_radius: not_a_table"),
    "table with a hole": (
        profile(arm_radius=[{"outside_diameter": "4 in"}] * 2),
        "arm_radius/0/distance: missing_field",
    ),
    "date that is none": (profile(effective_from="2026-02-30"), "effective_from: not_a_date"),
    "ends before it begins": (
        profile(effective_from="2026-02-01", effective_to="2026-01-31"),
        "effective_to: contradiction",
    ),
}


@pytest.mark.parametrize(("content", "reason"), HOSTILE.values(), ids=HOSTILE)
def test_bad_file_is_named_with_its_reason_and_the_good_one_served(
    tmp_path: Path, content: Any, reason: str, caplog: pytest.LogCaptureFixture
) -> None:
    write(tmp_path, "a-bad.json", content)
    write(tmp_path, "b-good.json", profile())
    client = create_app(Settings(machines=tmp_path)).test_client()
    ready = client.get("/readyz")
    assert ready.status_code == 200
    (refused,) = ready.get_json()["refused_profiles"]
    assert refused["file"] == "a-bad.json"
    assert reason in refused["reason"]
    assert "a-bad.json" in caplog.text
    assert ready.get_json()["machines"] == 1
    asked = {**STATED, **JOB, "machine": "example-bay-1"}
    assert client.post("/v1/pressure", json=asked).status_code == 200


def test_a_file_of_a_hundred_megabytes_is_not_read(tmp_path: Path) -> None:
    with (tmp_path / "huge.json").open("wb") as file:
        file.truncate(100 * 1024 * 1024)
    assert "larger than" in read_folder(tmp_path).faults["huge.json"]


def test_links_and_folders_are_not_followed(tmp_path: Path) -> None:
    outside = tmp_path / "outside"
    outside.mkdir()
    write(outside, "secret.json", profile())
    folder = tmp_path / "machines"
    folder.mkdir()
    (folder / "link.json").symlink_to(outside / "secret.json")
    (folder / "folder.json").mkdir()
    os.mkfifo(folder / "pipe.json")
    found = read_folder(folder)
    assert not found.profiles
    assert set(found.faults) == {"link.json", "folder.json", "pipe.json"}


@pytest.mark.parametrize("copies", [2, 3])
def test_of_files_with_one_id_none_is_served(tmp_path: Path, copies: int) -> None:
    for number in range(copies):
        write(tmp_path, f"{number}.json", profile(revision=str(number)))
    write(tmp_path, "other.json", profile(id="other"))
    found = read_folder(tmp_path)
    assert set(found.profiles) == {"other"}
    assert len(found.faults) == copies
    assert all("neither is served" in reason for reason in found.faults.values())


def test_the_hash_names_the_content_and_not_its_layout(tmp_path: Path) -> None:
    write(tmp_path, "a.json", profile())
    compact = read_folder(tmp_path).profiles["example-bay-1"].version.hash
    write(tmp_path, "a.json", json.dumps(profile(), indent=4).encode())
    assert read_folder(tmp_path).profiles["example-bay-1"].version.hash == compact
    write(tmp_path, "a.json", profile(lowest_setting="151 psi"))
    assert read_folder(tmp_path).profiles["example-bay-1"].version.hash != compact


@pytest.mark.parametrize(
    "machine_id", ["../north-bay-2", "north-bay-2.json", "/etc/passwd", "NORTH-BAY-2", "x" * 61, ""]
)
def test_hostile_id_in_a_request(client: FlaskClient, machine_id: str) -> None:
    answer = client.post("/v1/pressure", json={**STATED, **JOB, "machine": machine_id})
    assert answer.status_code == 422
    assert answer.get_json()["code"] in ("unknown_machine", "not_text")


CHECK = "/v1/profile-check"


def test_profile_check_of_a_good_profile(client: FlaskClient) -> None:
    """Areas by hand: pi/4 25 = 19.634954 in2, pi/4 18.75 = 14.726216 in2, ratio 4/3."""
    checked = client.post(CHECK, json=profile()).get_json()
    assert checked["valid"] is True
    assert checked["faults"] == []
    assert checked["cap_area"]["value"] == pytest.approx(19.634954, abs=1e-6)
    assert checked["rod_side_area"]["value"] == pytest.approx(14.726216, abs=1e-6)
    assert checked["area_ratio"] == pytest.approx(4 / 3, rel=1e-9)
    asked = {**STATED, **JOB, "machine": profile()}
    assert checked["hash"] == client.post("/v1/pressure", json=asked).get_json()["version"]["profile_hash"]


def test_profile_check_tells_all_faults_with_their_place(client: FlaskClient) -> None:
    bad = profile(cylinder__bore=5, efficiency__low=2, gauges__make_up__span="x", torque_rating=None, x=1)
    checked = client.post(CHECK, json=bad).get_json()
    assert checked["valid"] is False
    assert {fault["pointer"]: fault["code"] for fault in checked["faults"]} == {
        "/cylinder/bore": "bare_number",
        "/efficiency/low": "out_of_range",
        "/gauges/make_up/span": "not_a_number",
        "/torque_rating": "missing_field",
        "/x": "unknown_field",
    }


def test_profile_check_tells_contradictions_beside_other_faults(client: FlaskClient) -> None:
    bad = profile(
        site="",
        cylinder__rod="6 in",
        cylinder__open_length="39 in",
        effective_from="2026-02-01",
        effective_to="2026-01-01",
        relief=TOO_HIGH,
    )
    checked = client.post(CHECK, json=bad).get_json()
    assert {fault["pointer"] for fault in checked["faults"]} == {
        "/site",
        "/cylinder/rod",
        "/cylinder/open_length",
        "/effective_to",
        "/relief/full_flow",
    }


def test_profile_check_warns_of_what_would_be_refused(client: FlaskClient) -> None:
    fixed = {"cracking": "2500 psi", "full_flow": "3100 psi"}
    checked = client.post(CHECK, json=profile(status="draft", calibration=None, relief=fixed)).get_json()
    assert checked["valid"] is True
    stops = [each["code"] for each in checked["findings"] if each["level"] == "stop"]
    assert stops == ["profile_is_draft", "calibration_missing", *["relief_overloads_machine"] * 2]


@pytest.mark.parametrize(
    ("relief", "make_up", "break_out"),
    [
        # 60,000 ft-lb at 57.7268 and 43.2951 ft-lb/psi beyond 30 psi: 1,069.4 and 1,415.8 psi
        # an override of 100 psi: up to 969.4 psi on the cap side, 1,315.8 psi on the rod side; never rounded up
        (("lowest 300", "highest 2500", "override 100"), "at most 969.3 psi", "at most 1315 psi"),
        (("lowest 300", "highest 1300", "override 100"), "at most 969.3 psi", None),
        (("lowest 300", "highest 960", "override 100"), None, None),
        (("lowest 1000", "highest 2500", "override 100"), "refuses every make-up", "at most 1315 psi"),
        (("cracking 900", "full_flow 1069"), None, None),
        (("cracking 900", "full_flow 1070"), "refuses every make-up", None),
        (("cracking 1400", "full_flow 1417"), "refuses every make-up", "refuses every break-out"),
    ],
)
def test_profile_check_compares_relief_with_the_torque_rating(
    client: FlaskClient, relief: tuple[str, ...], make_up: str | None, break_out: str | None
) -> None:
    valve = {name: f"{psi} psi" for name, psi in (each.split() for each in relief)}
    checked = client.post(CHECK, json=profile(relief=valve)).get_json()
    told = [each["text"] for each in checked["findings"] if each["step"] == "relief"]
    expected = [each for each in (make_up, break_out) if each]
    assert len(told) == len(expected)
    assert all(word in text for word, text in zip(expected, told, strict=True))
    assert all("torque rating" in text for text in told)


def test_relief_of_a_tensioner_is_fixed(client: FlaskClient) -> None:
    adjustable = {"lowest": "1000 psi", "highest": "19500 psi", "override": "500 psi"}
    checked = client.post(CHECK, json={**EXAMPLE_TENSIONER, "relief": adjustable}).get_json()
    assert {fault["pointer"] for fault in checked["faults"]} == {
        f"/relief/{name}" for name in ("lowest", "highest", "override", "cracking", "full_flow")
    }


def test_profile_check_misses_the_approver(client: FlaskClient) -> None:
    checked = client.post(CHECK, json=profile(approved_by=None)).get_json()
    assert [each["code"] for each in checked["findings"] if each["level"] == "stop"] == ["profile_is_draft"]


@pytest.mark.parametrize(
    ("changed", "word"),
    [
        ({"lowest_setting": "2500 psi"}, "lowest setting"),
        ({"breakaway_pressure": "2600 psi"}, "breakaway"),
        ({"return_pressure": "2600 psi"}, "return pressure"),
        ({"arm_radius": [{"outside_diameter": "4 in", "distance": "35 in"}, {"outside_diameter": "5 in", "distance": "36 in"}]}, "diameter not in table"),
        ({"arm_radius": [{"outside_diameter": "3 in", "distance": "36 in"}, {"outside_diameter": "10 in", "distance": "900 in"}]}, "dead centre"),
        ({"cylinder__open_length": "95.95 in"}, "dead centre"),
    ],
)  # fmt: skip
def test_profile_check_warns_of_a_machine_that_cannot_work(
    client: FlaskClient, changed: dict[str, Any], word: str
) -> None:
    checked = client.post(CHECK, json=profile(**changed)).get_json()
    assert checked["valid"] is True
    assert any(word in each["text"] for each in checked["findings"])


def test_profile_check_in_the_units_asked(client: FlaskClient) -> None:
    checked = client.post(CHECK, json=profile(), query_string={"units": "metric"}).get_json()
    assert checked["cap_area"] == {"value": pytest.approx(19.634954 * 645.16, rel=1e-6), "unit": "mm2"}


BRACES = ["{", "}", "{}", "{x}", "{value}", "{value:>99999999}", "{span.__class__}", "%s", "{0}", "\\{"]


@pytest.mark.parametrize("text", BRACES)
def test_text_of_a_profile_is_never_a_format(client: FlaskClient, text: str) -> None:
    """Serials, certificates and names come back as they stand, in answers and in refusals."""
    machine = profile(
        gauges__make_up__serial=text,
        gauges__break_out__serial=f"{text}2",
        calibration={"certificate": text, "due": "2026-01-20"},
        approved_by=text,
        site=text,
        revision=text[:20],
    )
    asked = {**STATED, **JOB, "machine": machine, "as_of": "2026-11-24"}
    answer = client.post("/v1/pressure", json=asked)
    assert answer.status_code == 200
    assert answer.get_json()["gauge"] == text
    assert len(answer.data) < 20_000
    for changed in ({"torque_target": "99000 ft-lb"}, {"torque_target": "170000 ft-lb"}):
        refused = client.post("/v1/pressure", json={**asked, **changed})
        assert refused.status_code == 422
        assert len(refused.data) < 5_000
    for reading in ("2999.9 psi", "4000 psi", "40 bar"):
        job = {**JOB, "machine": machine, "gauge_reading": reading, "as_of": "2026-11-24"}
        delivered = client.post("/v1/delivered-torque", json=job)
        assert delivered.status_code in (200, 422)
        assert len(delivered.data) < 20_000
        if reading != "2999.9 psi":
            assert text in delivered.get_json()["detail"]


@pytest.mark.parametrize("text", BRACES)
def test_text_of_a_joint_is_never_a_format(client: FlaskClient, text: str) -> None:
    asked = {**STATED, **JOB, "machine": profile(), "torque_source": text}
    assert client.post("/v1/pressure", json=asked).status_code == 200
    for field in ("connection", "machine"):
        joint = {
            "family": "rotary_shouldered",
            "connection": "NC50",
            "component": "drill_collar",
            "box_outside_diameter": "6.5 in",
            "pin_bore": "2 in",
            "machine": "north-bay-2",
        }
        assert client.post("/v1/pressure", json={**JOB, **joint, field: text}).status_code == 422
    assert client.post("/v1/machine-choice", json={**STATED, **JOB, "site": text}).status_code == 422


@pytest.mark.parametrize("body", [b"[]", b"null", b"1", b'"x"'])
def test_profile_check_of_no_object(client: FlaskClient, body: bytes) -> None:
    checked = client.post(CHECK, data=body, content_type="application/json").get_json()
    assert checked["valid"] is False
    assert checked["faults"][0]["code"] == "not_an_object"


def test_no_field_says_which_of_pin_and_box_is_turned(client: FlaskClient) -> None:
    """Seen from behind the turned part, right-hand make-up is clockwise for both: nothing could change."""
    document = client.get("/openapi.json").get_json()
    names = {each["name"] for each in document["paths"]["/v1/pressure"]["get"]["parameters"]}
    assert {name for name in names if name.startswith(("pin", "box"))} == {
        "pin_bore", "pin_stress_level", "pin_yield_strength",
        "box_outside_diameter", "box_stress_level", "box_yield_strength",
    }  # fmt: skip
