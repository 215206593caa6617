"""Relief for a job in US units, by hand: areas, arms and pressures are written out."""

from copy import deepcopy
from typing import Any

import pytest
from machines import profile

from api.answers.machines.job import Job, Task, job_with
from api.answers.machines.profile import profile_from
from api.answers.machines.relief import ReliefAnswer, relief_of
from api.answers.shop import Policy
from api.engineering.checks import NoAnswer
from api.engineering.machines.cylinder import Operation, Turning
from schemas.machines.profile import load_profile

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
    valve = relief_of(job, limit, values, policy or Policy())
    assert valve is not None
    try:
        found = valve.at(setting * PSI, torque * FOOT_POUND)
    except NoAnswer:
        assert not valve.can_protect(setting * PSI, torque * FOOT_POUND)
        raise
    assert valve.can_protect(setting * PSI, torque * FOOT_POUND)
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
    assert (found.protects.value, found.gauge, found.gauge_read) == ("joint", "EX-1", "make_up")
    assert (found.upper_joint.basis, found.upper_machine.basis) == ("maximum", "torque rating")
    assert told(found) == []
    assert [check.verdict for check in found.checks] == ["pass"] * 4


def test_relief_protects_the_machine_alone() -> None:
    """420 x 1.1 = 462, up to 480 above 449.690; full flow 580: 57.726765 x 550 = 31,749.72 ft-lb."""
    found = asked(job(), 420, 30_000)
    assert (str(found.set_to.value), found.protects.value) == ("480 psi", "machine")
    (finding,) = found.findings
    assert (finding.level, finding.code, finding.step) == ("note", "limit_alone_holds", "limit")
    assert finding.value is not None
    assert finding.value.value / FOOT_POUND == pytest.approx(31749.720755, rel=HAIR)
    assert finding.amounts["pressure"].value / PSI == pytest.approx(580, rel=HAIR)
    assert "1.06 times this joint's maximum" in finding.text
    assert finding.remedy == "Prove the limit with open grips first."
    # 405 x 1.1 = 445.5 lies below 449.690, but the next mark, 460, does not
    protects = [asked(job(), pressure, 30_000).protects.value for pressure in (405, 400)]
    assert protects == ["machine", "joint"]
