"""A profile of kind calibrated is refused wherever its points could be read two ways."""

from collections.abc import Callable
from typing import Any

import pytest
from machines import profile

from schemas.core.faults import InvalidInput, load
from schemas.machine_kinds.calibrated import CalibratedProfile

PARTS = ("cylinder", "arm_radius", "base_distance", "efficiency", "breakaway_pressure", "return_pressure")


def calibrated() -> dict[str, Any]:
    """An invented profile: two sides at square."""
    points = [{"pressure": f"{psi} psi", "torque": f"{54 * psi} ft-lb"} for psi in (500, 1500, 2500)]
    made = profile(kind="calibrated", **dict.fromkeys(PARTS))
    made["calibrated"] = {
        "position": "square",
        "expanded_uncertainty_percent": 1.2,
        "sides": {
            "cap": {"gauge_serial": "EX-1", "points": points},
            "rod": {"gauge_serial": "EX-2", "points": [dict(point) for point in points[:2]]},
        },
    }
    return made


def test_as_it_should_be() -> None:
    loaded = load(CalibratedProfile(), calibrated())
    points = loaded["calibrated"]["sides"]["rod"]["points"]
    assert [point["torque"] for point in points] == pytest.approx(
        [36607.0846, 109821.2538]
    )  # 27,000, 81,000 ft-lb


def at_sides(change: Callable[[dict[str, Any]], None]) -> Callable[[dict[str, Any]], None]:
    return lambda made: change(made["calibrated"]["sides"])


@pytest.mark.parametrize(
    ("change", "code", "place"),
    [
        (
            at_sides(lambda sides: sides["rod"]["points"][1].update(torque="27000 ft-lb")),
            "contradiction",
            ("calibrated", "sides", "rod", "points"),
        ),
        (
            at_sides(lambda sides: sides["rod"]["points"].reverse()),
            "contradiction",
            ("calibrated", "sides", "rod", "points"),
        ),
        (
            at_sides(lambda sides: sides["cap"].update(points=sides["cap"]["points"][:1])),
            "contradiction",
            ("calibrated", "sides", "cap", "points"),
        ),
        (
            at_sides(lambda sides: sides["cap"]["points"][0].update(torque=27000)),
            "bare_number",
            ("calibrated", "sides", "cap", "points", 0, "torque"),
        ),
        (at_sides(lambda sides: sides.clear()), "missing_field", ("calibrated", "sides")),
        (
            at_sides(lambda sides: sides.update(both=sides.pop("cap"))),
            "unknown_field",
            ("calibrated", "sides", "both"),
        ),
        (
            lambda made: made["calibrated"].update(position="unknown"),
            "not_a_choice",
            ("calibrated", "position"),
        ),
        (
            lambda made: made["calibrated"].pop("expanded_uncertainty_percent"),
            "missing_field",
            ("calibrated", "expanded_uncertainty_percent"),
        ),
        (lambda made: made.pop("calibration"), "missing_field", ("calibration",)),
        (
            lambda made: made["rated_pressure"].update(motor="3000 psi"),
            "contradiction",
            ("rated_pressure", "cylinder"),
        ),
        (
            lambda made: made["rated_pressure"].pop("cylinder"),
            "contradiction",
            ("rated_pressure", "cylinder"),
        ),
        (lambda made: made.update(arm_radius="36 in"), "unknown_field", ("arm_radius",)),
    ],
)
def test_refused(change: Callable[[dict[str, Any]], None], code: str, place: tuple[Any, ...]) -> None:
    made = calibrated()
    change(made)
    with pytest.raises(InvalidInput) as refusal:
        load(CalibratedProfile(), made)
    assert [(fault.code, fault.path) for fault in refusal.value.faults] == [(code, place)]
