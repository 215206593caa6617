"""Whether a machine profile can be served, with every fault, and what it says of the machine."""

from collections.abc import Iterator
from typing import Any

from api.answers.profiles import Profile, profile_from
from api.answers.validity import validity_checks
from api.engineering.cylinder import cap_area, rod_side_area
from api.refusals import errors_of
from schemas.faults import InvalidInput, load
from schemas.machine_answer import ProfileCheckAnswer
from schemas.output_units import OutputUnits
from schemas.profile import PROFILE
from schemas.quantity_fields import output_units

ANSWER = ProfileCheckAnswer()


def check_profile(given: Any, system: str) -> dict[str, Any]:
    """The answer of ``/v1/profile-check``: faults by pointer, cautions, and the areas of the cylinder."""
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
    missing = [name for name in ("approved_by", "approved_on") if not profile.given.get(name)]
    if profile.governance.status == "approved" and missing:
        yield f"The profile is approved, but does not say: {', '.join(missing)}."
    if profile.governance.calibration_due is None:
        yield "The profile names no calibration."
    for name, gauge in profile.gauges.items():
        weakest = min(profile.limits.rated_cylinder, profile.limits.rated_hoses, gauge.span * gauge.pascals)
        if profile.limits.relief_full_flow > weakest:
            yield f"Relief at full flow lies above a rating: every {name.replace('_', '-')} will be refused."
