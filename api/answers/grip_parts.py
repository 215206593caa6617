"""The parts of a grip: which are described, and what each says to a torque."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from api.answers.grip_chain import chain, links
from api.answers.grip_hold import Held, Hold
from api.answers.grip_jaws import grip_cylinder, jaws
from api.answers.profiles import Profile
from api.engineering.checks import Check
from api.engineering.faults import NoAnswer, refuse
from api.engineering.provenance import Source


@dataclass(frozen=True)
class GripPart:
    """A part of the answer: the part of the profile it needs, and where its equation comes from."""

    member: str
    hold: Callable[[Mapping[str, Any], Hold], Held]
    source: Source


PARTS: Mapping[str, GripPart] = {
    "jaws": GripPart("jaws", jaws, Source("jaws that tighten themselves", "read", "tan(wedge angle) < mu")),
    "chain": GripPart(
        "chain", chain, Source("tension of the chain", "read", "capstan: T1 / T2 = e^(mu theta), at the pipe")
    ),
    "links": GripPart(
        "chain", links, Source("links of the chain", "read", "pins on a circle: arc, and chord beside it")
    ),
    "grip_cylinder": GripPart(
        "grip_cylinder",
        grip_cylinder,
        Source("grip cylinder", "read", "virtual work: N = 2 F efficiency travel/diameter"),
    ),
}


@dataclass(frozen=True)
class Found:
    """What the parts say: each by its name, null with a fault as ``name_reason`` where it says nothing."""

    results: dict[str, Any] = field(default_factory=dict)
    held: list[Held] = field(default_factory=list)
    sources: list[Source] = field(default_factory=list)

    @property
    def checks(self) -> list[Check]:
        """Of all parts."""
        return [check for held in self.held for check in held.checks]


def described_parts(values: Mapping[str, Any], profile: Profile | None) -> dict[str, Any]:
    """The parts by name, from the request or from the profile.

    Raises:
        NoAnswer: ``contradiction`` for a part that both describe.
    """
    parts = {}
    for member in {part.member: None for part in PARTS.values()}:
        own = profile.loaded.get(member) if profile else None
        if own and member in values:
            detail = f"the profile of the machine has its own {member}; leave one of them out"
            raise refuse("contradiction", detail, member)
        parts[member] = values.get(member, own)
    return parts


def found_parts(described: Mapping[str, Any], hold: Hold) -> Found:
    """What every part says, or why it says nothing."""
    found = Found()
    for name, part in PARTS.items():
        given = described[part.member]
        try:
            if given is None:
                text = f"neither the request nor the profile of a machine describes {part.member}"
                raise refuse("part_not_described", text)
            held = part.hold(given, hold)
        except NoAnswer as refusal:
            found.results.update({name: None, f"{name}_reason": refusal.faults[0]})
            continue
        found.results.update({name: held.result, f"{name}_reason": None})
        found.held.append(held)
        found.sources.append(part.source)
    return found
