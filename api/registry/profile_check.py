"""Whether a machine profile can be served, with every fault, and what it says of the machine."""

from collections.abc import Iterator, Mapping
from typing import Any

from api.answers.machines.chart import OPERATIONS
from api.answers.machines.job import job_with
from api.answers.machines.profile import Profile, profile_from, validity_checks
from api.answers.machines.relief import machine_ends
from api.answers.machines.task import Task
from api.engineering.checks import NOISE, NoAnswer
from api.engineering.machines.arm import ArmPosition
from api.engineering.machines.cylinder import Operation, Piston, Turning, cap_area, rod_side_area
from api.engineering.machines.relief import Relief
from api.engineering.uncertainty.budget import check_half_widths
from api.refusals.errors import errors_of
from api.registry.examples import EXAMPLE_PROFILE
from api.registry.file_check import FileCheck
from schemas.core.faults import InvalidInput
from schemas.core.quantity_fields import SystemOfUnits
from schemas.machines.answer import ProfileCheckAnswer
from schemas.machines.profile import load_profile


def check_profile(given: Any, system: str) -> dict[str, Any]:
    """What ``/v1/profile-check`` finds: faults by pointer, cautions, and areas."""
    try:
        profile = profile_from(given, load_profile(given))
    except InvalidInput as refusal:
        faults = errors_of(refusal, given, system)
        return {"valid": False, "faults": faults, "cautions": [], "hash": None, **_areas({})}
    return {
        "valid": True,
        "faults": [],
        "cautions": list(_cautions(profile)),
        "hash": profile.version.hash,
        **_areas(profile.loaded),
    }


def _cautions(profile: Profile) -> Iterator[str]:
    for check in validity_checks(profile.governance, None, refuse_unfit=False):
        if check.caution:
            yield check.caution
    if profile.governance.calibration_due is None:
        yield "The profile names no calibration."
    yield from _pressure_cautions(profile)
    yield from profile.kind.cautions(profile.loaded, profile.limits)
    yield from _tolerance_cautions(profile)


def _areas(loaded: Mapping[str, Any]) -> dict[str, float | None]:
    """Areas of the cylinder, where the profile has one."""
    if "cylinder" not in loaded:
        return dict.fromkeys(("cap_area", "rod_side_area", "area_ratio"))
    parts = loaded["cylinder"]
    piston = Piston(parts["bore"], parts["rod"])
    cap, rod = cap_area(piston), rod_side_area(piston)
    return {"cap_area": cap, "rod_side_area": rod, "area_ratio": cap / rod}


def _pressure_cautions(profile: Profile) -> Iterator[str]:
    relief = profile.limits.relief
    if relief is None:
        return
    if profile.kind.machine is None:
        if relief.full_flow > min(profile.limits.ratings(profile.gauges["make_up"]).values()):
            yield "Relief at full flow lies above a rating. Dialset will refuse every preload."
    else:
        yield from _relief_cautions(profile, relief)
    for name in ("lowest_setting", "breakaway_pressure", "return_pressure"):
        if profile.loaded.get(name, 0.0) >= relief.cracking:
            words = name.replace("_", " ")
            yield f"The {words} is not below relief cracking. This machine can make nothing up."


def _relief_cautions(profile: Profile, relief: Relief) -> Iterator[str]:
    """Whether the full flow of the relief valve overloads the machine, operation by operation."""
    for operation in OPERATIONS:
        ends = _least_ends(profile, operation)
        part = min(ends, key=lambda name: ends[name])
        upper, words = ends[part] - relief.override, operation.replace("_", "-")
        if relief.lowest > upper * (1 + NOISE):
            at = "full flow" if relief.fixed else "its lowest setting"
            yield f"Relief at {at} overloads the machine: {part}. Dialset will refuse every {words}."
        elif relief.highest > upper * (1 + NOISE):
            gauge = profile.gauges[operation]
            most = f"{upper / gauge.unit_in_si:.4g} {gauge.unit}"
            yield f"For {words}, set relief to at most {most}. Above that it overloads the machine: {part}."


def _least_ends(profile: Profile, operation: Operation) -> Mapping[str, float]:
    """The pressures that its parts bear, Pa, with the smallest or the largest diameter in the grip."""
    found: dict[str, float] = {}
    for diameter in profile.limits.diameters or (None,):
        for position in _POSITIONS:
            task = Task(Turning(operation, "right"), position, diameter, None, ())
            try:
                ends = machine_ends(job_with(profile, task))
            except NoAnswer:
                continue
            found |= {part: min(end, found.get(part, end)) for part, end in ends.items()}
            break
    return found or profile.limits.ratings(profile.gauges[operation])


_POSITIONS: tuple[ArmPosition, ...] = ("unknown", "square")
"""The largest moment arm of the stroke, or where that is not known that of a square arm."""


def _tolerance_cautions(profile: Profile) -> Iterator[str]:
    """Sizes that are not known, with the smallest outside diameter in the grip, where one matters."""
    smallest = profile.limits.diameters[0] if profile.limits.diameters else None
    try:
        check_half_widths(profile.machine(smallest), profile.half_widths)
    except NoAnswer as refusal:
        for fault in refusal.faults:
            if fault.code == "tolerance_too_wide":
                yield f"Dialset refuses every question: {fault.text}."


PROFILE_CHECK = FileCheck(
    name="profile-check",
    title="Check a machine profile",
    description="Tells every fault of a profile by JSON Pointer, before it is put into service.",
    operation="checkProfile",
    media_type="application/json",
    body={"description": "A profile; see MachineProfile."},
    query=SystemOfUnits(),
    check=check_profile,
    response=ProfileCheckAnswer(),
    example=dict(EXAMPLE_PROFILE),
)
