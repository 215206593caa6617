"""The relief valve of a machine: where it must crack for a job, and what it then protects.

It has to crack above every pressure that the job needs, with a margin, or it opens before the mark is
reached. It passes full flow at its override above that; there the joint must not be overloaded, else it
protects the machine alone, and there the machine must never be.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from math import ceil, floor
from typing import Literal

from api.engineering.checks import NOISE, Fault, NoAnswer
from api.engineering.gauges.gauge import Gauge, Reading

Protects = Literal["joint", "machine"]

USUAL_MARGIN = 0.10
"""Share by which relief cracks above the pressure needed (common practice, no source)."""
SMALLEST_MARGIN = 0.03
"""Smallest share that a remedy names: with less, a valve opens before the mark is reached (own judgement)."""


@dataclass(frozen=True)
class Relief:
    """A relief valve: where it can begin to open, and how much more it needs to pass the full flow, Pa.

    Attributes:
        lowest, highest: cracking pressures that can be set, 0 < lowest <= highest; equal on a fixed valve.
        override: pressure at full flow less that at cracking, >= 0.
    """

    lowest: float
    highest: float
    override: float

    @property
    def fixed(self) -> bool:
        """Whether it cannot be set."""
        return self.lowest == self.highest

    @property
    def cracking(self) -> float:
        """The highest pressure at which it begins to open, Pa."""
        return self.highest

    @property
    def full_flow(self) -> float:
        """The highest pressure at which it passes the full flow of the pump, Pa."""
        return self.highest + self.override


def let_through(cracking: float, margin: float) -> float:
    """The highest pressure that a valve lets through with a margin, Pa; always below where it cracks.

    >>> round(let_through(1100.0, 0.10), 9)
    1000.0
    >>> let_through(1100.0, 0.0) < 1100.0
    True
    """
    return min(cracking / (1 + margin), cracking * (1 - 2 * NOISE))


@dataclass(frozen=True)
class ReliefWindow:
    """The cracking pressures that suit a job, Pa; that no window is left shows by ``lower`` above an end.

    Attributes:
        needed: highest pressure that the job needs.
        margin: share by which relief cracks above it.
        lower: least cracking pressure.
        upper_joint: highest at which full flow does not overload the joint; None where that is not known.
        upper_machine: highest at which full flow overloads no part of the machine.
        ended_by: the part that sets ``upper_machine``, in words.
    """

    needed: float
    margin: float
    lower: float
    upper_joint: float | None
    upper_machine: float
    ended_by: str


def relief_window(
    needed: float,
    margin: float,
    override: float,
    joint_limit_pressure: float | None,
    machine_ends: Mapping[str, float],
) -> ReliefWindow:
    """The window of cracking pressures for a job, Pa.

    ``lower = needed (1 + margin)``; both upper ends are pressures that full flow must not exceed, less the
    override. (The margin is that of a shop; own derivation.)

    Args:
        needed: the greater of the pressures of the mark and of the grip, Pa, > 0.
        margin: share, >= 0.
        override: pressure at full flow less that at cracking, Pa, >= 0.
        joint_limit_pressure: at the maximum or the yield of the joint, Pa; None where not known.
        machine_ends: pressure that each part bears, Pa, by its name; at least one.

    >>> ends = {"hoses": 3000.0, "torque rating": 1416.0}
    >>> window = relief_window(750.0, 0.10, 250.0, 784.0, ends)
    >>> round(window.lower, 9), window.upper_joint, window.upper_machine, window.ended_by
    (825.0, 534.0, 1166.0, 'torque rating')
    """
    ended_by = min(machine_ends, key=lambda part: machine_ends[part])
    return ReliefWindow(
        needed=needed,
        margin=margin,
        lower=needed * (1 + margin),
        upper_joint=None if joint_limit_pressure is None else joint_limit_pressure - override,
        upper_machine=machine_ends[ended_by] - override,
        ended_by=ended_by,
    )


@dataclass(frozen=True)
class ReliefSetting:
    """A relief valve as it stands for a job.

    Attributes:
        cracking, full_flow: Pa.
        mark: what to set on the dial; None for a fixed valve.
        protects: the joint too, or the machine alone.
    """

    cracking: float
    full_flow: float
    mark: Reading | None
    protects: Protects


def suitable_setting(relief: Relief, window: ReliefWindow, gauge: Gauge) -> ReliefSetting | None:
    """The setting that suits a window: ``lower`` rounded up to a mark; None where none does.

    The mark itself has to lie above the pressure needed, within the upper end, and within what the valve can
    be set to. A fixed valve is judged where it cracks.

    >>> from api.engineering.gauges.accuracy_class import stated_accuracy
    >>> dial = Gauge("G", "psi", 3000, 50, 1.0, stated_accuracy(1), "work_port")
    >>> window = relief_window(750.0, 0.10, 250.0, 784.0, {"torque rating": 1416.0})
    >>> found = suitable_setting(Relief(300.0, 2500.0, 250.0), window, dial)
    >>> found.mark.value, found.full_flow, found.protects
    (850.0, 1100.0, 'machine')
    """
    least = max(window.lower, relief.lowest)
    mark = None
    cracking = relief.lowest
    if not relief.fixed:
        division = gauge.division * gauge.unit_in_si
        above = floor(window.needed / division * (1 + NOISE)) + 1
        number = max(above, ceil(least / division * (1 - NOISE)))
        if number > gauge.last:
            return None
        mark, cracking = gauge.reading(number), gauge.at(number)
    if not least * (1 - NOISE) <= cracking <= min(relief.highest, window.upper_machine) * (1 + NOISE):
        return None
    if not cracking > window.needed * (1 + NOISE):
        return None
    holds = window.upper_joint is not None and cracking <= window.upper_joint * (1 + NOISE)
    return ReliefSetting(cracking, cracking + relief.override, mark, "joint" if holds else "machine")


def relief_setting(
    relief: Relief, window: ReliefWindow, gauge: Gauge, without_grip: ReliefWindow | None = None
) -> ReliefSetting:
    """The setting of a relief valve for a job, and what it protects.

    Args:
        relief: the valve.
        window: for this job.
        gauge: the dial on which it is set.
        without_grip: the window that a separate supply of the grip would leave; None where that changes
            nothing.

    Raises:
        NoAnswer: ``relief_cannot_protect`` with the window and what would make it possible.
    """
    found = suitable_setting(relief, window, gauge)
    if found is None:
        raise NoAnswer([_cannot_protect(relief, window, gauge, without_grip)])
    return found


def _cannot_protect(
    relief: Relief, window: ReliefWindow, gauge: Gauge, without_grip: ReliefWindow | None
) -> Fault:
    amounts = {
        "needed": window.needed,
        "lower": window.lower,
        "upper": window.upper_machine,
        "lowest": relief.lowest,
        "highest": relief.highest,
    }
    valve = "This fixed valve cracks at {lowest}."
    if not relief.fixed:
        valve = f"This valve cracks from {{lowest}} to {{highest}}, set in steps of {_step(gauge)}."
    ends = f"It must crack at or below {{upper}} because of the {window.ended_by}."
    if window.upper_machine <= 0:
        ends = f"The {window.ended_by} and its override leave no pressure for it at all."
    text = (
        f"relief must crack at or above {{lower}}, {_percent(window.margin)} above the {{needed}} needed. "
        f"{ends} {valve} {' '.join(_remedies(relief, window, gauge, without_grip))}"
    )
    shown = {name: gauge.amount(value) for name, value in amounts.items()}
    return Fault("relief_cannot_protect", text, "machine", shown)


def _remedies(
    relief: Relief, window: ReliefWindow, gauge: Gauge, without_grip: ReliefWindow | None
) -> list[str]:
    """What would make it possible, each a sentence; the last always holds."""
    found = []
    margin = _margin_left(relief, window, gauge)
    if margin is not None:
        found.append(f"A relief margin of {_percent(margin)} would do.")
    separate = without_grip and suitable_setting(relief, without_grip, gauge)
    if separate:
        found.append(
            f"With a separate supply of the grip, relief set to {separate.mark} would do."
            if separate.mark
            else "A separate supply of the grip would do."
        )
    if window.lower <= window.upper_machine:
        reached = relief.highest >= window.lower and relief.lowest <= window.upper_machine
        what = "dial with a mark" if reached else "valve that cracks"
        found.append(f"A {what} between {{lower}} and {{upper}} would do.")
    return [*found, "Else use another machine."]


def _margin_left(relief: Relief, window: ReliefWindow, gauge: Gauge) -> float | None:
    """The largest margin with which the valve suits, in tenths of a percent; None where none does."""
    most = min(relief.highest, window.upper_machine) * (1 + NOISE)
    if not relief.fixed:
        most = gauge.at(min(gauge.last, floor(most / (gauge.division * gauge.unit_in_si))))
    if most < relief.lowest:
        return None
    margin = floor(1000 * (most / window.needed - 1)) / 1000
    return margin if SMALLEST_MARGIN <= margin < window.margin else None


def _step(gauge: Gauge) -> str:
    return str(Reading(gauge.division, gauge.unit))


def _percent(share: float) -> str:
    return f"{100 * share:.3g} %"
