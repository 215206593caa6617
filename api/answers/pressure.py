"""What to set on a machine for a joint."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from api.answers.answer import Answer
from api.answers.profiles import Profile, profile_from
from api.answers.shop import Shop
from api.engineering.cylinder import area, other_side
from api.engineering.faults import Fault, NoAnswer, refuse
from api.engineering.gauge import Setting, setting_from_torque
from api.engineering.machine_checks import Check, Duty, machine_checks, setting_checks
from api.engineering.provenance import Source
from api.engineering.torque_window import TorqueWindow
from api.engineering.turning import Turning

STATICS = Source(
    "pressure from torque",
    "read",
    "statics of cylinder and arm: T = h e (A (p - p_breakaway) - A' p_return)",
)


@dataclass(frozen=True)
class Working:
    """What the working steps of a pressure read, SI."""

    torque: float
    moment_arm: float
    force: float
    driven_area: float
    returning_area: float
    efficiency: float
    pressure: float


def pressure_answer(
    window: TorqueWindow, outside_diameter: float | None, values: Mapping[str, Any], shop: Shop
) -> Answer:
    """The answer of ``/v1/pressure`` for a window of torque.

    Raises:
        NoAnswer: with every reason why this machine cannot do this joint.
    """
    given = values["machine"]
    profile = shop.machine(given) if isinstance(given, str) else profile_from(**given)
    turning = Turning(values["operation"], values["thread_hand"])
    making_up = turning.operation == "make_up"
    break_out = _break_out_torque(window, values, making_up)
    target = window.goal if break_out is None or making_up else break_out
    machine, position = profile.machine, values["arm_position"]
    efficiency = machine.efficiency

    def torque_at(share: float) -> Callable[[float], float]:
        return lambda pressure: machine.torque_from_pressure(pressure, turning, position, share)

    pressure = machine.pressure_from_torque(target, turning, position, efficiency.nominal)
    duty = Duty(
        making_up=making_up,
        target=target,
        minimum=window.minimum.torque if making_up else None,
        maximum=window.maximum.torque if making_up else None,
        outside_diameter=outside_diameter,
        pressure=pressure,
        pressure_at_low_efficiency=machine.pressure_from_torque(target, turning, position, efficiency.low),
        position_known=position != "unknown",
        torque_at_high=torque_at(efficiency.high),
        torque_at_low=torque_at(efficiency.low),
    )
    setting, checks = _set(profile, turning, duty, torque_at(efficiency.nominal))
    side = machine.side(turning)
    arm = machine.moment_arm(position)
    result = {
        "cylinder_side": side,
        "pressure": pressure,
        "gauge_setting": setting.mark.reading,
        "torque_at_gauge_setting": setting.mark.torque,
        "neighbouring_marks": {"below": setting.below, "above": setting.above},
        "gauge": profile.gauges[turning.operation].serial,
        "torque": window,
        "break_out_torque": break_out,
        "moment_arm": arm,
        "checks": checks,
    }
    driven, returning = area(machine.cylinder, side), area(machine.cylinder, other_side(side))
    working = Working(target, arm, target / arm, driven, returning, efficiency.nominal, pressure)
    return Answer(
        result,
        (*window.sources, STATICS),
        window.target.status,
        window.assumptions,
        tuple(_cautions(profile, duty, checks)),
        {"machine": machine, "pressure": working},
        profile.version,
    )


def _break_out_torque(window: TorqueWindow, values: Mapping[str, Any], making_up: bool) -> float | None:
    ratio = values.get("break_out_ratio")
    if ratio is not None:
        return float(window.goal * ratio)
    if making_up:
        return None
    raise refuse(
        "break_out_ratio_required",
        "break-out torque over make-up torque has no published value: state the ratio your shop goes by",
        "break_out_ratio",
    )


def _set(
    profile: Profile, turning: Turning, duty: Duty, torque_from_pressure: Callable[[float], float]
) -> tuple[Setting, list[Check]]:
    """The setting and every check; refuses with all reasons at once."""
    gauge = profile.gauges[turning.operation]
    faults: list[Fault] = []
    checks = list(machine_checks(profile.limits, gauge, duty))
    setting = None
    try:
        setting = setting_from_torque(
            gauge, duty.pressure, duty.target, duty.minimum, duty.maximum, torque_from_pressure
        )
        checks += setting_checks(profile.limits, gauge, duty, setting.mark)
    except NoAnswer as no_setting:
        faults += no_setting.faults
    faults += [_fault(check) for check in checks if check.verdict == "fail"]
    if setting is None or faults:
        raise NoAnswer(faults)
    return setting, checks


def _fault(check: Check) -> Fault:
    amounts = {"value": check.value, "limit": check.limit}
    return Fault(check.code, check.text, "machine", {name: at for name, at in amounts.items() if at})


def _cautions(profile: Profile, duty: Duty, checks: list[Check]) -> Iterator[str]:
    if not profile.approved:
        yield f"The profile {profile.version.id} is a draft: no one has approved its figures."
    if not duty.position_known:
        yield (
            "Arm position unknown: the largest moment arm of the stroke is used, so the torque is at most "
            "the one shown; the minimum is not assured."
        )
    if duty.making_up and duty.minimum is None:
        yield "No minimum torque is known for this joint; the setting is the mark nearest the target."
    if not duty.making_up:
        yield (
            "The break-out torque is an estimate by the stated ratio; the joint may need more. Never exceed "
            "the limits of the machine."
        )
    for check in checks:
        if check.name == "torque_at_relief" and check.verdict == "caution":
            yield "At full relief flow the machine exceeds the torque of this joint: see checks."
