"""Whether a machine profile can be served, with every fault, and what it says of the machine."""

from collections.abc import Iterator, Mapping
from typing import Any

from api.answers.machines.chart import OPERATIONS
from api.answers.machines.job import Task, job_with
from api.answers.machines.machine_findings import relief_findings
from api.answers.machines.profile import Profile, profile_from, validity_checks
from api.engineering.checks import Finding, NoAnswer, findings_of, ranked
from api.engineering.gauges.gauge import Gauge
from api.engineering.machines.cylinder import ArmPosition, Operation, Piston, Turning, cap_area, rod_side_area
from api.engineering.machines.relief import Relief
from api.engineering.uncertainty.budget import check_half_widths
from api.refusals.errors import errors_of
from api.registry.examples import EXAMPLE_PROFILE
from api.registry.file_check import ANYTHING, FileCheck
from api.registry.tags import THE_MACHINE
from schemas.core.faults import InvalidInput
from schemas.core.quantity_fields import SystemOfUnits
from schemas.machines.answer import ProfileCheckAnswer
from schemas.machines.profile import load_profile


def check_profile(given: Any, system: str) -> dict[str, Any]:
    """What ``/v1/profile-check`` finds: faults by pointer, findings, and areas."""
    try:
        profile = profile_from(given, load_profile(given))
    except InvalidInput as refusal:
        faults = errors_of(refusal, given, system)
        return {"valid": False, "faults": faults, "findings": [], "hash": None, **_areas({})}
    return {
        "valid": True,
        "faults": [],
        "findings": ranked(_findings(profile)),
        "hash": profile.version.hash,
        **_areas(profile.loaded),
    }


CALIBRATION_MISSING = Finding(
    level="stop",
    code="calibration_missing",
    text="The profile names no calibration.",
    step="choose",
    remedy="Have the machine calibrated, or use another one.",
)


def _findings(profile: Profile) -> Iterator[Finding]:
    approval, _ = validity_checks(profile.governance, None, refuse_unfit=False)
    yield from findings_of([approval])
    if profile.governance.calibration_due is None:
        yield CALIBRATION_MISSING
    yield from _pressure_findings(profile)
    yield from profile.kind.findings(profile.loaded, profile.limits)
    yield from _tolerance_findings(profile)


def _areas(loaded: Mapping[str, Any]) -> dict[str, float | None]:
    """Areas of the cylinder, where the profile has one."""
    if "cylinder" not in loaded:
        return dict.fromkeys(("cap_area", "rod_side_area", "area_ratio"))
    parts = loaded["cylinder"]
    piston = Piston(parts["bore"], parts["rod"])
    cap, rod = cap_area(piston), rod_side_area(piston)
    return {"cap_area": cap, "rod_side_area": rod, "area_ratio": cap / rod}


def _pressure_findings(profile: Profile) -> Iterator[Finding]:
    relief, gauge = profile.limits.relief, profile.gauges["make_up"]
    if relief is None:
        return
    if profile.kind.machine is None:
        yield from _tensioner_relief(relief, gauge, min(profile.limits.ratings(gauge).values()))
    else:
        for operation in OPERATIONS:
            ends = _least_ends(profile, operation)
            yield from relief_findings(relief, ends, operation, profile.gauges[operation])
    for name in ("lowest_setting", "breakaway_pressure", "return_pressure"):
        if profile.loaded.get(name, 0.0) >= relief.cracking:
            yield Finding(
                level="stop",
                code="not_below_relief",
                text=f"The {name.replace('_', ' ')} is {{value}}. Relief cracks at {{limit}}.",
                step="relief",
                remedy="Correct the profile, or set relief higher. Until then this machine makes nothing up.",
                value=gauge.amount(profile.loaded[name]),
                limit=gauge.amount(relief.cracking),
            )


def _tensioner_relief(relief: Relief, gauge: Gauge, rating: float) -> Iterator[Finding]:
    """Whether the full flow of its relief valve overloads a tensioner."""
    if relief.full_flow > rating:
        yield Finding(
            level="stop",
            code="relief_above_rating",
            text="Relief passes full flow at {value}. The lowest rating is {limit}.",
            step="relief",
            remedy="Set relief lower. Until then Dialset refuses every preload.",
            value=gauge.amount(relief.full_flow),
            limit=gauge.amount(rating),
        )


def _least_ends(profile: Profile, operation: Operation) -> Mapping[str, float]:
    """The pressures that its parts bear, Pa, with the smallest or the largest diameter in the grip."""
    found: dict[str, float] = {}
    for diameter in profile.limits.diameters or (None,):
        for position in _POSITIONS:
            task = Task(Turning(operation, "right"), position, diameter, None, ())
            try:
                ends = job_with(profile, task).setup.ends
            except NoAnswer:
                continue
            found |= {part: min(end, found.get(part, end)) for part, end in ends.items()}
            break
    return found or profile.limits.ratings(profile.gauges[operation])


_POSITIONS: tuple[ArmPosition, ...] = ("unknown", "square")
"""The largest moment arm of the stroke, or where that is not known that of a square arm."""


def _tolerance_findings(profile: Profile) -> Iterator[Finding]:
    """Sizes that are not known, with the smallest outside diameter in the grip, where one matters."""
    smallest = profile.limits.diameters[0] if profile.limits.diameters else None
    try:
        check_half_widths(profile.machine(smallest), profile.half_widths)
    except NoAnswer as refusal:
        for fault in refusal.faults:
            if fault.code == "tolerance_too_wide":
                yield Finding(
                    level="stop",
                    code=fault.code,
                    text=f"{fault.text[0].upper()}{fault.text[1:]}.",
                    step="choose",
                    remedy="Measure it again. Until then Dialset refuses every question.",
                    amounts=fault.amounts,
                )


PROFILE_CHECK = FileCheck(
    name="profile-check",
    tag=THE_MACHINE,
    title="Check a machine profile",
    description="Tells every fault of a profile by JSON Pointer, before it is put into service. If you want "
    "a profile from measured torques, ask /v1/calibration.",
    operation="checkProfile",
    media_type="application/json",
    body={
        "description": "A profile.",
        "anyOf": [{"$ref": "#/components/schemas/MachineProfile"}, ANYTHING],
    },
    query=SystemOfUnits(),
    check=check_profile,
    response=ProfileCheckAnswer(),
    example=dict(EXAMPLE_PROFILE),
)
