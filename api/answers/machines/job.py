"""A machine set to a task: how it turns, stands and grips, what it then gives, and how sure that is.

How its arm stands is asked only where it has one: see `api.engineering.machines.cylinder`.

A machine calibrated on its own gauge counts the stated drift of that gauge in its worst case, and its whole
class where none is stated.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property
from typing import Any, Literal

from api.answers.machines.profile import Profile, profile_from
from api.answers.shop import Shop
from api.engineering.checks import Amount, NoAnswer
from api.engineering.gauges.gauge import Gauge, HowRead, reading_half_width
from api.engineering.machine_kinds.calibrated import PORTS
from api.engineering.machine_kinds.machine import Driven, Machine
from api.engineering.machines.bending import bending_at_joint
from api.engineering.machines.cylinder import ArmPosition, Posture, Turning, posture_of
from api.engineering.provenance import Assumption, Knowable, Known, NotKnown, Source, known, why_not
from api.engineering.uncertainty.budget import (
    ArmWeight,
    AtReading,
    GaugeDoubt,
    angle_factors,
    torque_budget,
    weakest_and_strongest,
)
from api.engineering.uncertainty.combined import COVERAGE_FACTOR, Budget, Term

GRIPS_THE_BOX = Assumption(
    "gripped_outside_diameter", "that of the box", "not given; the arm is taken to grip the box diameter"
)


@dataclass(frozen=True)
class Task:
    """A task for any machine, SI.

    Attributes:
        turning: operation and hand of thread.
        position: how the arm stands, None where not stated.
        gripped_diameter: None where not known.
        as_of: the day of the job.
        assumptions: what was taken without having been given, whatever the machine.
        rod_exposed: rod outside the gland, in place of a position.
        grip_spacing: along the pipe from the driven grip to the backup, None where not given.
        opening_moment: bending that opens the shoulder of the joint, None where it has none that is known.
    """

    turning: Turning
    position: ArmPosition | None
    gripped_diameter: float | None
    as_of: date | None
    assumptions: tuple[Assumption, ...]
    rod_exposed: float | None = None
    grip_spacing: float | None = None
    opening_moment: float | None = None


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
    def driven(self) -> Mapping[str, Driven]:
        """The sides or the port to put under pressure, as answers name them."""
        sides = self.machine.sides(self.task.turning)
        if sides and sides[0] in PORTS:
            return {"motor_port": sides[0]}
        return dict(zip(("cylinder_side", "second_cylinder_side"), sides, strict=False))

    @property
    def making_up(self) -> bool:
        """Whether the joint is made up, not broken out."""
        return self.task.turning.operation == "make_up"

    @cached_property
    def posture(self) -> Posture:
        """How the machine stands for this task.

        Raises:
            NoAnswer: ``arm_position_required``, ``no_cylinder_length``, ``outside_stroke``.
        """
        return posture_of(self.machine, self.task.position, self.task.rod_exposed)

    @property
    def position(self) -> ArmPosition:
        """The position of the arm that counts."""
        return self.posture.position

    @property
    def assumptions(self) -> tuple[Assumption, ...]:
        """What was taken without having been given, of the task and of how this machine stands."""
        return (*self.task.assumptions, *self.posture.assumptions)

    def for_operation(self, operation: Literal["make_up", "break_out"]) -> "Job":
        """The same machine and task for another operation, read on its gauge."""
        turning = replace(self.task.turning, operation=operation)
        return job_with(self.profile, replace(self.task, turning=turning))

    @property
    def position_known(self) -> bool:
        """Whether it is known how the arm stands; where there is none, there is nothing to know."""
        return self.position != "unknown"

    @cached_property
    def moment_arm(self) -> float | None:
        """Moment arm of the driving force, m; None for a kind without one."""
        return self.machine.moment_arm(self.position)

    def reading(self, torque: float, efficiency: float) -> float:
        """Reading for a torque, SI."""
        try:
            return self.machine.reading_from_torque(torque, self.task.turning, self.position, efficiency)
        except NoAnswer as no_answer:
            raise _on_dial(self.gauge, no_answer) from None

    def torque_at(self, efficiency: float) -> Callable[[float], float]:
        """Torque as a function of the reading at one efficiency, SI."""

        def torque(reading: float) -> float:
            try:
                return self.machine.torque_from_reading(reading, self.task.turning, self.position, efficiency)
            except NoAnswer as no_answer:
                raise _on_dial(self.gauge, no_answer) from None

        return torque

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

    @property
    def calibration_gauge_unknown(self) -> bool:
        """Whether the machine was calibrated on a gauge that its profile does not describe."""
        serials = {gauge.serial for gauge in self.profile.gauges.values()}
        return self.calibration_gauge is not None and self.calibration_gauge not in serials

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

        The one that the machine was calibrated on counts too, if it is another; where the profile does not
        describe it, a finding says that its error is missing. If it is this very one its
        error is in the points, and only what it drifted since is left; where nobody has stated that, it may
        be anything that its class allows.
        """
        if self.gauge_in_calibration and self.gauge.drift is not None:
            return self.gauge.drift
        return self.gauge.error_at(reading) + (self.calibration_gauge_error(reading) or 0.0)

    def torque_range(self, reading: float, margin: float = 0.0) -> tuple[float, float]:
        """Worst-case torque at a reading, N.m, within the error of the gauge and a margin more.

        Over efficiency, arm position, every stated tolerance and the weight of the arm, all at their worst at
        once.
        """
        margin += self.gauge_error(reading)
        asked = reading - margin, reading + margin, self.task.turning, self.position
        (weakest, strongest), (least, most) = self._worst
        hangs = self.arm_weight.moment or 0.0 if self.arm_weight else 0.0
        low, high = weakest.torque_range(*asked)[0] * least, strongest.torque_range(*asked)[1] * most
        return max(0.0, low - hangs), high + hangs

    @property
    def arm_weight(self) -> ArmWeight | None:
        """What the weight of the arm may do; None for a machine without one."""
        if not self.machine.has_arm:
            return None
        return ArmWeight(self.profile.arm_moment, in_calibration=bool(self.machine.calibration_gauges))

    @cached_property
    def _worst(self) -> tuple[tuple[Machine, Machine], tuple[float, float]]:
        """The machine with its sizes at their worst, and what an angle of the arm leaves of its torque."""
        machine, (turning, position) = self.machine, (self.task.turning, self.position)
        widths, worst = self.profile.half_widths, (machine, machine)
        if any(widths.values()):
            worst = weakest_and_strongest(machine, turning, position, widths)
        return worst, angle_factors(machine, position, self.profile.arm_angle)

    def side_load(self, reading: float) -> float | None:
        """Force across the pipe at a reading, N."""
        return self.machine.side_load(reading, self.task.turning, self.position)

    def bending(self, reading: float) -> Knowable[float]:
        """Bending moment across the joint at a reading, N.m."""
        load, spacing = self.side_load(reading), self.task.grip_spacing
        if spacing is None:
            return NotKnown("grip_spacing is not given")
        return NotKnown(NO_SIDE_LOAD) if load is None else Known(bending_at_joint(load, spacing))

    @property
    def bending_allowed(self) -> Knowable[float]:
        """Bending moment at which the shoulder of the joint opens, N.m."""
        if not self.making_up:
            return NotKnown("a break-out opens the shoulder")
        return known(self.task.opening_moment, NO_SHOULDER)

    def working(self, torque: float, reading: float) -> Mapping[str, Any]:
        """What the working steps read."""
        at, task = self.profile.kind.at, self.task
        more = at(self.machine, self.profile.loaded, task.turning, self.position) if at else None
        return {"machine": self.machine, "at": more, "job": AtTorque(self, torque, reading)}


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


