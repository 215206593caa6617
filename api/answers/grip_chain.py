"""What a chain laid round the pipe says to a torque: its tensions and its links."""

from collections.abc import Iterator, Mapping
from typing import Any

from api.answers.grip_hold import Held, Hold
from api.engineering.chain import chain_slip_torque, slack_tension, tension_ratio, tight_tension
from api.engineering.chain_links import (
    Chain,
    LinkRange,
    link_ranges,
    links_by_arc,
    links_by_chord,
    links_from_table,
    whole_links,
)
from api.engineering.checks import at_most

COARSE = 2.5
"""Outside diameter in pitches below which arc and chord rule are no longer close (published)."""


def chain(part: Mapping[str, Any], hold: Hold) -> Held:
    """Tensions of the chain, the tight one against its rated load."""
    laid = (hold.radius, hold.friction, part["wrap"])
    tight = tight_tension(hold.margin * hold.torque, *laid)
    slack = slack_tension(hold.margin * hold.torque, *laid)
    rating = at_most(
        "chain_load",
        "chain_load_exceeded",
        "tension of the chain {value} against its rated load {limit}",
        "force",
        tight,
        part["rated_load"],
    )
    result = {
        "tension_ratio": tension_ratio(hold.friction, part["wrap"]),
        "tight_tension": tight,
        "slack_tension": slack,
        "slip_torque_at_rated_load": chain_slip_torque(part["rated_load"], *laid),
    }
    cautions = (
        "The slack side of the chain must be held; a chain that hangs loose holds nothing.",
        "Inspect pins and plates of the chain; never join it with a bolt; a chain that has stretched 3 % is "
        "out of use.",
    )
    return Held(result, (rating,), cautions)


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
    return Held(result, (), tuple(_link_cautions(laid, hold, arc, chord)))


def _link_cautions(laid: Chain, hold: Hold, arc: float, chord: float) -> Iterator[str]:
    fewer = whole_links(laid, chord)
    if fewer != whole_links(laid, arc):
        yield f"By the chord rule {fewer} links reach: lay the chain round the pipe before it is cut."
    if hold.outside_diameter < COARSE * laid.pitch:
        yield (
            "The pitch of the chain is coarse for this outside diameter, and arc and chord rule are not "
            "close: lay the chain round the pipe before it is cut."
        )
