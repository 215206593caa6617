"""The words of a chart, and of its limits."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from string import ascii_uppercase
from typing import Any

from api.http.charting.figures import dial, system_of, torque, unit_text

RANGES = {
    "working_range": "best part of the dial",
    "calibrated": "calibrated",
    "relief_setting": "relief can be set",
}
"""Pairs of limits, ``_from`` and ``_to``, that are drawn as one bar."""
Shown = Mapping[str, Any]


@dataclass(frozen=True)
class Limit:
    """A limit with its letter.

    Attributes:
        letter: in the diagram and in the key.
        text: what it is.
        shown: the limit as the chart has it.
        until: the other end, of a range.
    """

    letter: str
    text: str
    shown: Shown
    until: Shown | None = None

    @property
    def of_torque(self) -> bool:
        """Whether it limits the torque, not the reading."""
        return self.shown["reading"] is None

    @property
    def is_line(self) -> bool:
        """Whether it is one reading, not a range."""
        return not self.of_torque and self.until is None

    @property
    def reading(self) -> float:
        """The reading in the unit of the dial."""
        return float(self.shown["reading"]["value"])

    def torque(self, system: str) -> float:
        """The torque in a system of units."""
        return float(self.shown["amount"][system]["value"])


def limits_of(chart: Shown) -> list[Limit]:
    """The limits of an operation: readings rising, then torques; a range stands at its lower end."""
    ends = {limit["name"]: limit for limit in chart["limits"]}
    found: list[tuple[str, Shown, Shown | None]] = []
    for shown, text in _ratings_together(chart["limits"]):
        base, _, end = shown["name"].rpartition("_")
        if base not in RANGES:
            found.append((text, shown, None))
        elif end == "from":
            found.append((RANGES[base], shown, ends[f"{base}_to"]))
    found.sort(key=lambda each: _place(each[1]))
    return [Limit(letter, *each) for letter, each in zip(ascii_uppercase, found, strict=False)]


def _place(shown: Shown) -> tuple[bool, float]:
    reading = shown["reading"]
    return reading is None, reading["value"] if reading else shown["amount"]["us"]["value"]


def _ratings_together(limits: Sequence[Shown]) -> list[tuple[Shown, str]]:
    """Limits with their texts, the ratings of equal reading as one."""
    found: dict[Any, tuple[Shown, list[str]]] = {}
    for limit in limits:
        part = limit["name"].removeprefix("rated_")
        rated = part != limit["name"]
        key = limit["reading"]["value"] if rated else limit["name"]
        found.setdefault(key, (limit, []))[1].append(part if rated else limit["text"])
    return [
        (shown, f"rating of {' and '.join(texts)}" if shown["name"].startswith("rated_") else texts[0])
        for shown, texts in found.values()
    ]


OPERATIONS = {"make_up": "MAKE-UP", "break_out": "BREAK-OUT"}
HANDS = {"right": "right-hand thread", "left": "LEFT-HAND THREAD"}
ARMS = {"square": "arm square", "unknown": "ARM POSITION UNKNOWN"}
CONNECTED = {"work_port": "at the work port", "pump": "AT THE PUMP"}
RANKS = ("STOP", "LOOK", "NOTE")
"""Levels of findings as sheets print them, in their order."""
VALIDITY = ("profile_status", "profile_dates", "calibration")
"""Checks of a profile that is not to be used as it is."""


def driven(chart: Shown) -> str:
    """What is under pressure; empty where there is no choice."""
    if "motor_port" in chart:
        return f"PORT {chart['motor_port']} under pressure"
    if "second_cylinder_side" in chart:
        first, second = chart["cylinder_side"], chart["second_cylinder_side"]
        return f"cylinder 1 {first.upper()}, cylinder 2 {second.upper()}"
    return f"{chart['cylinder_side'].upper()} SIDE under pressure" if "cylinder_side" in chart else ""


def conditions(whole: Shown, chart: Shown) -> str:
    """The conditions in which the machine stands."""
    arm, gripped = whole["arm_length"], whole["gripped_outside_diameter"]
    stands = (
        f"cylinder {both(arm, chart)} from pin to pin" if arm else ARMS.get(whole.get("arm_position", ""))
    )
    grips = f"outside diameter in the grip {both(gripped, chart)}" if gripped else None
    return ", ".join(filter(None, (stands, grips)))


def gauge(chart: Shown) -> str:
    """The gauge that the marks are on."""
    span, division = chart["gauge_span"], chart["gauge_division"]
    return (
        f"Gauge {chart['gauge']}: 0 to {dial(span['value'])} {unit_text(span['unit'])}, one division "
        f"{dial(division['value'])} {unit_text(division['unit'])}, {chart['gauge_accuracy']}, "
        f"{CONNECTED[chart['connected_at']]}"
    )


def both(amount: Shown, chart: Shown, write: Callable[[float], str] = dial) -> str:
    """A quantity in the system of the dial and, in brackets, in the other."""
    shown = [amount[system] for system in system_of(chart["gauge_span"]["unit"])]
    own, other = (f"{write(each['value'])} {unit_text(each['unit'])}" for each in shown)
    return f"{own} ({other})"


def limits_in_words(chart: Shown) -> str:
    """Every limit, for the sheet without a diagram."""
    texts = []
    for limit in limits_of(chart):
        until = limit.until["reading"]["value"] if limit.until else None
        texts.append(
            f"{limit.text} {both(limit.shown['amount'], chart, torque)}"
            if limit.of_torque
            else f"{limit.text} {dial(limit.reading)}{f' to {dial(until)}' if until is not None else ''}"
            f" {unit_text(limit.shown['reading']['unit'])}"
        )
    return f"Limits: {'; '.join(texts)}."


def banner(whole: Shown) -> str:
    """The reasons why a profile is not to be used as it is; empty where nothing is wrong with it."""
    return "; ".join(
        check["text"]
        for check in whole["checks"]
        if check["name"] in VALIDITY and check["verdict"] == "caution"
    )


def provenance(whole: Shown) -> Iterator[str]:
    """The foot of every sheet: which profile, calibrated until when, who answers for it, what computed it."""
    version, governance = whole["version"], whole["governance"]
    due = governance["calibration_due"]
    calibrated = (
        f"calibration certificate {governance['certificate']}, due {due}" if due else "NO CALIBRATION"
    )
    of, revision, digest = (version[f"profile_{name}"] for name in ("id", "revision", "hash"))
    yield f"Profile {of}, revision {revision} ({digest}) · {calibrated}"
    yield f"{_approval(governance)} · in force {_in_force(governance)}"
    site = f", site {whole['site']}" if whole["site"] else ""
    day = f" · checked for {whole['as_of']}" if whole["as_of"] else ""
    kind = whole["kind"].replace("_", " ")
    yield f"{kind}{site} · computed by Dialset {version['program']}, data {version['data']}{day}"


def _approval(governance: Shown) -> str:
    if governance["status"] != "approved":
        return "DRAFT"
    by, on = governance["approved_by"], governance["approved_on"]
    return f"approved by {by or 'nobody named'}" + (f" on {on}" if on else "")


def _in_force(governance: Shown) -> str:
    start, end = governance["effective_from"] or governance["approved_on"], governance["effective_to"]
    return " ".join(part for part in (start and f"from {start}", end and f"until {end}") if part) or "undated"


def findings(whole: Shown, chart: Shown) -> list[tuple[str, str]]:
    """What sets this sheet apart, each its level in capitals and its text, from STOP over LOOK to NOTE.

    An operation without a sheet is told with them, since whoever has this one may look for it.
    """
    missing = [
        ("LOOK", f"{OPERATIONS[each['operation']]} is not charted: {_listed(each['reasons'])}.")
        for each in whole["not_charted"]
    ]
    told = [*whole["findings"], *chart["findings"]]
    found = [*missing, *((each["level"].upper(), each["text"]) for each in told)]
    return sorted(found, key=lambda each: RANKS.index(each[0]))


def notices(whole: Shown) -> str:
    """What holds for every sheet of this machine."""
    return " ".join(notice["text"] for notice in whole["standing_notices"])


def _listed(reasons: Sequence[Shown]) -> str:
    return "; ".join(reason["text"] for reason in reasons)
