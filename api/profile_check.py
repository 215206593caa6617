"""Whether a machine profile can be served, with every fault, and what it says of the machine."""

from collections.abc import Iterator
from typing import Any

from api.answers.profiles import Profile, profile_from
from api.answers.validity import validity_checks
from api.engineering.by_diameter import ByDiameter
from api.engineering.cylinder import cap_area, rod_side_area
from api.engineering.faults import NoAnswer
from api.engineering.thread_geometry import INCH
from api.refusals import errors_of
from schemas.faults import InvalidInput, load
from schemas.machine_answer import ProfileCheckAnswer
from schemas.output_units import OutputUnits
from schemas.profile import PROFILE
from schemas.quantity_fields import output_units

ANSWER = ProfileCheckAnswer()


def check_profile(given: Any, system: str) -> dict[str, Any]:
    """The answer of ``/v1/profile-check``: faults by pointer, cautions, and areas in a system of units."""
    token = output_units.set(OutputUnits(system))
    try:
        checked: dict[str, Any] = ANSWER.dump(_checked(given, system))
    finally:
        output_units.reset(token)
    return checked


def _checked(given: Any, system: str) -> dict[str, Any]:
    nothing = dict.fromkeys(("hash", "cap_area", "rod_side_area", "area_ratio"))
    try:
        profile = profile_from(given, load(PROFILE, given))
    except InvalidInput as refusal:
        return {"valid": False, "faults": errors_of(refusal, given, system), "cautions": [], **nothing}
    cap, rod = cap_area(profile.cylinder), rod_side_area(profile.cylinder)
    return {
        "valid": True,
        "faults": [],
        "cautions": list(_cautions(profile)),
        "hash": profile.version.hash,
        "cap_area": cap,
        "rod_side_area": rod,
        "area_ratio": cap / rod,
    }


def _cautions(profile: Profile) -> Iterator[str]:
    for check in validity_checks(profile.governance, None, refuse_unfit=False):
        if check.caution:
            yield check.caution
    if profile.governance.calibration_due is None:
        yield "The profile names no calibration."
    yield from _pressure_cautions(profile)
    yield from _arm_cautions(profile)


def _pressure_cautions(profile: Profile) -> Iterator[str]:
    limits = profile.limits
    for name, gauge in profile.gauges.items():
        weakest = min(limits.rated_cylinder, limits.rated_hoses, gauge.span * gauge.pascals)
        if limits.relief_full_flow > weakest:
            yield f"Relief at full flow lies above a rating: every {name.replace('_', '-')} will be refused."
    for name, pressure in (
        ("lowest setting", limits.lowest_setting),
        ("breakaway pressure", profile.breakaway_pressure),
        ("return pressure", profile.return_pressure),
    ):
        if pressure >= limits.relief_cracking:
            yield f"The {name} is not below relief cracking: this machine can make nothing up."
    make_up, break_out = profile.gauges["make_up"], profile.gauges["break_out"]
    if make_up.serial == break_out.serial and make_up != break_out:
        yield f"Gauge {make_up.serial} is described in two ways."


def _arm_cautions(profile: Profile) -> Iterator[str]:
    smallest, largest = profile.limits.smallest_diameter, profile.limits.largest_diameter
    diameters = {smallest, largest}
    for distance in (profile.arm_radius, profile.base_distance):
        if isinstance(distance, ByDiameter):
            diameters |= {diameter for diameter, _ in distance.points if smallest <= diameter <= largest}
    for diameter in sorted(diameters):
        try:
            machine = profile.machine(diameter)
            for length in (profile.cylinder.closed_length, profile.cylinder.open_length):
                machine.moment_arm(length)
        except NoAnswer as refusal:
            shown = f"{diameter / INCH:.6g} in ({diameter * 1000:.6g} mm)"
            yield f"With an outside diameter of {shown} in the grip: {refusal.faults[0].code}."