NO_SHOULDER = "the shoulder of the joint and its preload are not known here"
NO_SIDE_LOAD = "the profile of this machine does not say what force bears on the pipe"


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


def _budget_shown(budget: Budget) -> dict[str, Any]:
    """The budget term by term, and what is not in it."""
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
    at = AtReading(job.machine, reading, job.task.turning, job.position)
    widths, angle = job.profile.half_widths, job.profile.arm_angle
    try:
        return torque_budget(at, doubt, widths, angle, job.arm_weight)
    except NoAnswer as no_answer:
        raise _on_dial(gauge, no_answer) from None


def _on_dial(gauge: Gauge, no_answer: NoAnswer) -> NoAnswer:
    """A refusal of a machine with its readings as the dial shows them."""
    faults = []
    for fault in no_answer.faults:
        amounts = {
            name: gauge.amount(amount.value) if amount.kind == gauge.quantity else amount
            for name, amount in fault.amounts.items()
        }
        faults.append(replace(fault, amounts=amounts))
    return NoAnswer(faults)


def task_from(
    values: Mapping[str, Any], joint_diameter: float | None = None, opening_moment: float | None = None
) -> Task:
    """The task of a loaded request; the arm is taken to grip the joint's diameter where none is given.

    Args:
        values: the request, loaded.
        joint_diameter: outside diameter of the joint, m, where known.
        opening_moment: bending that opens its shoulder, N.m, where known.
    """
    gripped, assumptions = values.get("gripped_outside_diameter"), []
    if gripped is None and joint_diameter is not None:
        gripped = joint_diameter
        assumptions.append(GRIPS_THE_BOX)
    turning = Turning(values["operation"], values["thread_hand"])
    return Task(
        turning,
        values.get("arm_position"),
        gripped,
        values.get("as_of"),
        tuple(assumptions),
        values.get("rod_exposed"),
        values.get("grip_spacing"),
        opening_moment,
    )


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
