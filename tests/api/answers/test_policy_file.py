"""The file of a policy: read whole, or every fault is named and no service starts."""

import json
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from policies import policy, policy_file
from rows import every_row

from api.answers.policy_file import BadPolicy, read_policy
from api.answers.shop import Approval, Policy
from api.app import create_app
from api.engineering import provenance
from api.settings import Settings
from schemas.policy import POLICY, RULES, STATUSES

WHOLE = {
    "effective_from": "2026-02-01",
    "effective_to": "2026-12-31",
    "accepted_statuses": ["read", "reprint"],
    "unfit_profiles": "refuse",
    "break_out_ratio": "1.0/1.3/1.6",
    "torque_tolerance": {"tool_joint": 0.05},
    "largest_distance_without_window": 0.05,
    "wrong_torque_probability": 0.08,
    "relief_margin": 0.1,
    "decision_rule": "guarded",
    "numbers": "comma_thousands",
}
BROKEN: list[tuple[dict[str, Any], str, str]] = [
    # what is changed in a whole policy, the pointer of its fault, the code
    ({"revision": None}, "/revision", "missing_field"),
    ({"revision": 3}, "/revision", "not_text"),
    ({"revision": ""}, "/revision", "not_text"),
    ({"status": None}, "/status", "missing_field"),
    ({"status": "released"}, "/status", "not_a_choice"),
    ({"approved_by": ""}, "/approved_by", "not_text"),
    ({"approved_on": "10.01.2026"}, "/approved_on", "not_a_date"),
    ({"effective_from": "2026-02-30"}, "/effective_from", "not_a_date"),
    ({"effective_to": "2026-01-31"}, "/effective_to", "contradiction"),
    ({"accepted_statuses": []}, "/accepted_statuses", "missing_field"),
    ({"accepted_statuses": "read"}, "/accepted_statuses", "not_a_list"),
    ({"accepted_statuses": ["read", "confirmed"]}, "/accepted_statuses/1", "not_a_choice"),
    ({"accepted_statuses": ["stated"]}, "/accepted_statuses/0", "not_a_choice"),
    ({"accepted_statuses": ["read", "read"]}, "/accepted_statuses", "duplicate_member"),
    ({"unfit_profiles": "caution"}, "/unfit_profiles", "not_a_choice"),
    ({"break_out_ratio": "1.3/1.0/1.6"}, "/break_out_ratio", "out_of_range"),
    ({"break_out_ratio": "1.0/1.6"}, "/break_out_ratio", "not_a_number"),
    ({"break_out_ratio": "1,0/1,3/1,6"}, "/break_out_ratio", "decimal_comma"),
    ({"break_out_ratio": 0.05}, "/break_out_ratio", "out_of_range"),
    ({"break_out_ratio": 5.01}, "/break_out_ratio", "out_of_range"),
    ({"break_out_ratio": True}, "/break_out_ratio", "not_a_number"),
    ({"torque_tolerance": 0.05}, "/torque_tolerance", "not_an_object"),
    ({"torque_tolerance": {"tool_joint": 0}}, "/torque_tolerance/tool_joint", "out_of_range"),
    ({"torque_tolerance": {"tool_joint": 5}}, "/torque_tolerance/tool_joint", "out_of_range"),
    ({"torque_tolerance": {"drill_collar": 0.05}}, "/torque_tolerance/drill_collar", "tolerance_not_needed"),
    ({"torque_tolerance": {"stabilizer": 0.05}}, "/torque_tolerance/stabilizer", "tolerance_not_needed"),
    ({"torque_tolerance": {"bit": 0.05}}, "/torque_tolerance/bit", "tolerance_not_needed"),
    ({"torque_tolerance": {"tooljoint": 0.05}}, "/torque_tolerance/tooljoint", "unknown_field"),
    ({"largest_distance_without_window": 0.11}, "/largest_distance_without_window", "out_of_range"),
    ({"largest_distance_without_window": 0}, "/largest_distance_without_window", "out_of_range"),
    ({"wrong_torque_probability": 0}, "/wrong_torque_probability", "out_of_range"),
    ({"wrong_torque_probability": 0.2}, "/wrong_torque_probability", "out_of_range"),
    ({"relief_margin": -0.1}, "/relief_margin", "out_of_range"),
    ({"relief_margin": "0,1"}, "/relief_margin", "decimal_comma"),
    ({"decision_rule": "generous"}, "/decision_rule", "not_a_choice"),
    ({"numbers": "comma"}, "/numbers", "not_a_choice"),
    ({"number": "strict"}, "/number", "unknown_field"),
]


@every_row(
    "changed, pointer, code", BROKEN, ids=[f"{pointer} {code} {changed}" for changed, pointer, code in BROKEN]
)
def test_a_broken_policy_is_named_and_nothing_is_answered_by_it(
    changed: dict[str, Any], pointer: str, code: str
) -> None:
    path = policy_file(**{**WHOLE, **changed})
    with pytest.raises(BadPolicy) as refusal:
        create_app(Settings(policy=path))
    assert f": {pointer} {code} (" in str(refusal.value)
    assert str(path) in str(refusal.value)


