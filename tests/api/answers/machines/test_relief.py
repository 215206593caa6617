"""Relief for a job in US units, by hand: areas, arms and pressures are written out."""

from copy import deepcopy
from dataclasses import replace
from typing import Any

import pytest
from machines import profile

from api.answers.machines.job import Job, Task, job_with
from api.answers.machines.profile import profile_from
from api.answers.machines.relief import ReliefAnswer, relief_for
from api.answers.policy import Policy, PolicyVersion
from api.engineering.checks import NoAnswer
from api.engineering.machines.cylinder import Operation, Turning
from schemas.core.quantity_fields import OutputUnits, written_in
from schemas.machines.profile import load_profile
from schemas.machines.relief import ReliefPart

INCH = 0.0254
POUND = 4.4482216152605
PSI = POUND / INCH**2
FOOT_POUND = POUND * 12 * INCH
HAIR = 1e-8

# The example machine: bore 5 in, rod 2.5 in, arm 36 in, highest efficiency 0.98, breakaway 30 psi.
# Cap side pi/4 x 25 = 19.634954 in2: 36 x 0.98 x 19.634954 / 12 = 57.72676501 ft-lb/psi at the highest.
# Rod side pi/4 x (25 - 6.25) = 14.726216 in2: 43.29507376 ft-lb/psi.
CAP, ROD = 57.726765009712445, 43.295073757284335
# Grip: cap 8 in, 50.26548246 in2; by virtual work N = 2 x 2.4 x 0.85 x force: 205.0831684 lbf per psi.
GRIP = {
    "jaws": {"rated_squeeze": "900000 lbf"},
    "grip_cylinder": {
        "bore": "8 in",
        "rod": "3 in",
        "squeezing_side": "cap",
        "stroke": "18 in",
        "open_diameter": "10 in",
        "travel_per_diameter": 2.4,
        "efficiency": 0.85,
        "rated_pressure": "3000 psi",
    },
}
COMMON = {**GRIP, "grip_supply": "common"}
SEPARATE = {**GRIP, "grip_supply": "separate"}
VALVE = {"lowest": "300 psi", "highest": "2500 psi", "override": "250 psi"}
HELD = {"grip_friction": 0.4, "grip_margin": 1.5}
NC50 = 30218.194336716817
"""Torque at 750 psi on the rod side at the nominal efficiency, ft-lb: 36 x 0.95 x 14.726216 x 720 / 12."""


def job(
    operation: Operation = "make_up", gripped: float | None = 6.5, hand: str = "right", **changed: Any
) -> Job:
    given = profile(**deepcopy(changed))
    made = profile_from(given, load_profile(given))
    diameter = None if gripped is None else gripped * INCH
    return job_with(made, Task(Turning(operation, hand), "square", diameter, None, ()))  # type: ignore[arg-type]


def asked(
    job: Job,
    setting: float,
    joint: float | None,
    torque: float = 10_000,
    policy: Policy | None = None,
    **values: Any,
) -> ReliefAnswer:
    """Relief for a setting (psi) and the limit of a joint (ft-lb)."""
    limit = None if joint is None else joint * FOOT_POUND
    found = relief_for(job, setting * PSI, torque * FOOT_POUND, limit, values, policy or Policy())
    assert found is not None
    return found


def told(found: ReliefAnswer) -> list[str]:
    return [finding.code for finding in found.findings]


def in_psi(found: ReliefAnswer) -> dict[str, float | None]:
    names = ("lower", "upper_joint", "upper_machine", "cracking", "full_flow", "override", "grip_pressure")
    values = {name: getattr(found, name) for name in names}
    plain = {name: getattr(value, "value", value) for name, value in values.items()}
    return {name: None if value is None else value / PSI for name, value in plain.items()}


def test_relief_protects_the_joint() -> None:
    """30,000 ft-lb: 30,000 / 57.726765 + 30 = 549.690 psi, less 100; 60,000: 1069.379 psi, less 100."""
    found = asked(job(), 400, 30_000)
    assert in_psi(found) == {
        "lower": pytest.approx(440, rel=HAIR),
        "upper_joint": pytest.approx(449.6896101, rel=HAIR),
        "upper_machine": pytest.approx(969.3792202, rel=HAIR),
        "cracking": pytest.approx(440, rel=HAIR),
        "full_flow": pytest.approx(540, rel=HAIR),
        "override": pytest.approx(100, rel=HAIR),
        "grip_pressure": None,
    }
    assert str(found.set_to.value) == "440 psi"
    assert (found.protects, found.gauge, found.gauge_read) == ("joint", "EX-1", "make_up")
    assert (found.upper_joint.basis, found.upper_machine.basis) == ("maximum", "torque rating")
    assert told(found) == []
    assert [check.verdict for check in found.checks] == ["pass"] * 4


