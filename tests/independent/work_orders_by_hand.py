"""The work orders of the invented shop worked a second time, with nothing of the program under test.

Lengths and statics are written out here; the make-up torque is that of `rotary_shouldered_us` for the thread
dimensions of the published table.
"""

import csv
import re
from collections.abc import Mapping
from fractions import Fraction
from itertools import pairwise
from math import acos, ceil, pi, sin
from pathlib import Path
from typing import Any

from rotary_shouldered_us import make_up

CONNECTIONS = Path(__file__).parents[2] / "api" / "reference" / "connections.csv"
SI = {"in": 0.0254, "mm": 0.001, "psi": 6894.757293168362, "bar": 1e5}
FT_LB = 1.3558179483314004  # N.m
SIGNS = {"¼": "1/4", "½": "1/2", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
COLLAR_STRESS = {"90-V-0.050": 56200.0, "V-0.076": 87500.0}  # psi: H-90 and PAC; all others 62,500
Order = Mapping[str, str]


def inches(text: str) -> float:
    """A length of the file in inches, bare numbers being inches."""
    if text.endswith(" mm"):
        return float(text.removesuffix(" mm")) / 25.4
    text = re.sub(f"[{''.join(SIGNS)}]", lambda sign: f" {SIGNS[sign[0]]}", text.removesuffix(" in"))
    return float(sum(Fraction(part) for part in re.split("[ -]+", text.strip())))


def thread_rows() -> dict[str, dict[str, str]]:
    """The rows of the thread table by every name under which the file has a connection."""
    rows: dict[str, dict[str, str]] = {}
    with CONNECTIONS.open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            for name in (row["designation"], *row["aliases"].split(";")):
                rows |= {name: row, name.replace("-1/2", "½"): row, name.replace("NC", "NC "): row}
    return rows


def make_up_torque(order: Order, row: Mapping[str, str]) -> float:
    """Torque in ft-lb, at the stress levels of API RP 7G; 72,000 psi for tool joints."""
    tool_joint = order["component"] == "tool_joint"
    stress = 72000.0 if tool_joint else COLLAR_STRESS.get(row["thread_form"], 62500.0)
    low_torque_face = "low_torque_face_" if order["low_torque_face"] == "yes" else ""
    return make_up(
        tpi=float(row["threads_per_inch"]),
        taper_in_per_ft=float(row["taper_in_per_ft"]),
        C=float(row["pitch_diameter [in]"]),
        Lpc=float(row["pin_length [in]"]),
        Qc=float(row[f"{low_torque_face}counterbore [in]"]),
        H=float(row["thread_height [in]"]),
        Srs=float(row["root_truncation [in]"]),
        half_angle_deg=float(row["half_angle_degrees"]),
        OD=inches(order["box_outside_diameter [in]"]),
        ID=inches(order["pin_bore [in]"]),
        pin_stress=stress,
        box_stress=stress,
        compound_factor=float(order["compound_friction_factor"] or 1),
        capped=True,
    )["torque_ftlb"]


def stated_torque(text: str) -> float:
    """A torque of the file in ft-lb."""
    number, unit = text.split()
    return float(number) * {"kN.m": 1000 / FT_LB, "kft-lb": 1000.0}.get(unit, 1.0)


def cylinder_side(order: Order, profile: Mapping[str, Any]) -> str:
    """The side under pressure: a left-hand thread turns it over, and so does a break-out."""
    usual = str(profile["right_hand_make_up_side"])
    other = "cap" if usual == "rod" else "rod"
    return usual if (order["operation"] == "make_up") == (order["thread_hand"] == "right") else other


def torque_at(order: Order, profile: Mapping[str, Any], pressure: float) -> float:
    """Torque in ft-lb at a pressure in Pa: T = h e (A (p - p_breakaway) - A' p_return)."""
    cap = pi / 4 * si(profile["cylinder"]["bore"]) ** 2
    rod = cap - pi / 4 * si(profile["cylinder"]["rod"]) ** 2
    driven, returning = (cap, rod) if cylinder_side(order, profile) == "cap" else (rod, cap)
    drive = driven * (pressure - si(profile["breakaway_pressure"]))
    force = drive - returning * si(profile["return_pressure"])
    return moment_arm(order, profile) * profile["efficiency"]["nominal"] * force / FT_LB


def moment_arm(order: Order, profile: Mapping[str, Any]) -> float:
    """In m: square it is the arm, which is also the largest of the stroke; else by the law of cosines."""
    gripped = inches(order["gripped_outside_diameter"] or order["box_outside_diameter [in]"] or "0")
    arm, base = (distance_at(profile[name], gripped) for name in ("arm_radius", "base_distance"))
    if order["arm_position"] in ("square", "unknown"):
        return arm
    length = si(order["arm_position"].replace(" 1/2", ".5"))
    return arm * base * sin(acos((arm**2 + base**2 - length**2) / (2 * arm * base))) / length


def distance_at(distance: Any, diameter: float) -> float:
    """A distance of a profile in m, for a gripped diameter in inches."""
    if isinstance(distance, str):
        return si(distance)
    for low, high in pairwise(distance):
        left, right = inches(low["outside_diameter"]), inches(high["outside_diameter"])
        if left <= diameter <= right:
            share = (diameter - left) / (right - left)
            return (1 - share) * si(low["distance"]) + share * si(high["distance"])
    raise ValueError(diameter)


def si(text: str) -> float:
    """A length in m or a pressure in Pa, as profiles write it."""
    number, unit = text.split()
    return float(number) * SI[unit]


MARGIN = 0.10  # relief above what is needed, as the policy of the invented shop has it


def too_much_for_relief(order: Order, profile: Mapping[str, Any], torque: float, at_a_mark: bool) -> bool:
    """Whether no relief lets a torque (ft-lb) through with its margin and protects the machine.

    The least that relief can crack at is a mark of the dial on which it is set, at least 10 % above the
    pressure of the torque (or, where that is a setting, of the mark at or above it). Full flow, by the
    override higher, must stay within every rating, the dials and the pressure at which the highest efficiency
    reaches the rating.
    """
    gauges = profile["gauges"]
    own = gauges[order["operation"]]
    shown = gauges.get("system", own)
    needed = pressure_of(order, profile, torque, "nominal")
    if at_a_mark:
        needed = marks_up(needed, own)
    relief = profile["relief"]
    lowest, highest = (
        si(relief.get("lowest", relief.get("cracking"))),
        si(relief.get("highest", relief.get("cracking"))),
    )
    override = si(relief["override"]) if "override" in relief else si(relief["full_flow"]) - highest
    cracking = lowest if "cracking" in relief else marks_up(max(lowest, needed * (1 + MARGIN)), shown)
    ends = [*map(si, profile["rated_pressure"].values()), si(own["span"]), si(shown["span"])]
    ends.append(pressure_of(order, profile, ft_lb(profile["torque_rating"]), "high"))
    enough = cracking >= needed * (1 + MARGIN) * (1 - 1e-12)
    return not (
        enough and cracking <= highest * (1 + 1e-12) and cracking + override <= min(ends) * (1 + 1e-12)
    )


def marks_up(pressure: float, dial: Mapping[str, Any]) -> float:
    """A pressure rounded up to a mark of a dial, Pa."""
    division = si(dial["division"])
    return division * ceil(pressure / division * (1 - 1e-12))


def pressure_of(order: Order, profile: Mapping[str, Any], torque: float, efficiency: str) -> float:
    """The pressure in Pa at which a torque (ft-lb) is reached; torque rises with it along a straight line."""
    at_zero, at_one = (torque_at(order, profile, pressure) for pressure in (0.0, 1e6))
    share = profile["efficiency"]["nominal"] / profile["efficiency"][efficiency]
    return (torque * share - at_zero) / (at_one - at_zero) * 1e6


def ft_lb(text: str) -> float:
    """A torque of a profile in ft-lb."""
    number, unit = text.split()
    return float(number) * {"kN.m": 1000 / FT_LB, "ft-lb": 1.0}[unit]
