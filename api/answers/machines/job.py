"""A machine set to a task: how it turns, stands and grips, what it then gives, and how sure that is.

A machine calibrated on its own gauge counts the stated drift of that gauge in its worst case, and its whole
class where none is stated.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property
from typing import Any, Literal

from api.answers.machines.profile import Profile, profile_from
from api.answers.shop import Shop
from api.engineering.checks import Amount, NoAnswer
from api.engineering.findings import Finding
from api.engineering.gauges.gauge import LINE_DROP, Gauge, HowRead, reading_half_width
from api.engineering.machine_kinds.machine import Driven, Machine
from api.engineering.machines.arm import ArmPosition
from api.engineering.machines.cylinder import Turning
from api.engineering.provenance import Assumption, Knowable, Known, Source, known, why_not
from api.engineering.uncertainty.budget import (
    AtReading,
    GaugeDoubt,
    angle_factors,
    torque_budget,
    weakest_and_strongest,
)
from api.engineering.uncertainty.combined import COVERAGE_FACTOR, Budget, Term

PORTS = ("A", "B")
GRIPS_THE_BOX = Assumption(
    "gripped_outside_diameter", "that of the box", "not given; the arm is taken to grip the box diameter"
)


@dataclass(frozen=True)
class Task:
    """A task for any machine; ``gripped_diameter`` in m, None where not known."""

    turning: Turning
    position: ArmPosition
    gripped_diameter: float | None
    as_of: date | None
    assumptions: tuple[Assumption, ...]


@dataclass(frozen=True)
class Job:
    """A machine set to one task."""

    profile: Profile
    task: Task
    gauge: Gauge

    @cached_property
    def machine(self) -> Machine:
        """The machine as it grips."""
        return self.profile.machine(self.task.gripped_diameter)

    @cached_property
    def driven(self) -> Mapping[str, Driven | None]:
        """The sides or the port to put under pressure, as answers name them."""
        sides = self.machine.sides(self.task.turning)
        first, second = (*sides, None, None)[:2]
        port = first if first in PORTS else None
        return {
            "cylinder_side": None if port else first,
            "second_cylinder_side": second,
            "motor_port": port,
        }

    @property
    def making_up(self) -> bool:
        """Whether the joint is made up, not broken out."""
        return self.task.turning.operation == "make_up"

    def for_operation(self, operation: Literal["make_up", "break_out"]) -> "Job":
        """The same machine and task for another operation, read on its gauge."""
        turning = replace(self.task.turning, operation=operation)
        return job_with(self.profile, replace(self.task, turning=turning))

    @property
    def position_known(self) -> bool:
        """Whether the arm position is stated."""
        return self.task.position != "unknown"

    @cached_property
    def moment_arm(self) -> float | None:
        """Moment arm of the driving force, m; None for a kind without one."""
        return self.machine.moment_arm(self.task.position)

    @property
    def cautions(self) -> Iterator[str]:
        """What whoever reads the gauge of this machine in this task must know."""
        yield from self.profile.kind.standing_cautions
        if self.task.turning.thread_hand == "left" and self.machine.sides(self.task.turning):
            yield (
                "For a left-hand thread, pressurise the side opposite to that for a right-hand thread. "
                "Make sure that the gauge reads that side."
            )
        if self.gauge is not self.profile.gauges[self.task.turning.operation]:
            yield "You read the gauge of the other operation. Make sure that it reads the driven side."
        if drop := LINE_DROP[self.gauge.connected_at]:
            yield drop

    @property
    def findings(self) -> Iterator[Finding]:
        """What differs from the last job, whatever the joint."""
        yield from ()

    def reading(self, torque: float, efficiency: float) -> float:
        """Reading for a torque, SI."""
        return self.machine.reading_from_torque(torque, self.task.turning, self.task.position, efficiency)

    def torque_at(self, efficiency: float) -> Callable[[float], float]:
        """Torque as a function of the reading at one efficiency, SI."""
        return lambda reading: self.machine.torque_from_reading(
            reading, self.task.turning, self.task.position, efficiency
        )

    @property
    def known_readings(self) -> tuple[float, float]:
        """Lowest and highest reading at which the torque is known."""
        return self.machine.readings(self.task.turning)

    @cached_property
    def calibration_gauge(self) -> str | None:
        """Serial of the gauge on which the driven side was calibrated; None for a computed machine."""
        gauges = self.machine.calibration_gauges
        return next((gauges.get(side) for side in self.machine.sides(self.task.turning)), None)

    @property
    def gauge_in_calibration(self) -> bool:
        """Whether the machine was calibrated on this very gauge, so that its error is in the points."""
        return self.calibration_gauge == self.gauge.serial

    def calibration_gauge_error(self, reading: float) -> float | None:
        """How far another gauge, on which the machine was calibrated, may be off; None where not known."""
        of_profile = {gauge.serial: gauge for gauge in self.profile.gauges.values()}
        gauge = of_profile.get(self.calibration_gauge or "")
        return None if gauge is None or self.gauge_in_calibration else gauge.error_at(reading)

    @property
    def sources(self) -> tuple[Source, Source]:
        """Where the equation of the machine and the accuracy of its gauge come from."""
        accuracy = self.gauge.accuracy
        gauge = Source(f"accuracy of the gauge, {accuracy.name}", accuracy.status, accuracy.source)
        return self.profile.kind.source, gauge

    def gauge_error(self, reading: float) -> float:
        """How far the gauge may be off at a reading, SI.

        The one that the machine was calibrated on counts too, if it is another. If it is this very one its
        error is in the points, and only what it drifted since is left; where nobody has stated that, it may
        be anything that its class allows.
        """
        if self.gauge_in_calibration and self.gauge.drift is not None:
            return self.gauge.drift
        return self.gauge.error_at(reading) + (self.calibration_gauge_error(reading) or 0.0)

    def torque_range(self, reading: float, margin: float = 0.0) -> tuple[float, float]:
        """Worst-case torque at a reading, N.m, within the error of the gauge and a margin more.

        Over efficiency, arm position and every stated tolerance, all at their worst at once.
        """
        margin += self.gauge_error(reading)
        asked = reading - margin, reading + margin, self.task.turning, self.task.position
        (weakest, strongest), (least, most) = self._worst
        return weakest.torque_range(*asked)[0] * least, strongest.torque_range(*asked)[1] * most

    @cached_property
    def _worst(self) -> tuple[tuple[Machine, Machine], tuple[float, float]]:
        """The machine with its sizes at their worst, and what an angle of the arm leaves of its torque."""
        machine, (turning, position) = self.machine, (self.task.turning, self.task.position)
        widths, worst = self.profile.half_widths, (machine, machine)
        if any(widths.values()):
            worst = weakest_and_strongest(machine, turning, position, widths)
        return worst, angle_factors(machine, position, self.profile.arm_angle)

    def side_load(self, reading: float) -> float | None:
        """Force across the pipe at a reading, N."""
        return self.machine.side_load(reading, self.task.turning, self.task.position)

    def working(self, torque: float, reading: float) -> Mapping[str, Any]:
        """What the working steps read."""
        at = self.profile.kind.at(self.machine, self.profile.loaded, self.task.turning, self.task.position)
        return {"machine": self.machine, "at": at, "job": AtTorque(self, torque, reading)}


@dataclass(frozen=True)
class AtTorque:
    """The values that the working steps read of a job: its torque, its reading, and what follows, SI."""

    job: Job
    torque: float
    reading: float

    @property
    def force(self) -> float | None:
        """Driving force on the arm, N."""
        arm = self.job.moment_arm
        return self.torque / arm if arm else None

    @property
    def side_load(self) -> float | None:
        """Force across the pipe, N."""
        return self.job.side_load(self.reading)

    @property
    def cell_pressure(self) -> float | None:
        """The reading, if it is a pressure, Pa."""
        return self.reading if self.job.gauge.quantity == "pressure" else None


def as_reading(gauge: Gauge, reading: float) -> dict[str, float | None]:
    """An exact reading as answers name it: a pressure, or on a pull gauge a line pull."""
    force = gauge.quantity == "force"
    return {"pressure": None if force else reading, "line_pull": reading if force else None}


NO_ARM = "the profile of this machine gives no one arm that the force acts on"
NO_SIDE_LOAD = "the profile of this machine does not say what force bears on the pipe"


def forces(job: Job, reading: float) -> dict[str, Knowable[float]]:
    """Moment arm and side load of a machine at a reading, as answers show them."""
    return {
        "moment_arm": known(job.moment_arm, NO_ARM),
        "side_load": known(job.side_load(reading), NO_SIDE_LOAD),
    }


def uncertainty_of(job: Job, reading: float, how: HowRead) -> Knowable[Mapping[str, Any]]:
    """The budget of the torque at a reading (JCGM 100), term by term, expanded with k = 2.

    Args:
        job: machine and gauge.
        reading: SI.
        how: how the gauge is read; a display is always read by its digits.

    Where there is none, as with tolerances too wide to mean anything, it is not known, and the reason is
    told.
    """
    try:
        return Known(_budget_shown(budget_of(job, reading, how)))
    except NoAnswer as no_answer:
        return why_not(no_answer)


def budget_of(job: Job, reading: float, how: HowRead) -> Budget:
    """The budget of the torque at a reading; the arguments are those of `uncertainty_of`.

    Raises:
        NoAnswer: ``below_breakaway``, ``tolerance_too_wide``.
    """
    gauge = job.gauge
    doubt = GaugeDoubt(
        gauge.quantity,
        gauge.error_at(reading),
        reading_half_width(gauge.division * gauge.unit_in_si, "digital" if gauge.digital else how),
        in_calibration=job.gauge_in_calibration,
        calibration_gauge=job.calibration_gauge_error(reading),
        drift=gauge.drift,
    )
    at = AtReading(job.machine, reading, job.task.turning, job.task.position)
    return torque_budget(at, doubt, job.profile.half_widths, job.profile.arm_angle)


def _budget_shown(budget: Budget) -> dict[str, Any]:
    return {
        "best_estimate": budget.estimate,
        "expanded": budget.expanded_amount,
        "expanded_share": budget.expanded,
        "coverage_factor": COVERAGE_FACTOR,
        "combined_share": budget.combined,
        "terms": [_term_shown(term) for term in budget.terms],
        "left_out": [{"name": each.name, "reason": each.reason} for each in budget.left_out],
    }


def _term_shown(term: Term) -> dict[str, Any]:
    return {
        "name": term.name,
        "half_width": Amount(term.kind, term.half_width),
        "distribution": term.distribution,
        "standard_uncertainty_share": term.contribution,
        "shift_share": term.shift,
    }


def task_from(values: Mapping[str, Any], joint_diameter: float | None = None) -> Task:
    """The task of a loaded request; the arm is taken to grip the joint's diameter where none is given."""
    gripped, assumptions = values.get("gripped_outside_diameter"), []
    if gripped is None and joint_diameter is not None:
        gripped = joint_diameter
        assumptions.append(GRIPS_THE_BOX)
    turning = Turning(values["operation"], values["thread_hand"])
    return Task(turning, values["arm_position"], gripped, values.get("as_of"), tuple(assumptions))


def profile_of(values: Mapping[str, Any], shop: Shop) -> Profile:
    """The profile that a request names or holds.

    Raises:
        NoAnswer: ``unknown_machine``.
    """
    given = values["machine"]
    return shop.machine(given) if isinstance(given, str) else profile_from(**given)


def job_with(profile: Profile, task: Task, gauge: str | None = None) -> Job:
    """A machine set to a task, read on the gauge of the operation or on the one named."""
    return Job(profile, task, profile.gauges[gauge or task.turning.operation])
