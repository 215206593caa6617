"""Profiles of machines: one schema a kind."""

from collections.abc import Mapping
from typing import Any

from schemas.base import Request
from schemas.faults import chosen, load
from schemas.machine_kinds.cylinder_on_arm import CylinderOnArmProfile

PROFILES: Mapping[str, Request] = {
    "cylinder_on_arm": CylinderOnArmProfile(),
}
"""The schema of a profile by its ``kind``."""


def load_profile(given: Any) -> dict[str, Any]:
    """A profile as plain values in SI.

    Raises:
        InvalidInput: with every fault, or with that of the kind alone, on which the other fields depend.
    """
    return load(chosen(PROFILES, given, "kind"), given)
