"""A stored answer is checked: found unchanged, altered leaf by leaf, or with other figures and why."""

import csv
import io
import json
import shutil
from collections.abc import Iterator, Mapping
from copy import deepcopy
from pathlib import Path
from typing import Any

import pytest
from receipts import (
    BETWEEN_ROWS,
    COLLAR,
    DEMO,
    IN_TABLE,
    MAKE_UP,
    PRESSURE,
    STORED,
    TURN,
    asked,
    checked,
    service,
    with_inputs,
)

from api.answers.record import marks
from api.registry.calculations import CALCULATIONS
from schemas.core.quantity_fields import PORTION, PRESENTATION
from schemas.core.units import codes_of
from schemas.record import AskedPart


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """A copy of the demo shop, to be changed."""
    for part in ("machines", "tables"):
        shutil.copytree(DEMO / part, tmp_path / part)
    return tmp_path


def leaves(value: Any, place: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """The place of every leaf; an empty object or list is one."""
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for name, each in inner:
        yield from leaves(each, (*place, name))
    if not inner or not (isinstance(value, (dict, list)) and value):
        yield place


def edited(answer: Mapping[str, Any], place: tuple[Any, ...]) -> dict[str, Any]:
    """An answer with one leaf edited, as little as can be."""
    changed: Any = deepcopy(answer)
    at = changed
    for name in place[:-1]:
        at = at[name]
    was = at[place[-1]]
    if isinstance(was, bool) or was is None:
        at[place[-1]] = not was
    elif isinstance(was, (int, float)):
        at[place[-1]] = was * (1 + 1e-9) if was else 1e-9
    elif isinstance(was, str):
        at[place[-1]] = was[:-1] if was else "x"
    else:
        at[place[-1]] = [0] if isinstance(was, list) else {"x": 0}
    return dict(changed)


@pytest.mark.parametrize("name", STORED)
def test_a_stored_answer_is_unchanged_at_any_later_start(name: str) -> None:
    answer = asked(service(DEMO), name)
    assert asked(service(DEMO), name) == answer
    found = checked(service(DEMO), with_inputs(name, answer))
    assert (found["state"], found["differences"], found["changed"], found["needs"]) == (
        "unchanged",
        [],
        [],
        [],
    )
    assert (found["fingerprint_fits"], found["seal_state"]) == (True, "none")


@pytest.mark.parametrize("most", [50, pytest.param(10_000, marks=pytest.mark.evidence)])
@pytest.mark.parametrize("name", STORED)
def test_each_leaf_that_is_edited_is_found(name: str, most: int, tmp_path: Path) -> None:
    """Of the answer and of its seal; what the service can compute again is told with its place."""
    (tmp_path / "key").write_text("a key of this shop")
    client = service(DEMO, receipt_key_file=tmp_path / "key")
    answer = asked(client, name)
    places = list(leaves(answer))
    assert len(places) > 10
    for place in places[:: len(places) // most + 1]:
        found = checked(client, with_inputs(name, edited(answer, place)))
        assert found["state"] == "altered", place
        if place[0] not in ("fingerprint", "seal", "asked", "inputs", "question"):
            at = "/" + "/".join(map(str, place))
            assert [each["pointer"] for each in found["differences"]] in ([at], [f"{at}/x"], [f"{at}/0"]), (
                place
            )


@pytest.mark.parametrize("name", STORED)
def test_a_member_that_is_taken_out_or_added_is_found(name: str) -> None:
    client = service(DEMO)
    answer = asked(client, name)
    for member in answer.keys() - {"fingerprint", "asked", "inputs"}:
        less = {each: value for each, value in answer.items() if each != member}
        assert checked(client, with_inputs(name, less))["state"] == "altered", member
    assert checked(client, with_inputs(name, {**answer, "remark": "as agreed"}))["state"] == "altered"


@pytest.mark.parametrize("name", STORED)
def test_the_order_of_members_and_the_way_of_numbers_do_not_count(name: str) -> None:
    """As a database or a program in another language keeps them: sorted, and 750 for 750.0."""
    client = service(DEMO)

    def otherwise(value: Any) -> Any:
        if isinstance(value, dict):
            return {each: otherwise(value[each]) for each in sorted(value)}
        if isinstance(value, list):
            return [otherwise(each) for each in value]
        return int(value) if isinstance(value, float) and value.is_integer() else value

    assert checked(client, with_inputs(name, otherwise(asked(client, name))))["state"] == "unchanged"


def test_a_profile_in_the_request_survives_another_way_of_numbers() -> None:
    profile = json.loads((DEMO / "machines" / "north-bay-2.json").read_text())
    profile["efficiency"]["high"] = 1.0
    client = service()
    answer = client.post(PRESSURE, json={**MAKE_UP, "machine": profile, "detail": "full"}).get_json()
    answer["inputs"]["machine"]["efficiency"]["high"] = 1
    assert checked(client, answer)["state"] == "unchanged"


def test_what_was_asked_holds_every_way_to_show_an_answer() -> None:
    """What is new in a request and shows in its answer must be asked again, or no receipt fits."""
    assert set(AskedPart().fields) == {"path", *PORTION.fields, *PRESENTATION.fields}
    chosen = {
        f"{kind}_unit": codes_of(kind)[-1] for kind in ("torque", "pressure", "stress", "area", "angle")
    }
    chosen |= {"length_unit": "mm", "force_unit": "kN", "units": "si", "steps": True, "self_contained": True}
    assert chosen.keys() == PRESENTATION.fields.keys()
    client = service(DEMO)
    answer = client.post(PRESSURE, json={**MAKE_UP, **chosen, "detail": "full"}).get_json()
    assert answer["asked"] == {"path": PRESSURE, "detail": "full", **chosen}
    assert checked(client, answer)["state"] == "unchanged"
    assert checked(service(DEMO, units="metric"), asked(client, "make-up, full"))["state"] == "unchanged"


# the row of a table, and inputs beside


@pytest.mark.parametrize("asked_for", [{}, {"detail": "full"}, {"answers": "gauge_setting,gauge"}])
def test_a_row_of_a_batch_is_checked_by_its_fingerprint(asked_for: dict[str, str]) -> None:
    client = service(DEMO)
    text = "order," + ",".join(MAKE_UP) + "\r\nW-1," + ",".join(MAKE_UP.values()) + "\r\n"
    options: dict[str, Any] = {"content_type": "text/csv", "query_string": asked_for}
    table = client.post(f"{PRESSURE}/batch", data=text, **options).text
    (row,) = csv.DictReader(io.StringIO(table, newline=""))
    assert "seal" not in row
    assert (
        row["fingerprint"] == client.post(PRESSURE, json={**MAKE_UP, **asked_for}).get_json()["fingerprint"]
    )
    how = {"path": PRESSURE, "units": "us", **(asked_for or {"detail": "short"})}
    body = {"fingerprint": row["fingerprint"], "asked": how, "inputs": MAKE_UP}
    told = {name: row[name] for name in ("service_edition", "question")}
    assert checked(client, {**body, **told})["state"] == checked(client, body)["state"] == "unchanged"
    other = {**MAKE_UP, "pin_bore": "2.8 in"}
    assert checked(client, {**body, "inputs": other, **told})["state"] == "cannot_tell"
    assert checked(client, {**body, "inputs": other, **told})["needs"][0]["needed"] == "inputs"
    del told["question"]
    found = checked(client, {**body, "fingerprint": "0" * 64, **told})
    assert (found["state"], found["fingerprint_fits"]) == ("altered", False)


def test_a_row_of_another_edition(shop: Path) -> None:
    """Its figures are the same or not; without its edition, or without its values, that cannot be told."""
    answer = asked(service(shop), "make-up, short")
    body = {"fingerprint": answer["fingerprint"], "asked": answer["asked"], "inputs": MAKE_UP}
    of_row = {**body, "service_edition": answer["service_edition"]}
    (shop / "machines" / "yard-1.json").unlink()
    assert checked(service(shop), body)["needs"][0]["needed"] == "service_edition"
    assert checked(service(shop), of_row)["state"] == "unchanged"
    revise(shop, efficiency={"low": 0.92, "nominal": 0.951, "high": 0.98})
    found = checked(service(shop), of_row)
    assert (found["state"], found["fingerprint_fits"]) == ("cannot_tell", None)
    assert [each["needed"] for each in found["needs"]] == ["answer"]


def test_an_answer_without_inputs_is_intact_and_asks_for_them() -> None:
    client = service(DEMO)
    answer = asked(client, "make-up, short")
    found = checked(client, answer)
    assert (found["state"], found["fingerprint_fits"]) == ("cannot_tell", True)
    assert [each["needed"] for each in found["needs"]] == ["inputs"]
    other = checked(client, {"answer": answer, "inputs": {**MAKE_UP, "pin_bore": "2.5 in"}})
    assert (other["state"], [each["needed"] for each in other["needs"]]) == ("cannot_tell", ["inputs"])
    as_asked = {**MAKE_UP, "box_outside_diameter": "6.5 in", "detail": "full", "units": "si"}
    assert checked(client, {"answer": answer, "inputs": as_asked})["state"] == "unchanged"


@pytest.mark.parametrize("wanted", [{}, {"detail": "full"}, {"answers": "gauge,fingerprint,gauge_setting"}])
def test_a_cell_tells_the_fingerprint_of_the_answer_as_json(wanted: dict[str, str]) -> None:
    client = service(DEMO)
    fingerprint = client.get(PRESSURE, query_string={**MAKE_UP, **wanted}).get_json()["fingerprint"]
    alone = {} if "answers" in wanted else {"answer": "fingerprint"}
    text = client.get(PRESSURE, query_string={**MAKE_UP, **wanted, **alone, "format": "text"}).text
    if alone:
        assert text == fingerprint
    else:
        lines = [line.partition(": ") for line in text.splitlines()]
        assert [name for name, *_ in lines] == ["gauge", "fingerprint", "gauge_setting", "findings"]
        assert lines[1][2] == fingerprint


# what changed since


def revise(shop: Path, machine: str = "north-bay-2", **changes: Any) -> None:
    file = shop / "machines" / f"{machine}.json"
    file.write_text(json.dumps({**json.loads(file.read_text()), "revision": "next", **changes}))


def differing(one: Any, other: Any) -> set[str]:
    """The places at which two answers differ, but for what tells their editions."""

    def flat(value: Any, place: str = "") -> Iterator[tuple[str, Any]]:
        inner = (
            value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
        )
        for name, each in inner:
            yield from flat(each, f"{place}/{name}")
        if not isinstance(value, (dict, list)):
            yield place, value

    told = ("service_edition", "version", "fingerprint", "seal")
    of_one, of_other = (
        dict(flat({name: value for name, value in each.items() if name not in told})) for each in (one, other)
    )
    return {
        place for place in of_one | of_other if of_one.get(place, "absent") != of_other.get(place, "absent")
    }


def by_profile(shop: Path) -> dict[str, Any]:
    revise(shop, efficiency={"low": 0.92, "nominal": 0.951, "high": 0.98})
    return {}


def by_policy(shop: Path) -> dict[str, Any]:
    (shop / "policy.json").write_text(json.dumps({"revision": "1", "status": "draft", "relief_margin": 0.2}))
    return {"policy": shop / "policy.json"}


def by_table(shop: Path) -> dict[str, Any]:
    file = shop / "tables" / "double-shoulder.csv"
    file.write_text(file.read_text().replace("16400,18200,20000", "16400,18300,20000"))
    return {}


@pytest.mark.parametrize(
    ("change", "name", "part"),
    [
        (by_profile, "make-up, full", "profile"),
        (by_profile, "break-out, full", "profile"),
        (by_policy, "make-up, full", "policy"),
        (by_policy, "row of a table, full, self-contained", "policy"),
        (by_table, "row of a table, full", "table"),
    ],
)
def test_exactly_what_a_change_made_other_is_told_with_its_reason(
    shop: Path, change: Any, name: str, part: str
) -> None:
    path, question = STORED.get(name, (PRESSURE, {**BETWEEN_ROWS, "detail": "full"}))
    before = service(shop).post(path, json=question).get_json()
    later = service(shop, **change(shop))
    found = checked(later, before)
    assert (found["state"], found["changed"], found["fingerprint_fits"]) == ("other_figures", [part], True)
    assert all(each["reason"] == [part] for each in found["differences"])
    after = later.post(path, json=question).get_json()
    told = {each["pointer"] for each in found["differences"]}
    assert {place for place in differing(before, after) if not _below(place, told)} == set()
    assert {place for place in told if not _below_any(place, differing(before, after))} == set()
    assert len(told) > 1
    assert found["differences_left_out"] == 0


def _below(place: str, told: set[str]) -> bool:
    return any(place == each or place.startswith(f"{each}/") for each in told)


def _below_any(told: str, places: set[str]) -> bool:
    return any(place == told or place.startswith(f"{told}/") for place in places)


def test_a_change_that_made_no_difference_is_told_and_is_none(shop: Path) -> None:
    question = {**MAKE_UP, "answers": "gauge_setting,torque,inputs,version"}
    before = service(shop).post(PRESSURE, json=question).get_json()
    revise(shop, approved_by="another manager")
    found = checked(service(shop), before)
    assert (found["state"], found["changed"], found["differences"]) == ("unchanged", ["profile"], [])
    assert found["text"].endswith("Changed since: profile.")


def test_a_short_answer_of_another_edition_names_all_that_may_have_changed(shop: Path) -> None:
    before = asked(service(shop), "make-up, short")
    found = checked(service(shop, **by_profile(shop)), with_inputs("make-up, short", before))
    assert found["state"] == "other_figures"
    assert found["changed"] == ["program", "data", "policy", "profile"]


def test_another_machine_that_a_finding_names_is_a_profile_too(shop: Path) -> None:
    """A torque that may miss its window is told with a surer machine; that one is retired."""
    before = service(shop).post(PRESSURE, json={**MAKE_UP, "detail": "full"}).get_json()
    (named,) = {
        file.stem for file in (shop / "machines").glob("*.json")
        if any(f"Use {file.stem}" in (each["remedy"] or "") for each in before["findings"])
    }  # fmt: skip
    (shop / "machines" / f"{named}.json").unlink()
    found = checked(service(shop), before)
    assert (found["state"], found["changed"]) == ("other_figures", ["profile"])
    assert {each["pointer"].split("/")[1] for each in found["differences"]} == {"findings"}
    found = checked(service(shop, **by_policy(shop)), before)
    assert found["changed"] == ["policy", "profile"]


def test_a_question_that_is_refused_today(shop: Path) -> None:
    before = asked(service(shop), "make-up, full")
    strict = shop / "policy.json"
    strict.write_text(
        json.dumps(
            {"revision": "1", "status": "draft", "unfit_profiles": "refuse", "accepted_statuses": ["read"]}
        )
    )
    revise(shop, status="draft")
    found = checked(service(shop, policy=strict), before)
    assert (found["state"], found["changed"]) == ("other_figures", ["policy", "profile"])
    (only,) = found["differences"]
    assert (only["pointer"], only["stored"], only["reason"]) == ("", "answered", ["policy", "profile"])
    assert only["now"].startswith("refused: ")


def test_a_choice_of_machines_depends_on_all_of_them(shop: Path) -> None:
    question = {name: value for name, value in MAKE_UP.items() if name != "machine"}
    before = [
        service(shop).post("/v1/machine-choice", json={**question, "detail": "full", **more}).get_json()
        for more in ({}, {"self_contained": True})
    ]
    (shop / "machines" / "south-bay-9.json").unlink()
    later = service(shop)
    assert [checked(later, each)["state"] for each in before] == ["other_figures", "unchanged"]
    assert {tuple(each["reason"]) for each in checked(later, before[0])["differences"]} == {("profile",)}
    assert [checked(service(), each)["state"] for each in before] == ["cannot_tell", "unchanged"]


def test_both_written_anew_by_one_who_knows_how(shop: Path) -> None:
    """A fingerprint can be made by anybody: the very edition that is named gives other values."""
    client = service(shop)
    forged = asked(client, "make-up, full")
    del forged["fingerprint"]
    forged["gauge_setting"]["value"] += 20
    forged |= marks(forged, None)
    found = checked(client, forged)
    assert (found["state"], found["fingerprint_fits"]) == ("altered", True)
    assert [each["pointer"] for each in found["differences"]] == ["/gauge_setting/value"]


@pytest.mark.parametrize("member", ["program", "program_hash", "data", "profile_revision", "profile_hash"])
@pytest.mark.parametrize("self_contained", [False, True])
def test_a_version_written_anew_is_found(shop: Path, member: str, self_contained: bool) -> None:
    client = service(shop)
    question = {**MAKE_UP, "detail": "full", "self_contained": self_contained}
    forged = client.post(PRESSURE, json=question).get_json()
    del forged["fingerprint"]
    forged["version"][member] = "9"
    forged |= marks(forged, None)
    of_profile = member.startswith("profile")
    assert checked(client, forged)["state"] == (
        "altered" if of_profile or not self_contained else "unchanged"
    )


@pytest.mark.parametrize("wrong", [{"gauge_readin": "860 psi"}, {"connection": "NC5O"}, {"machine": ""}])
def test_wrong_inputs_beside_an_answer_say_nothing_of_it(shop: Path, wrong: dict[str, str]) -> None:
    client = service(shop)
    stored = asked(client, "make-up, short")
    found = checked(client, {"answer": stored, "inputs": {**MAKE_UP, **wrong}})
    assert (found["state"], found["needs"][0]["needed"]) == ("cannot_tell", "inputs")


# where the machine is not known


@pytest.mark.parametrize("name", ["make-up, full", "row of a table, full"])
def test_what_is_not_here_is_needed(name: str) -> None:
    path, question = STORED.get(name, (PRESSURE, {**BETWEEN_ROWS, "detail": "full"}))
    answer = service(DEMO).post(path, json=question).get_json()
    found = checked(service(), answer)
    version = answer["version"]
    assert (found["state"], found["fingerprint_fits"]) == ("cannot_tell", True)
    assert (
        found["needs"][0].items()
        >= {
            "needed": "machine",
            "id": version["profile_id"],
            "revision": version["profile_revision"],
            "hash": version["profile_hash"],
        }.items()
    )
    assert [each["needed"] for each in found["needs"]] == ["machine", "table"][: 1 + ("table" in name)]


@pytest.mark.parametrize("detail", ["short", "full"])
@pytest.mark.parametrize(
    ("path", "question"),
    [
        (PRESSURE, MAKE_UP),
        (PRESSURE, BETWEEN_ROWS),
        (
            PRESSURE,
            {**BETWEEN_ROWS, "table_key": {**IN_TABLE["table_key"], "box_outside_diameter": "5 3/8 in"}},
        ),  # type: ignore[dict-item]
        ("/v1/torque/tabulated", IN_TABLE),
        ("/v1/delivered-torque", {**TURN, "machine": "south-bay-9", "gauge_reading": "860 psi"}),
        ("/v1/stroke", {"machine": "north-bay-2", "rotation": "60 deg", "lost_motion": "2 deg"}),
        ("/v1/torque/rotary-shouldered", COLLAR),
    ],
)
def test_a_self_contained_answer_is_checked_anywhere(
    shop: Path, path: str, question: dict[str, Any], detail: str
) -> None:
    """Where the shop is not known, and where its machine and its table have changed."""
    home = service(shop)
    how = {"self_contained": "yes", "detail": detail}
    answer = home.get(path, query_string={**_flat(question), **how}).get_json()
    assert answer == {**home.post(path, json={**question, **how}).get_json(), "inputs": answer["inputs"],
                      "fingerprint": answer["fingerprint"]}  # fmt: skip
    alone = home.post(path, json={**question, "detail": detail}).get_json()
    assert answer["question"] == alone["question"]
    by_table(shop)
    by_profile(shop)
    revise(shop, "south-bay-9", site="nowhere")
    for other in (service(), service(shop)):
        found = checked(other, answer)
        assert (found["state"], found["differences"]) == ("unchanged", []), found["text"]


def _flat(question: Mapping[str, Any]) -> dict[str, str]:
    flat = {name: value for name, value in question.items() if name != "table_key"}
    return {**flat, **{f"table_key.{name}": value for name, value in question.get("table_key", {}).items()}}


def test_every_calculation_takes_self_contained_and_is_checked() -> None:
    """The example of each, on a service that has its own shop, then on one without."""
    home, abroad = service(DEMO), service()
    for calculation in CALCULATIONS:
        question = {**calculation.example, "self_contained": True, "detail": "full"}
        if calculation.needs_tables:
            question |= IN_TABLE
        response = home.post(calculation.path, json=question)
        assert response.status_code == 200, response.text
        answer = response.get_json()
        assert answer["asked"]["self_contained"] is True
        assert answer["inputs"]["self_contained"].keys() == {"machines", "tables"}
        assert checked(abroad, answer)["state"] == "unchanged", calculation.name


def test_what_a_profile_of_the_request_is_stays_its_own(shop: Path) -> None:
    profile = json.loads((shop / "machines" / "north-bay-2.json").read_text())
    answer = service().post(PRESSURE, json={**MAKE_UP, "machine": profile, "self_contained": True}).get_json()
    assert answer["inputs"]["self_contained"] == {"machines": [], "tables": []}
    assert answer["inputs"]["machine"] == profile
    assert checked(service(shop), answer)["state"] == "unchanged"


# the seal


def test_a_seal_is_judged_by_who_has_the_key(tmp_path: Path) -> None:
    one, other = tmp_path / "one", tmp_path / "other"
    one.write_text("the key of one shop\n")
    other.write_text("that of another\n")
    ours, theirs, without = (
        service(DEMO, receipt_key_file=one), service(DEMO, receipt_key_file=other), service(DEMO),
    )  # fmt: skip
    sealed, bare = asked(ours, "make-up, full"), asked(without, "make-up, full")
    assert {**sealed, "seal": None} == {**bare, "seal": None}
    assert asked(service(DEMO, receipt_key_file=one), "make-up, full") == sealed
    states = [
        (found["state"], found["seal_state"])
        for client, answer in ((ours, sealed), (theirs, sealed), (without, sealed), (ours, bare))
        for found in [checked(client, answer)]
    ]
    assert states == [
        ("unchanged", "right"), ("altered", "wrong"), ("unchanged", "cannot_judge"), ("unchanged", "none"),
    ]  # fmt: skip
    assert "it has no key" in checked(without, sealed)["text"]
    assert "anyone can have written it" in checked(ours, bare)["text"]
    forged = {**sealed, "seal": "\u00e9" * 64}
    assert checked(ours, forged)["seal_state"] == "wrong"


def test_rows_have_the_seal_where_there_is_a_key(tmp_path: Path) -> None:
    (tmp_path / "key").write_bytes(b"\x00\xff a key")
    client = service(DEMO, receipt_key_file=tmp_path / "key")
    text = "quantity,to\r\n1 in,mm\r\n1 in,psi\r\n"
    table = client.post("/v1/conversion/batch", data=text, content_type="text/csv").text
    good, bad = csv.DictReader(io.StringIO(table, newline=""))
    assert list(good)[2:10] == [
        "line_number", "line_status", "problem_code", "problem_detail", "service_edition", "question",
        "fingerprint", "seal",
    ]  # fmt: skip
    assert (bad["fingerprint"], bad["seal"]) == ("", "")
    body = {
        "fingerprint": good["fingerprint"], "seal": good["seal"], "service_edition": good["service_edition"],
        "asked": {"path": "/v1/conversion", "detail": "short", "units": "us"},
        "inputs": {"quantity": "1 in", "to": "mm"},
    }  # fmt: skip
    assert checked(client, body).items() >= {"state": "unchanged", "seal_state": "right"}.items()
    body["seal"] = "0" * 64
    assert checked(client, body).items() >= {"state": "altered", "seal_state": "wrong"}.items()


def test_a_column_of_the_caller_is_not_called_seal() -> None:
    given = {"data": "quantity,to,seal\r\n1 in,mm,x\r\n", "content_type": "text/csv"}
    answer = service().post("/v1/conversion/batch", **given).get_json()  # type: ignore[arg-type]
    assert answer["errors"][0]["code"] == "reserved_column"