def test_relief_protects_the_machine_alone() -> None:
    """420 x 1.1 = 462, up to 480 above 449.690; full flow 580: 57.726765 x 550 = 31,749.72 ft-lb."""
    found = asked(job(), 420, 30_000)
    assert (str(found.set_to.value), found.protects) == ("480 psi", "machine")
    (finding,) = found.findings
    assert (finding.level, finding.code, finding.step) == ("look", "limit_alone_holds", "limit")
    assert finding.value is not None
    assert finding.value.value / FOOT_POUND == pytest.approx(31749.720755, rel=HAIR)
    assert finding.amounts["pressure"].value / PSI == pytest.approx(580, rel=HAIR)
    assert "1.06 times this joint's maximum" in finding.text
    assert finding.remedy == "Prove the limit with open grips first."
    # 405 x 1.1 = 445.5 lies below 449.690, but the next mark, 460, does not
    assert (asked(job(), 405, 30_000).protects, asked(job(), 400, 30_000).protects) == ("machine", "joint")


def test_relief_protects_neither() -> None:
    """900 x 1.1 = 990 psi above 969.379 psi; up to 960, the last mark below, 6.6 % are left."""
    with pytest.raises(NoAnswer) as refused:
        asked(job(), 900, 70_000)
    (fault,) = refused.value.faults
    assert fault.code == "relief_cannot_protect"
    assert fault.amounts["lower"].value / PSI == pytest.approx(990, rel=HAIR)
    assert fault.amounts["upper"].value / PSI == pytest.approx(969.3792202, rel=HAIR)
    assert "A relief margin of 6.6 % would do." in fault.text
    # 880 x 1.1 = 968 is within, the mark above it, 980, is not; 860 x 1.1 = 946, up to 960, is
    with pytest.raises(NoAnswer):
        asked(job(), 880, 70_000)
    assert str(asked(job(), 860, 70_000).set_to.value) == "960 psi"


def rod_side(**changed: Any) -> Job:
    """The machine of the review: rod side, override 250 psi, dial of 50 psi."""
    return job(right_hand_make_up_side="rod", relief=VALVE, gauges__make_up__division="50 psi", **changed)


def test_a_common_supply_of_the_grip_decides() -> None:
    """N = 1.5 x 30,218.19 x 12 / (0.4 x 3.25) = 418,405.8 lbf / 205.083168 = 2,040.176 psi; x 1.1 = 2,244.2.

    Rating: 60,000 / 43.295074 + 30 - 250 = 1,165.839 psi.
    """
    with pytest.raises(NoAnswer) as refused:
        asked(rod_side(**COMMON), 750, 32_647.3, NC50, **HELD)
    (fault,) = refused.value.faults
    assert fault.amounts["needed"].value / PSI == pytest.approx(2040.176046, rel=HAIR)
    assert fault.amounts["lower"].value / PSI == pytest.approx(2244.193651, rel=HAIR)
    assert fault.amounts["upper"].value / PSI == pytest.approx(1165.83896, rel=HAIR)
    assert "With a separate supply of the grip, relief set to 850 psi would do." in fault.text
    with pytest.raises(
        NoAnswer
    ) as still:  # with margin 1.0: 1,360.117 psi, 1,496.129 with the margin of relief
        asked(rod_side(**COMMON), 750, 32_647.3, NC50, grip_friction=0.4, grip_margin=1.0)
    assert still.value.faults[0].amounts["lower"].value / PSI == pytest.approx(1496.129101, rel=HAIR)


def test_a_separate_supply_of_the_grip_does_not_count() -> None:
    """750 x 1.1 = 825 up to 850, above 784.06 - 250 = 534.06 (maximum 32,647.3 ft-lb)."""
    found = asked(rod_side(**SEPARATE), 750, 32_647.3, NC50, **HELD)
    assert (str(found.set_to.value), found.protects) == ("850 psi", "machine")
    assert in_psi(found)["upper_joint"] == pytest.approx(32_647.3 / ROD + 30 - 250, rel=HAIR)
    assert in_psi(found)["full_flow"] == pytest.approx(1100, rel=HAIR)
    assert found.grip_pressure.reason == "the grip has a supply of its own"
    assert told(found) == ["limit_alone_holds"]


def test_a_grip_that_relief_lets_through_sets_it() -> None:
    """1.2 x 10,000 x 12 / (0.4 x 4) = 90,000 lbf; / 205.083168 = 438.846 psi; x 1.1 = 482.731, up to 500."""
    found = asked(rod_side(gripped=8.0, **COMMON), 300, None, 10_000, grip_friction=0.4, grip_margin=1.2)
    assert in_psi(found)["grip_pressure"] == pytest.approx(438.8463504, rel=HAIR)
    assert in_psi(found)["lower"] == pytest.approx(482.730985, rel=HAIR)
    assert str(found.set_to.value) == "500 psi"
    assert told(found) == ["grip_sets_relief", "limit_alone_holds"]
    assert "no maximum of this joint is known" in found.findings[1].text


