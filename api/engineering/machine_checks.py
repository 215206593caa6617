"""Whether a machine can make a joint at a setting, limit by limit. A machine that fails one is not used."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Literal

from api.engineering.faults import Amount
from api.engineering.gauge import NOISE, Gauge, Mark, working_range

Verdict = Literal["pass", "caution", "fail", "not_checked"]


@dataclass(frozen=True)
class Limits:
    """What the makers of machine, hoses and valve allow, SI."""

    relief_cracking: float
    relief_full_flow: float
    rated_cylinder: float
    rated_hoses: float
    torque_rating: float
    smallest_diameter: float
    largest_diameter: float
    lowest_setting: float


@dataclass(frozen=True)
class Check:
    """One limit: what was compared with what, the verdict, and a sentence. ``code`` names a failure."""

    name: str
    code: str
    verdict: Verdict
    text: str
    value: Amount | None = None
    limit: Amount | None = None


@dataclass(frozen=True)
class Duty:
    """What the machine is to do, SI: torques, and pressures at nominal and at low efficiency.

    ``torque_at_high`` and ``torque_at_low`` give the torque at a pressure with the highest and the lowest
    efficiency to be expected.
    """

    making_up: bool
    target: float
    minimum: float | None
    maximum: float | None
    outside_diameter: float | None
    pressure: float
    pressure_at_low_efficiency: float
    position_known: bool
    torque_at_high: Callable[[float], float]
    torque_at_low: Callable[[float], float]


def _at_most(
    name: str, code: str, text: str, kind: str, value: float, limit: float, bad: Verdict = "fail"
) -> Check:
    verdict: Verdict = "pass" if value <= limit * (1 + NOISE) else bad
    return Check(name, code, verdict, text, Amount(kind, value), Amount(kind, limit))


def machine_checks(limits: Limits, gauge: Gauge, duty: Duty) -> Iterator[Check]:
    """The checks that need no setting: diameter, rating, capacity, relief and its torque."""
    yield _diameter(limits, duty.outside_diameter)
    yield _at_most(
        "torque_rating",
        "torque_rating_exceeded",
        "target torque {value} against the torque rating of the machine {limit}",
        "torque",
        duty.target,
        limits.torque_rating,
    )
    yield _at_most(
        "capacity",
        "capacity_exceeded",
        "pressure needed at the lowest efficiency {value} against the lowest of relief cracking, cylinder, "
        "hoses and gauge {limit}",
        "pressure",
        duty.pressure_at_low_efficiency,
        min(limits.relief_cracking, limits.rated_cylinder, limits.rated_hoses, gauge.span * gauge.pascals),
    )
    yield _at_most(
        "relief_full_flow",
        "relief_above_rating",
        "relief at full flow {value} against the lowest rating of cylinder, hoses and gauge {limit}",
        "pressure",
        limits.relief_full_flow,
        min(limits.rated_cylinder, limits.rated_hoses, gauge.span * gauge.pascals),
    )
    if duty.making_up:
        yield _at_most(
            "torque_at_relief",
            "",
            "torque at full relief flow and the highest efficiency {value} against the most this joint may "
            "see {limit}; nothing but the make-up limit holds it back",
            "torque",
            duty.torque_at_high(limits.relief_full_flow),
            duty.maximum if duty.maximum is not None else duty.target,
            "caution",
        )


def _diameter(limits: Limits, diameter: float | None) -> Check:
    if diameter is None:
        return Check(
            "outside_diameter",
            "",
            "not_checked",
            "no outside diameter given: check that the machine grips it",
        )
    low, high = limits.smallest_diameter, limits.largest_diameter
    fits = low * (1 - NOISE) <= diameter <= high * (1 + NOISE)
    nearest = low if diameter < low else high
    return Check(
        "outside_diameter",
        "diameter_not_gripped",
        "pass" if fits else "fail",
        "outside diameter {value} against the range of the grip, limit {limit}",
        Amount("length", diameter),
        Amount("length", nearest),
    )


def setting_checks(limits: Limits, gauge: Gauge, duty: Duty, mark: Mark) -> Iterator[Check]:
    """The checks of the mark to be set."""
    pressure = Amount("pressure", mark.pressure)
    below = mark.pressure < limits.relief_cracking * (1 - NOISE)
    yield Check(
        "relief_cracking",
        "setting_not_below_relief",
        "pass" if below else "fail",
        "setting {value} must lie below relief cracking {limit}",
        pressure,
        Amount("pressure", limits.relief_cracking),
    )
    yield _at_most(
        "torque_at_setting",
        "torque_rating_exceeded",
        "torque at the setting {value} against the torque rating of the machine {limit}",
        "torque",
        mark.torque,
        limits.torque_rating,
    )
    low, high = working_range(gauge)
    yield Check(
        "gauge_working_range",
        "",
        "pass" if low <= mark.pressure <= high else "caution",
        "setting {value} lies best between a quarter and three quarters of the gauge span {limit}",
        pressure,
        Amount("pressure", gauge.span * gauge.pascals),
    )
    if duty.making_up:
        yield from _window_checks(limits, duty, mark)


def _window_checks(limits: Limits, duty: Duty, mark: Mark) -> Iterator[Check]:
    lowest = Amount("pressure", limits.lowest_setting)
    yield Check(
        "lowest_setting",
        "below_lowest_setting",
        "pass" if mark.pressure >= limits.lowest_setting * (1 - NOISE) else "fail",
        "setting {value} against the lowest that can be set {limit}",
        Amount("pressure", mark.pressure),
        lowest,
    )
    if duty.maximum is None:
        yield Check("joint_maximum", "", "not_checked", "no maximum torque is known for this joint")
    else:
        yield _at_most(
            "joint_maximum",
            "joint_maximum_exceeded",
            "torque at the setting and the highest efficiency {value} against the joint maximum {limit}",
            "torque",
            duty.torque_at_high(mark.pressure),
            duty.maximum,
        )
    if duty.minimum is None:
        yield Check("joint_minimum", "", "not_checked", "no minimum torque is known for this joint")
        return
    least = duty.torque_at_low(mark.pressure)
    assured = duty.position_known and least >= duty.minimum * (1 - NOISE)
    text = "torque at the setting and the lowest efficiency {value} against the joint minimum {limit}"
    if not duty.position_known:
        text += "; with the arm position unknown the minimum is not assured"
    yield Check(
        "joint_minimum",
        "",
        "pass" if assured else "caution",
        text,
        Amount("torque", least),
        Amount("torque", duty.minimum),
    )
