"""Machine profiles: from a checked profile to the machine, its limits and its gauges; and the folder."""

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

from api.answers.answer import ProfileVersion
from api.engineering.by_diameter import ByDiameter, Distance, distance_at
from api.engineering.cylinder import Cylinder, Side
from api.engineering.gauge import Gauge
from api.engineering.limits import Limits
from api.engineering.machines.cylinder_on_arm import CylinderOnArm
from api.engineering.machines.machine import Efficiency
from schemas.faults import InvalidInput, load
from schemas.profile import PROFILE
from schemas.strict_json import Malformed, read_json

LARGEST_FILE = 64 * 1024
"""Bytes of a profile file; more is no profile."""


@dataclass(frozen=True)
class Governance:
    """Who answers for a profile, and when it holds."""

    status: str
    approved_by: str | None
    approved_on: date | None
    effective_from: date | None
    effective_to: date | None
    certificate: str | None
    calibration_due: date | None


@dataclass(frozen=True)
class Profile:
    """A checked profile: as given, and as the engineering objects it describes."""

    given: Mapping[str, Any]
    version: ProfileVersion
    governance: Governance
    cylinder: Cylinder
    arm_radius: Distance
    base_distance: Distance
    right_hand_make_up_side: Side
    efficiency: Efficiency
    breakaway_pressure: float
    return_pressure: float
    limits: Limits
    gauges: Mapping[str, Gauge]

    def machine(self, gripped_diameter: float | None) -> CylinderOnArm:
        """The machine as it grips an outside diameter (m); None where that is not known.

        Raises:
            NoAnswer: ``gripped_diameter_required``, ``diameter_not_in_table``.
        """
        return CylinderOnArm(
            self.cylinder,
            distance_at(self.arm_radius, gripped_diameter),
            distance_at(self.base_distance, gripped_diameter),
            self.right_hand_make_up_side,
            self.efficiency,
            self.breakaway_pressure,
            self.return_pressure,
        )


@dataclass(frozen=True)
class ProfileFolder:
    """The profiles of a folder by id, and what is wrong with the files that are none."""

    profiles: Mapping[str, Profile]
    faults: Mapping[str, str]


def profile_from(given: Mapping[str, Any], loaded: Mapping[str, Any]) -> Profile:
    """The profile of a checked request member or file."""
    canonical = json.dumps(given, sort_keys=True, separators=(",", ":")).encode()
    version = ProfileVersion(loaded["id"], loaded["revision"], hashlib.sha256(canonical).hexdigest()[:12])
    relief, rated, diameter = loaded["relief"], loaded["rated_pressure"], loaded["outside_diameter"]
    return Profile(
        given=given,
        version=version,
        governance=_governance(loaded),
        cylinder=Cylinder(**loaded["cylinder"]),
        arm_radius=_distance(loaded["arm_radius"]),
        base_distance=_distance(loaded["base_distance"]),
        right_hand_make_up_side=loaded["right_hand_make_up_side"],
        efficiency=Efficiency(**loaded["efficiency"]),
        breakaway_pressure=loaded["breakaway_pressure"],
        return_pressure=loaded["return_pressure"],
        limits=Limits(
            relief_cracking=relief["cracking"],
            relief_full_flow=relief["full_flow"],
            rated_cylinder=rated["cylinder"],
            rated_hoses=rated["hoses"],
            torque_rating=loaded["torque_rating"],
            smallest_diameter=diameter["minimum"],
            largest_diameter=diameter["maximum"],
            lowest_setting=loaded["lowest_setting"],
        ),
        gauges={operation: _gauge(dial) for operation, dial in loaded["gauges"].items()},
    )


def _governance(loaded: Mapping[str, Any]) -> Governance:
    calibration = loaded.get("calibration") or {}
    return Governance(
        status=loaded["status"],
        approved_by=loaded.get("approved_by"),
        approved_on=loaded.get("approved_on"),
        effective_from=loaded.get("effective_from"),
        effective_to=loaded.get("effective_to"),
        certificate=calibration.get("certificate"),
        calibration_due=calibration.get("due"),
    )


def _distance(loaded: float | list[dict[str, float]]) -> Distance:
    if isinstance(loaded, float):
        return loaded
    return ByDiameter(tuple((row["outside_diameter"], row["distance"]) for row in loaded))


def _gauge(dial: Mapping[str, Any]) -> Gauge:
    return Gauge(
        serial=dial["serial"],
        unit=dial["span"].unit.code,
        span=dial["span"].value,
        division=dial["division"].value,
        pascals=dial["span"].unit.factor,
        accuracy_percent_of_span=dial["accuracy_percent_of_span"],
        connected_at=dial["connected_at"],
    )


def read_folder(folder: Path | None) -> ProfileFolder:
    """Every ``*.json`` of a folder as a profile. A bad file is named with its fault and is no profile.

    Of two files with one id neither is served: which one is right cannot be known from here.
    """
    profiles: dict[str, Profile] = {}
    faults: dict[str, str] = {}
    files: dict[str, str] = {}
    for path in sorted(folder.glob("*.json")) if folder else ():
        try:
            profile = _read_file(path)
        except (OSError, Malformed, InvalidInput) as error:
            faults[path.name] = str(error)[:2000]
            continue
        profile_id = profile.version.id
        if profile_id in files:
            first = files[profile_id]
            faults[path.name] = f"the id {profile_id} also stands in {first}; neither is served"
            faults.setdefault(first, f"the id {profile_id} also stands in {path.name}; neither is served")
            profiles.pop(profile_id, None)
            continue
        files[profile_id] = path.name
        profiles[profile_id] = profile
    return ProfileFolder(profiles, faults)


def _read_file(path: Path) -> Profile:
    if path.is_symlink() or not path.is_file():
        raise OSError("not a regular file")
    if path.stat().st_size > LARGEST_FILE:
        raise OSError(f"larger than {LARGEST_FILE} bytes")
    given = read_json(path.read_bytes())
    return profile_from(given, load(PROFILE, given))