@pytest.mark.parametrize(
    ("gripped", "parts", "values", "reason"),
    [
        (6.5, COMMON, {}, "no grip_friction and grip_margin are given"),
        (None, COMMON, HELD, "no gripped_outside_diameter is known"),
        (6.5, {"jaws": GRIP["jaws"], "grip_supply": "common"}, HELD, "gives no grip_cylinder"),
    ],
)
def test_a_grip_that_is_not_counted_is_told(
    gripped: float | None, parts: dict[str, Any], values: dict[str, Any], reason: str
) -> None:
    found = asked(rod_side(gripped=gripped, **parts), 750, 32_647.3, NC50, **values)
    assert reason in (found.grip_pressure.reason or "")
    assert told(found) == ["grip_pressure_not_counted", "limit_alone_holds"]
    assert str(found.set_to.value) == "850 psi"


@pytest.mark.parametrize("parts", [{}, SEPARATE, {**GRIP, "grip_supply": "locked"}])
def test_a_grip_without_a_common_supply_is_no_finding(parts: dict[str, Any]) -> None:
    assert "grip_pressure_not_counted" not in told(asked(rod_side(**parts), 750, 32_647.3, NC50, **HELD))


def test_the_parts_of_a_grip_on_a_common_supply_are_among_the_ends() -> None:
    """Rated squeeze 200,000 lbf / 205.083168 = 975.214 psi, less 250; the grip cylinder 900 psi, less 250."""
    jaws = rod_side(**{**COMMON, "jaws": {"rated_squeeze": "200000 lbf"}})
    found = asked(jaws, 400, None)
    assert in_psi(found)["upper_machine"] == pytest.approx(200_000 / 205.0831684263417 - 250, rel=HAIR)
    assert found.upper_machine.basis == "rated squeeze of the jaws"
    weak = {**COMMON, "grip_cylinder": {**COMMON["grip_cylinder"], "rated_pressure": "900 psi"}}
    assert in_psi(asked(rod_side(**weak), 400, None))["upper_machine"] == pytest.approx(650, rel=HAIR)
    apart = {**weak, "grip_supply": "separate"}
    assert in_psi(asked(rod_side(**apart), 400, None))["upper_machine"] == pytest.approx(1165.83896, rel=HAIR)


@pytest.mark.parametrize(
    ("changed", "end", "basis"),
    [
        ({"rated_pressure__hoses": "1000 psi"}, 900, "rating of the hoses"),
        ({"rated_pressure__cylinder": "950 psi"}, 850, "rating of the cylinder"),
        ({"gauges__make_up__span": "1000 psi"}, 900, "span of gauge EX-1"),
        ({"torque_rating": "40000 ft-lb"}, 40_000 / CAP + 30 - 100, "torque rating"),
    ],
)
def test_every_end_of_the_machine_counts(changed: dict[str, Any], end: float, basis: str) -> None:
    found = asked(job(**changed), 400, None)
    assert in_psi(found)["upper_machine"] == pytest.approx(end, rel=HAIR)
    assert found.upper_machine.basis == basis


@pytest.mark.parametrize(
    ("cracking", "full_flow", "setting", "protects"),
    [
        (440, 540, 400, "joint"),  # 30,000 ft-lb at 549.690 psi
        (440, 549.6, 400, "joint"),
        (440, 549.7, 400, "machine"),
        (960, 1069.3, 800, "machine"),  # 60,000 ft-lb at 1069.379 psi
        (960, 1069.4, 800, None),  # above the torque rating, far below the ratings of 3,000 psi
        (879, 979, 800, None),  # 1.1 x 800 = 880
        (880, 980, 800, "machine"),
    ],
)
def test_a_fixed_valve(cracking: float, full_flow: float, setting: float, protects: str | None) -> None:
    fixed = job(relief={"cracking": f"{cracking} psi", "full_flow": f"{full_flow} psi"})
    if protects is None:
        with pytest.raises(NoAnswer, match="this fixed valve cracks at"):
            asked(fixed, setting, 30_000)
        return
    found = asked(fixed, setting, 30_000)
    assert found.protects == protects
    assert found.set_to.reason == "the relief valve of this machine is fixed"
    assert in_psi(found)["full_flow"] == pytest.approx(full_flow, rel=HAIR)


