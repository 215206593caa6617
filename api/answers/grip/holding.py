"""What jaws, chain and grip cylinder of a grip hold, each with its checks."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from api.engineering.checks import Amount, Check, Finding, at_most
from api.engineering.gauges.gauge import Gauge
from api.engineering.grip.chain import (
    Chain,
    LinkRange,
    chain_slip_torque,
    link_ranges,
    links_by_arc,
    links_by_chord,
    links_from_table,
    slack_tension,
    tension_ratio,
    tight_tension,
    whole_links,
)
from api.engineering.grip.squeeze import GripCylinder, friction_to_lock, pressure_for_squeeze, travel_used
from api.engineering.machines.cylinder import Piston


@dataclass(frozen=True)
class Hold:
    """The torque to be held and where, SI.

    Attributes:
        torque, outside_diameter, friction, margin: as given.
        squeeze: that of all jaws, needed for it or given, the larger.
        needed_squeeze: that needed.
        grip_range: smallest and largest outside diameter of the machine, where known.
        dial: the gauge of the machine on which the relief of its common supply is set; None for another.
    """

    torque: float
    outside_diameter: float
    friction: float
    margin: float
    squeeze: float
    needed_squeeze: float
    grip_range: tuple[float, float] | None
    dial: Gauge | None = None

    @property
    def radius(self) -> float:
        """The radius of the pipe, m."""
        return self.outside_diameter / 2


@dataclass(frozen=True)
class Held:
    """The result of one part, its checks, and its findings."""

    result: Mapping[str, Any]
    checks: tuple[Check, ...] = ()
    findings: tuple[Finding, ...] = ()


LAY_IT = "Lay the chain round the pipe before you cut it."
COARSE = 2.5
"""Outside diameter in pitches below which arc and chord rule are no longer close (published)."""


def chain(part: Mapping[str, Any], hold: Hold) -> Held:
    """Tensions of the chain, the tight one against its rated load."""
    laid = (hold.radius, hold.friction, part["wrap"])
    tight = tight_tension(hold.margin * hold.torque, *laid)
    slack = slack_tension(hold.margin * hold.torque, *laid)
    rating = at_most(
        name="chain_load",
        code="chain_load_exceeded",
        text="tension of the chain {value} against its rated load {limit}",
        kind="force",
        value=tight,
        limit=part["rated_load"],
    )
    result = {
        "tension_ratio": tension_ratio(hold.friction, part["wrap"]),
        "tight_tension": tight,
        "slack_tension": slack,
        "slip_torque_at_rated_load": chain_slip_torque(part["rated_load"], *laid),
    }
    return Held(result, (rating,))


def links(part: Mapping[str, Any], hold: Hold) -> Held:
    """Links by the table of the chain's maker, else by geometry.

    Raises:
        NoAnswer: ``diameter_not_in_link_table``, ``pitch_too_long``.
    """
    if "link_table" in part:
        table = [LinkRange(**row) for row in part["link_table"]]
        found = links_from_table(table, hold.outside_diameter)
        return Held({"links": found, "basis": "table", "by_arc": None, "by_chord": None, "ranges": table})
    laid = Chain(part["pitch"], part["pin_line_offset"], part["wrap"], part["tail_links"])
    arc = links_by_arc(laid, hold.outside_diameter)
    chord = links_by_chord(laid, hold.outside_diameter)
    result = {
        "links": whole_links(laid, arc),
        "basis": "rule",
        "by_arc": arc,
        "by_chord": chord,
        "ranges": list(link_ranges(laid, *hold.grip_range)) if hold.grip_range else [],
    }
    return Held(result, (), tuple(_link_findings(laid, hold, arc, chord)))


def _link_findings(laid: Chain, hold: Hold, arc: float, chord: float) -> Iterator[Finding]:
    fewer, links = whole_links(laid, chord), whole_links(laid, arc)
    if fewer != links:
        yield Finding(
            level="look",
            code="links_in_doubt",
            text=f"The arc rule gives {links} links, the chord rule {fewer}.",
            step="prepare_grip",
            remedy=LAY_IT,
            value=Amount("number", links),
            limit=Amount("number", fewer),
        )
    if hold.outside_diameter < COARSE * laid.pitch:
        yield Finding(
            level="look",
            code="coarse_chain",
            text=f"The outside diameter {{value}} is less than {COARSE:g} pitches of the chain, {{limit}}. "
            "Arc rule and chord rule are not close.",
            step="prepare_grip",
            remedy=LAY_IT,
            value=Amount("length", hold.outside_diameter),
            limit=Amount("length", COARSE * laid.pitch),
        )


def jaws(part: Mapping[str, Any], hold: Hold) -> Held:
    """Rating and self-tightening of the jaws."""
    rating = at_most(
        name="squeeze_rating",
        code="squeeze_rating_exceeded",
        text="squeeze {value} against the rating of the jaws {limit}",
        kind="force",
        value=hold.squeeze,
        limit=part["rated_squeeze"],
    )
    if "wedge_angle" not in part:
        return Held({"friction_to_lock": None, "wedge": "none"}, (rating,))
    needed = friction_to_lock(part["wedge_angle"])
    if hold.friction > needed:
        return Held({"friction_to_lock": needed, "wedge": "locks"}, (rating,))
    slides = Finding(
        level="look",
        code="jaws_do_not_lock",
        text=f"At friction {hold.friction:.3g} the jaws do not tighten themselves. They need {needed:.3g}.",
        step="prepare_grip",
        remedy="Make sure that the closing device supplies the whole squeeze.",
        value=Amount("number", hold.friction),
        limit=Amount("number", needed),
    )
    return Held({"friction_to_lock": needed, "wedge": "does_not_lock"}, (rating,), (slides,))


def grip_cylinder_of(part: Mapping[str, Any]) -> GripCylinder:
    """The cylinder that closes the jaws, as a request or a profile describes it."""
    return GripCylinder(
        Piston(part["bore"], part["rod"]),
        part["squeezing_side"],
        part["stroke"],
        part["open_diameter"],
        part["travel_per_diameter"],
        part["efficiency"],
    )


def grip_cylinder(part: Mapping[str, Any], hold: Hold) -> Held:
    """Travel and pressure of the cylinder that closes the jaws."""
    cylinder = grip_cylinder_of(part)
    used = travel_used(cylinder, hold.outside_diameter)
    pressure = pressure_for_squeeze(cylinder, hold.needed_squeeze)
    checks = (
        at_most(
            name="grip_opening",
            code="grip_not_wide_enough",
            text="outside diameter {value} against the widest opening of the jaws {limit}",
            kind="length",
            value=hold.outside_diameter,
            limit=part["open_diameter"],
        ),
        at_most(
            name="grip_travel",
            code="grip_cylinder_at_end",
            text="travel of the grip cylinder until the jaws touch {value} against its stroke {limit}",
            kind="length",
            value=max(0.0, used),
            limit=part["stroke"],
        ),
        at_most(
            name="grip_pressure",
            code="grip_pressure_exceeded",
            text="pressure of the grip cylinder {value} against its rating {limit}",
            kind="pressure",
            shown=hold.dial.amount if hold.dial else None,
            value=pressure,
            limit=part["rated_pressure"],
        ),
    )
    return Held({"travel_used": used, "travel_left": part["stroke"] - used, "pressure": pressure}, checks)