def test_every_fault_is_named_at_once() -> None:
    path = policy_file(**{**WHOLE, "status": "released", "numbers": "comma", "relief_margin": 9})
    with pytest.raises(BadPolicy) as refusal:
        read_policy(path)
    told = str(refusal.value)
    assert [pointer in told for pointer in ("/status ", "/numbers ", "/relief_margin ")] == [True] * 3


def text_of(**rules: Any) -> bytes:
    return json.dumps(policy(**rules)).encode()


@every_row(
    "data, told",
    [
        (b"", "malformed_json"),
        (b"[]", "not_an_object"),
        (b'{"revision": "1", "revision": "2", "status": "draft"}', "duplicate_member"),
        (text_of(revision="\N{DEGREE SIGN}").decode().encode("utf-16"), "not_utf8"),
        (text_of().replace(b'"1"', b"NaN"), "malformed_json"),
        (text_of() + b" " * 70_000, "larger than 65536 bytes"),
    ],
)
def test_a_file_that_is_no_policy(data: bytes, told: str, tmp_path_factory: pytest.TempPathFactory) -> None:
    path = tmp_path_factory.mktemp("policy") / "policy.json"
    path.write_bytes(data)
    with pytest.raises(BadPolicy, match=told):
        read_policy(path)


@pytest.mark.parametrize(
    "make", [lambda path: path.mkdir(), lambda path: path.symlink_to(policy_file()), lambda path: None]
)
def test_only_a_regular_file_is_a_policy(tmp_path: Path, make: Callable[[Path], None]) -> None:
    path = tmp_path / "policy.json"
    make(path)
    with pytest.raises(BadPolicy, match="not a regular file"):
        read_policy(path)


def test_a_whole_policy_is_read_as_it_stands() -> None:
    found = read_policy(policy_file(**WHOLE))
    assert found.approval == Approval(
        "approved", "workshop manager", date(2026, 1, 10), date(2026, 2, 1), date(2026, 12, 31)
    )
    assert found.accepted_statuses == {"read", "reprint", "stated"}
    assert found.unfit_profiles == "refuse"
    assert found.break_out_ratios == (1.0, 1.3, 1.6)
    assert found.torque_tolerance == {"tool_joint": 0.05}
    assert found.largest_distance_without_window == 0.05
    assert found.wrong_torque_probability == 0.08
    assert found.relief_margin == 0.1
    assert found.decision_rule == "guarded"
    assert found.numbers == "comma_thousands"


def test_where_a_policy_is_silent_nothing_is_assumed() -> None:
    silent = read_policy(policy_file())
    assert silent == Policy(version=silent.version, approval=silent.approval)
    assert read_policy(None) == Policy()


def test_one_ratio_is_all_three() -> None:
    assert read_policy(policy_file(break_out_ratio=1.2)).break_out_ratios == (1.2, 1.2, 1.2)


def test_the_hash_is_of_what_the_policy_says(tmp_path: Path) -> None:
    path = policy_file(**WHOLE)
    loose = tmp_path / "policy.json"
    loose.write_text(json.dumps(json.loads(path.read_text()), indent=4, sort_keys=True))
    assert read_policy(loose).version == read_policy(path).version
    assert read_policy(policy_file(**{**WHOLE, "relief_margin": 0.11})).version != read_policy(path).version


def test_rules_and_statuses_are_those_of_the_schema_and_of_engineering() -> None:
    governing = {"revision", "status", "approved_by", "approved_on", "effective_from", "effective_to"}
    assert set(POLICY.fields) == {*RULES, *governing}
    assert provenance.STATUSES == STATUSES


APPROVAL = {"approved_by": "workshop manager", "approved_on": date(2026, 1, 10)}


@every_row(
    "approval, draft, day, holds",
    [
        (Approval(**APPROVAL), False, "2026-01-10", True),
        (Approval(**APPROVAL), False, "2026-01-09", False),
        (Approval("draft", **APPROVAL), True, "2026-01-10", True),
        (Approval(approved_by="workshop manager"), True, "2026-01-10", True),
        (Approval(approved_on=date(2026, 1, 10)), True, "2026-01-10", True),
        (Approval(**APPROVAL, effective_from=date(2026, 2, 1)), False, "2026-01-31", False),
        (Approval(**APPROVAL, effective_from=date(2026, 2, 1)), False, "2026-02-01", True),
        (Approval(**APPROVAL, effective_from=date(2026, 1, 1)), False, "2026-01-05", False),
        (Approval(**APPROVAL, effective_to=date(2026, 3, 31)), False, "2026-03-31", True),
        (Approval(**APPROVAL, effective_to=date(2026, 3, 31)), False, "2026-04-01", False),
    ],
)
def test_when_a_policy_holds(approval: Approval, draft: bool, day: str, holds: bool) -> None:
    assert approval.is_draft == draft
    assert approval.holds_on(date.fromisoformat(day)) == holds