def test_a_break_out_is_read_on_its_own_gauge_and_side() -> None:
    """Rod breaks out: 60,000 / 43.295074 + 30 - 100 = 1,315.839 psi; 700 x 1.1 = 770, up to 800."""
    found = asked(job("break_out"), 700, None)
    assert in_psi(found)["upper_machine"] == pytest.approx(1315.83896, rel=HAIR)
    assert (str(found.set_to.value), found.gauge, found.gauge_read) == ("800 psi", "EX-2", "break_out")
    assert (found.protects, told(found)) == ("machine", [])
    (finding,) = asked(job("break_out"), 700, 30_000).findings
    assert (finding.code, finding.step) == ("limit_alone_holds", "break_out")


def test_relief_is_set_on_the_gauge_of_the_system_where_there_is_one() -> None:
    """440 up to a mark of 25 psi: 450; and its span of 600 psi is an end: 600 - 100 = 500."""
    system = {
        "serial": "S-9",
        "span": "600 psi",
        "division": "25 psi",
        "accuracy_percent_of_span": 1.0,
        "connected_at": "pump",
    }
    found = asked(job(gauges__system=system), 400, None)
    assert (str(found.set_to.value), found.gauge, found.gauge_read) == ("450 psi", "S-9", "system")
    assert in_psi(found)["upper_machine"] == pytest.approx(500, rel=HAIR)


def test_the_margin_is_listed_with_where_it_comes_from() -> None:
    (usual,) = asked(job(), 400, None).assumptions
    assert (usual.field, usual.value) == ("relief_margin", "0.1")
    assert "common practice, no source" in usual.reason
    shop = Policy(version=PolicyVersion("7", "abc"), relief_margin=0.2)
    found = asked(job(), 400, None, policy=shop)
    assert in_psi(found)["lower"] == pytest.approx(480, rel=HAIR)
    assert "revision 7" in found.assumptions[0].reason


def test_a_machine_without_relief_has_none() -> None:
    made = job()
    without = replace(made, profile=replace(made.profile, limits=replace(made.profile.limits, relief=None)))
    assert relief_for(without, 400 * PSI, 1.0, None, {}, Policy()) is None


CALIBRATED: dict[str, Any] = {
    "position": "square",
    "expanded_uncertainty_percent": 2.0,
    "sides": {
        "cap": {
            "gauge_serial": "EX-1",
            "points": [
                {"pressure": "200 psi", "torque": "10000 ft-lb"},
                {"pressure": "600 psi", "torque": "30000 ft-lb"},
            ],
        }
    },
}


def calibrated() -> Job:
    given = profile(
        kind="calibrated", calibrated=CALIBRATED, rated_pressure={"cylinder": "3000 psi", "hoses": "3000 psi"}
    )
    for name in (
        "cylinder",
        "arm_radius",
        "base_distance",
        "efficiency",
        "breakaway_pressure",
        "return_pressure",
    ):
        del given[name]
    made = profile_from(given, load_profile(given))
    return job_with(made, Task(Turning("make_up", "right"), "square", None, None, ()))


def test_beyond_a_calibration_nothing_is_guessed() -> None:
    """50 ft-lb/psi, up to 51 at the highest: the rating of 60,000 lies beyond 600 psi, where all is known.

    Joint 22,440 ft-lb: 22,440 / 51 = 440 psi. Its limit at 30,900 lies beyond too: then 600 psi stand in.
    """
    within = asked(calibrated(), 300, 22_440)
    assert in_psi(within)["upper_joint"] == pytest.approx(340, rel=HAIR)
    assert in_psi(within)["upper_machine"] == pytest.approx(2900, rel=HAIR)
    assert (str(within.set_to.value), within.protects) == ("340 psi", "joint")
    beyond = asked(calibrated(), 440, 30_900)
    assert in_psi(beyond)["upper_joint"] == pytest.approx(500, rel=HAIR)
    assert beyond.upper_joint.basis == "end of the calibration"
    assert (str(beyond.set_to.value), beyond.protects, told(beyond)) == ("500 psi", "joint", [])
    unknown = asked(calibrated(), 500, 30_900)
    assert (unknown.protects, told(unknown)) == (
        "machine",
        ["relief_beyond_calibration", "limit_alone_holds"],
    )
    assert [check.verdict for check in unknown.checks if check.name == "relief_torque"] == ["not_checked"]


def test_as_answered() -> None:
    """In metric units; the mark stays on its own dial."""
    reasons: dict[str, Any] = {}
    with written_in(OutputUnits("metric")):
        shown = ReliefPart().written(asked(rod_side(), 750, 32_647.3, NC50), reasons, "relief.")
    assert shown["set_to"] == {"value": 850.0, "unit": "psi"}
    assert shown["lower"] == {"value": pytest.approx(825 * 0.0689475729), "unit": "bar"}
    assert (shown["protects"], shown["upper_machine_basis"]) == ("machine", "torque rating")
    assert shown["grip_pressure"] is None
    assert list(reasons) == ["relief.grip_pressure"]
