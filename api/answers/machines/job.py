"""A machine set to a task: how it turns, stands and grips, what it then gives, and how sure that is.

How its arm stands is asked only where it has one: see `api.engineering.machines.cylinder`.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property
from typing import Any, Literal

from api.answers.machines.profile import Profile, profile_from
from api.answers.shop import Shop
from api.engineering.checks import NOISE, Amount, NoAnswer, refuse
from api.engineering.gauges.gauge import Gauge
from api.engineering.machine_kinds.calibrated import PORTS
from api.engineering.machine_kinds.machine import Driven, Machine
from api.engineering.machines.bending import bending_at_joint
from api.engineering.machines.cylinder import ArmPosition, Posture, Turning, posture_of
from api.engineering.machines.setup import Setup
from api.engineering.provenance import Assumption, Knowable, Known, NotKnown, Source, known, why_not
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
    def setup(self) -> Setup:
        """The machine as it grips, turns and stands, read on the gauge of this job."""
        kept = self.profile.setup(self.task.gripped_diameter, self.task.turning, self.position)
        return kept if self.gauge is kept.gauge else replace(kept, gauge=self.gauge)

    @cached_property
    def moment_arm(self) -> float | None:
        """Moment arm of the driving force, m; None for a kind without one."""
        return self.machine.moment_arm(self.position)

    @property
    def sources(self) -> tuple[Source, Source]:
        """Where the equation of the machine and the accuracy of its gauge come from."""
        accuracy = self.gauge.accuracy
        gauge = Source(f"accuracy of the gauge, {accuracy.name}", accuracy.status, accuracy.source)
        return self.profile.kind.source, gauge

    def side_load(self, reading: float) -> float | None:
        """Force across the pipe at a reading, N."""
        return self.machine.side_load(reading, self.task.turning, self.position)

    def bending(self, reading: float) -> Knowable[float]:
        """Bending moment across the joint at a reading, N.m."""
        spacing = self.task.grip_spacing
        if spacing is None:
            return NotKnown("grip_spacing is not given")
        load = self.side_load(reading)
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


def uncertainty_of(budget: Callable[[], Budget]) -> Knowable[Mapping[str, Any]]:
    """A budget of a torque (JCGM 100), term by term, expanded with k = 2.

    Where there is none, as with tolerances too wide to mean anything, it is not known, and the reason is
    told.
    """
    try:
        return Known(_budget_shown(budget()))
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
    """The profile that a request names or holds; one that it holds is made once, and stays with it.

    Raises:
        NoAnswer: ``unknown_machine``.
    """
    given = values["machine"]
    if isinstance(given, str):
        return shop.machine(given)
    if "made" not in given:
        given["made"] = profile_from(given["given"], given["loaded"])
    made: Profile = given["made"]
    return made


def job_with(profile: Profile, task: Task, gauge: str | None = None) -> Job:
    """A machine set to a task, read on the gauge of the operation or on the one named."""
    return Job(profile, task, profile.gauges[gauge or task.turning.operation])


def dial_reading(given: Any, gauge: Gauge, field: str) -> float:
    """What a reading of a gauge means, SI.

    Args:
        given: the reading, with the unit that it was written in.
        gauge: that was read.
        field: of the request.

    Raises:
        NoAnswer: ``not_dial_unit``, ``above_gauge``.
    """
    if given.unit.code != gauge.unit:
        raise refuse(
            "not_dial_unit",
            f"gauge {gauge.serial} reads in {gauge.unit}, not in {given.unit.code}; give the reading as it "
            "stands on the dial",
            field,
        )
    if not given.value <= gauge.span * (1 + NOISE):
        raise refuse("above_gauge", f"gauge {gauge.serial} ends at {gauge.span:.12g} {gauge.unit}", field)
    return float(given.si)


def torque_moving(job: Job, reading: float) -> float:
    """The torque at a reading (SI) at which the machine moves.

    Raises:
        NoAnswer: ``below_breakaway``, ``outside_calibration``.
    """
    torque = job.setup.torque(reading)
    if not torque > 0:
        raise refuse(
            "below_breakaway",
            "at {reading} this machine does not move yet: breakaway and return pressure are not overcome",
            "gauge_reading",
            reading=job.gauge.amount(reading),
        )
    return torque
