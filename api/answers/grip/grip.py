"""Whether a grip holds a torque: squeeze, and what each of its parts says."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from api.answers.answer import Answer
from api.answers.grip.holding import Held, Hold, chain, grip_cylinder, jaws, links
from api.answers.machine_kinds import stud_tensioner
from api.answers.machines.job import profile_of
from api.answers.machines.profile import Profile, validity_checks
from api.answers.shop import Shop
from api.answers.standing_notices import (
    BOTH_GRIPS,
    CHAIN_INSPECTED,
    COMPUTED,
    HANDS_OFF,
    SHARP_DIES,
    SLACK_SIDE,
    WHERE_TO_GRIP,
    StandingNotice,
)
from api.engineering.checks import (
    NOISE,
    Amount,
    Check,
    Fault,
    Finding,
    NoAnswer,
    at_least,
    at_most,
    findings_of,
    refuse,
)
from api.engineering.gauges.gauge import Gauge
from api.engineering.grip.squeeze import slip_torque, squeeze_for_torque
from api.engineering.machines.limits import diameter_check
from api.engineering.provenance import Knowable, Known, Source, known, why_not
from api.engineering.working import Step
from api.reference.grip_friction import FRICTION


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
    """The results of the parts by name, or the reason for none."""

    results: dict[str, Knowable[Mapping[str, Any]]] = field(default_factory=dict)
    held: list[Held] = field(default_factory=list)
    sources: list[Source] = field(default_factory=list)

    @property
    def checks(self) -> list[Check]:
        """The checks of all parts."""
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
            detail = f"the machine's profile has its own {member}: leave one of the two out"
            raise refuse("contradiction", detail, member)
        parts[member] = values.get(member, own)
    return parts


def found_parts(described: Mapping[str, Any], hold: Hold) -> Found:
    """The result of every part, or the reason for none."""
    found = Found()
    for name, part in PARTS.items():
        given = described[part.member]
        try:
            if given is None:
                text = f"neither the request nor the profile describes {part.member}"
                raise refuse("part_not_described", text)
            held = part.hold(given, hold)
        except NoAnswer as refusal:
            found.results[name] = why_not(refusal)
            continue
        found.results[name] = Known(held.result)
        found.held.append(held)
        found.sources.append(part.source)
    return found


SQUEEZE = Source("squeeze of the jaws", "read", "Coulomb friction: N = m T / (mu r)")
STATED_FRICTION = Source("friction and margin", "stated", "the caller")
GRIP_STEPS = (
    Step("T", "torque to be held", "as given", "hold.torque", "torque", "the caller"),
    Step("m", "margin", "as given", "hold.margin", "number", "the caller"),
    Step("mu", "friction", "as given", "hold.friction", "number", "the caller"),
    Step("r", "radius of the pipe", "OD / 2", "hold.radius", "length", "geometry"),
    Step("N", "squeeze", "m T / (mu r)", "hold.needed_squeeze", "force", "Coulomb friction"),
)
GRIPPING: tuple[StandingNotice, ...] = (
    BOTH_GRIPS,
    WHERE_TO_GRIP,
    SHARP_DIES,
    HANDS_OFF,
    SLACK_SIDE,
    CHAIN_INSPECTED,
    COMPUTED,
)


def grip_answer(values: Mapping[str, Any], shop: Shop) -> Answer:
    """The answer of ``/v1/grip``: the squeeze, and every part that is described.

    A part that is not described, or of which this diameter is not known, is null with its reason; one that
    would be overloaded is a refusal.

    Raises:
        NoAnswer: with every limit that is not kept, and the machine's own faults.
    """
    profile = profile_of(values, shop) if "machine" in values else None
    if profile and profile.kind is stud_tensioner.KIND:
        stud_tensioner.no_torque()
    hold = _hold(values, profile)
    found = found_parts(described_parts(values, profile), hold)
    slips = slip_torque(values["squeeze"], hold.radius, hold.friction) if "squeeze" in values else None
    checks = [
        *_machine_checks(values, profile, shop),
        *found.checks,
        *_relief_check(profile, hold.dial, found),
        *_squeeze_check(hold, slips),
    ]
    failed = [_fault(check, values) for check in checks if check.verdict == "fail"]
    if failed:
        raise NoAnswer(failed)
    result = {
        "needed_squeeze": hold.needed_squeeze,
        "slip_torque": known(slips, "no squeeze is given"),
        **found.results,
        "published_friction": FRICTION,
        "checks": checks,
    }
    return Answer(
        result=result,
        sources=(SQUEEZE, STATED_FRICTION, *found.sources),
        status="stated",
        findings=tuple(_findings(hold, found, checks)),
        working={"hold": hold},
        profile=profile.version if profile else None,
        steps=GRIP_STEPS,
    )


def _hold(values: Mapping[str, Any], profile: Profile | None) -> Hold:
    diameter = values["outside_diameter"]
    needed = squeeze_for_torque(values["torque"], diameter / 2, values["friction"], values["margin"])
    return Hold(
        values["torque"],
        diameter,
        values["friction"],
        values["margin"],
        max(needed, values.get("squeeze", 0.0)),
        needed,
        profile.limits.diameters if profile else None,
        _dial(profile) if profile else None,
    )


def _dial(profile: Profile) -> Gauge | None:
    """The gauge on which the pressure of a grip on a common supply is read; None on another."""
    common = profile.loaded.get("grip_supply") == "common"
    return profile.gauges.get("system", profile.gauges["make_up"]) if common else None


def _machine_checks(values: Mapping[str, Any], profile: Profile | None, shop: Shop) -> Iterator[Check]:
    if profile is None:
        return
    yield from validity_checks(profile.governance, values.get("as_of"), shop.refuse_unfit)
    yield diameter_check(profile.limits, values["outside_diameter"])
    yield at_most(
        name="torque_rating",
        code="torque_rating_exceeded",
        text="torque to be held {value} against the torque rating of the machine {limit}",
        kind="torque",
        value=values["torque"],
        limit=profile.limits.torque_rating,
    )


def _relief_check(profile: Profile | None, dial: Gauge | None, found: Found) -> Iterator[Check]:
    """Whether the relief valve of the machine lets through what its own grip needs, on a common supply."""
    if profile is None or dial is None or profile.limits.relief is None:
        return
    cylinder, relief = found.results["grip_cylinder"].value, profile.limits.relief
    if cylinder is None:
        return
    below = cylinder["pressure"] < relief.highest * (1 - NOISE)
    at = "relief cracking" if relief.fixed else "the highest relief cracking that can be set"
    yield Check(
        name="grip_relief",
        code="grip_not_below_relief",
        verdict="pass" if below else "fail",
        text=f"pressure of the grip cylinder {{value}} must lie below {at}, {{limit}}",
        value=dial.amount(cylinder["pressure"]),
        limit=dial.amount(relief.highest),
    )


def _squeeze_check(hold: Hold, slips: float | None) -> Iterator[Check]:
    if slips is not None:
        text = "torque at which the squeeze given slips {value} against torque times margin {limit}"
        wanted = hold.margin * hold.torque
        yield at_least(
            name="squeeze_given", text=text, kind="torque", value=slips, limit=wanted, bad="caution"
        )


def _fault(check: Check, values: Mapping[str, Any]) -> Fault:
    """The refusal of a check; it names the machine only where there is one."""
    return check.fault if "machine" in values else replace(check.fault, field=None)


def _findings(hold: Hold, found: Found, checks: list[Check]) -> Iterator[Finding]:
    highest = max(published.high for published in FRICTION)
    if hold.friction > highest:
        yield Finding(
            level="look",
            code="friction_above_published",
            text=f"The friction given, {hold.friction:.3g}, is above the highest published, {highest:.3g}.",
            step="prepare_grip",
            remedy="Check it: see published_friction.",
            value=Amount("number", hold.friction),
            limit=Amount("number", highest),
        )
    for held in found.held:
        yield from held.findings
    yield from findings_of(checks)
