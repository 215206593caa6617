"""What jaws, and the cylinder that closes them, say to a torque."""

from collections.abc import Mapping
from typing import Any

from api.answers.grip_hold import Held, Hold
from api.engineering.checks import at_most
from api.engineering.cylinder import Piston
from api.engineering.grip import friction_to_lock
from api.engineering.grip_cylinder import GripCylinder, pressure_for_squeeze, travel_used


def jaws(part: Mapping[str, Any], hold: Hold) -> Held:
    """Rating and self-tightening of the jaws."""
    rating = at_most(
        "squeeze_rating",
        "squeeze_rating_exceeded",
        "squeeze {value} against the rating of the jaws {limit}",
        "force",
        hold.squeeze,
        part["rated_squeeze"],
    )
    if "wedge_angle" not in part:
        return Held({"friction_to_lock": None, "wedge": "none"}, (rating,))
    needed = friction_to_lock(part["wedge_angle"])
    caution = (
        "At this friction the jaws do not tighten themselves: the squeeze must come from what closes them."
    )
    if hold.friction > needed:
        return Held({"friction_to_lock": needed, "wedge": "locks"}, (rating,))
    return Held({"friction_to_lock": needed, "wedge": "does_not_lock"}, (rating,), (caution,))


def grip_cylinder(part: Mapping[str, Any], hold: Hold) -> Held:
    """Travel and pressure of the cylinder that closes the jaws."""
    cylinder = GripCylinder(
        Piston(part["bore"], part["rod"]),
        part["squeezing_side"],
        part["stroke"],
        part["open_diameter"],
        part["travel_per_diameter"],
        part["efficiency"],
    )
    used = travel_used(cylinder, hold.outside_diameter)
    pressure = pressure_for_squeeze(cylinder, hold.needed_squeeze)
    checks = (
        at_most(
            "grip_opening",
            "grip_not_wide_enough",
            "outside diameter {value} against the widest opening of the jaws {limit}",
            "length",
            hold.outside_diameter,
            part["open_diameter"],
        ),
        at_most(
            "grip_travel",
            "grip_cylinder_at_end",
            "travel of the grip cylinder until the jaws touch {value} against its stroke {limit}",
            "length",
            max(0.0, used),
            part["stroke"],
        ),
        at_most(
            "grip_pressure",
            "grip_pressure_exceeded",
            "pressure of the grip cylinder {value} against its rating {limit}",
            "pressure",
            pressure,
            part["rated_pressure"],
        ),
    )
    return Held({"travel_used": used, "travel_left": part["stroke"] - used, "pressure": pressure}, checks)
