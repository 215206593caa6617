"""Whether a machine profile can be served, with every fault, and what it says of the machine."""

from collections.abc import Iterator, Mapping
from typing import Any

from api.answers.machines.profile import Profile, profile_from, validity_checks
from api.engineering.checks import NoAnswer
from api.engineering.machines.cylinder import Piston, cap_area, rod_side_area
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
    limits = profile.limits
    if limits.relief is None:
        return
    for name, gauge in profile.gauges.items():
        if limits.relief.full_flow > min(limits.ratings(gauge).values()):
            yield (
                "Relief at full flow lies above a rating. Dialset will refuse every "
                f"{name.replace('_', '-')}."
            )
    for name in ("lowest_setting", "breakaway_pressure", "return_pressure"):
        if profile.loaded.get(name, 0.0) >= limits.relief.cracking:
            words = name.replace("_", " ")
            yield f"The {words} is not below relief cracking. This machine can make nothing up."


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
