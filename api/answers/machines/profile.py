"""A machine's profile: read from a folder or a request, and whether it governs on the day of the job."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from functools import cached_property, lru_cache
from pathlib import Path
from typing import Any

from api.answers.answer import ProfileVersion
from api.answers.grip.holding import grip_cylinder_of
from api.answers.machine_kinds.machine_kind import Kind, arm_moment_of, gauge_of, half_widths_of
from api.answers.machine_kinds.registry import KINDS
from api.answers.shop_file import hash_of, read_json_file
from api.answers.standing_notices import GAUGE_AT_PUMP, StandingNotice
from api.engineering.checks import Check, NoAnswer, Verdict
from api.engineering.gauges.gauge import Gauge
from api.engineering.grip.squeeze import pressure_for_squeeze
from api.engineering.machine_kinds.machine import Machine
from api.engineering.machines.cylinder import ArmPosition, Turning
from api.engineering.machines.limits import Limits
from api.engineering.machines.setup import Setup
from api.engineering.uncertainty.budget import ArmWeight, Standing
from schemas.core.faults import InvalidInput, Malformed
from schemas.machines.profile import load_profile

SETUPS = 16
"""Setups of a machine that are kept at most: both operations at either hand, and positions of its arm."""


@dataclass(frozen=True)
class Governance:
    """A governance says who answers for a profile, and when it holds."""

    status: str
    approved_by: str | None
    approved_on: date | None
    effective_from: date | None
    effective_to: date | None
    certificate: str | None
    calibration_due: date | None

    @property
    def is_approved(self) -> bool:
        """Whether it is approved, and says by whom and when."""
        return self.status == "approved" and self.approved_by is not None and self.approved_on is not None

    @property
    def first_day(self) -> date | None:
        """The first day on which it holds: no profile holds before it was approved."""
        return max((day for day in (self.effective_from, self.approved_on) if day), default=None)

    def in_force_on(self, day: date) -> bool:
        """Whether it holds on a day."""
        first, last = self.first_day, self.effective_to
        return (first is None or first <= day) and (last is None or day <= last)

    def calibrated_on(self, day: date) -> bool:
        """Whether its machine is in calibration on a day."""
        return self.calibration_due is not None and day <= self.calibration_due

    def fit_on(self, day: date | None) -> bool:
        """Whether its machine is fit for use on a day; without one its dates are not asked."""
        in_date = day is None or (self.in_force_on(day) and self.calibrated_on(day))
        return self.is_approved and in_date


@dataclass(frozen=True)
class Profile:
    """A checked profile: as given, and as what the service needs of it.

    It keeps the setups of its machine that were asked for, as long as it lives: that of a folder as long as
    the service, that of a request as long as the request.

    Attributes:
        given: as it came.
        loaded: as its schema loads it, for its kind to read.
        kind, version, governance, limits, gauges: what it says, the gauges by operation.
        half_widths: stated tolerances by the name of the size, SI, to either side.
        arm_angle: how far its arm may stand off a stated position, rad; None where not stated.
        arm_moment: most that the weight of its arm turns the joint by, N.m; None where not stated.
    """

    given: Mapping[str, Any]
    loaded: Mapping[str, Any]
    kind: Kind
    version: ProfileVersion
    governance: Governance
    limits: Limits
    gauges: Mapping[str, Gauge]
    half_widths: Mapping[str, float]
    arm_angle: float | None
    arm_moment: float | None

    def machine(self, gripped_diameter: float | None) -> Machine:
        """The machine as it grips an outside diameter (m); None where that is not known.

        Raises:
            NoAnswer: ``gripped_diameter_required``, ``diameter_not_in_table``.
        """
        return self._at_any_diameter or self.kind.build(self.loaded, gripped_diameter)

    @cached_property
    def _at_any_diameter(self) -> Machine | None:
        """The machine, if it does not depend on what it grips."""
        try:
            return self.kind.build(self.loaded, None)
        except NoAnswer:
            return None

    def setup(self, gripped_diameter: float | None, turning: Turning, position: ArmPosition) -> Setup:
        """The machine as it grips, turns and stands, read on the gauge of that operation.

        Raises:
            NoAnswer: as `machine`.
        """
        return self._setups(None if self._at_any_diameter else gripped_diameter, turning, position)

    @cached_property
    def _setups(self) -> Callable[[float | None, Turning, ArmPosition], Setup]:
        return lru_cache(SETUPS)(self._setup)

    def _setup(self, gripped: float | None, turning: Turning, position: ArmPosition) -> Setup:
        machine, weight = self.machine(gripped), None
        if machine.has_arm:
            weight = ArmWeight(self.arm_moment, in_calibration=bool(machine.calibration_gauges))
        standing = Standing(machine, turning, position, self.half_widths, self.arm_angle, weight)
        gauge, grip = self.gauges[turning.operation], dict(_common_grip(self.loaded))
        return Setup(standing, gauge, self.gauges, self.limits, grip)

    @property
    def site(self) -> str | None:
        """Where the machine stands; None where not stated."""
        return self.loaded.get("site")

    @property
    def notices(self) -> tuple[StandingNotice, ...]:
        """The notices of every job of this machine: those of its kind, and of where its gauges are."""
        at_pump = any(gauge.connected_at == "pump" for gauge in self.gauges.values())
        return tuple(each for each in self.kind.notices if at_pump or each is not GAUGE_AT_PUMP)


def _common_grip(loaded: Mapping[str, Any]) -> Iterator[tuple[str, float]]:
    """What the parts of a grip on the supply of the arm bear, Pa."""
    part = loaded.get("grip_cylinder")
    if part and loaded.get("grip_supply") == "common":
        yield "rating of the grip cylinder", part["rated_pressure"]
        if jaws := loaded.get("jaws"):
            squeeze = jaws["rated_squeeze"]
            yield "rated squeeze of the jaws", pressure_for_squeeze(grip_cylinder_of(part), squeeze)


@dataclass(frozen=True)
class ProfileFolder:
    """The profiles of a folder by id, and what is wrong with the files that are none."""

    profiles: Mapping[str, Profile]
    faults: Mapping[str, str]


def profile_from(given: Mapping[str, Any], loaded: Mapping[str, Any]) -> Profile:
    """The profile of a checked request member or file."""
    version = ProfileVersion(loaded["id"], loaded["revision"], hash_of(given))
    kind = KINDS[loaded["kind"]]
    half_widths, arm_angle = half_widths_of(loaded)
    return Profile(
        given=given,
        loaded=loaded,
        kind=kind,
        version=version,
        governance=_governance(loaded),
        limits=kind.limits(loaded),
        gauges={operation: gauge_of(dial) for operation, dial in loaded["gauges"].items()},
        half_widths=half_widths,
        arm_angle=arm_angle,
        arm_moment=arm_moment_of(loaded),
    )


def _governance(loaded: Mapping[str, Any]) -> Governance:
    calibration = loaded.get("calibration") or {}
    return Governance(
        status=loaded["status"],
        approved_by=loaded.get("approved_by"),
        approved_on=loaded.get("approved_on"),
        effective_from=loaded.get("effective_from"),
        effective_to=loaded.get("effective_to"),
        certificate=calibration.get("certificate"),
        calibration_due=calibration.get("due"),
    )


def read_folder(folder: Path | None) -> ProfileFolder:
    """Every ``*.json`` of a folder as a profile. A bad file is named with its fault and is no profile.

    Of two files with one id neither is served: which one is right cannot be known from here.
    """
    profiles: dict[str, Profile] = {}
    faults: dict[str, str] = {}
    files: dict[str, str] = {}
    for path in sorted(folder.glob("*.json")) if folder else ():
        try:
            profile = _read_file(path)
        except (OSError, Malformed, InvalidInput) as error:
            faults[path.name] = str(error)[:2000]
            continue
        profile_id = profile.version.id
        if profile_id in files:
            first = files[profile_id]
            faults[path.name] = f"the id {profile_id} also stands in {first}; neither is served"
            faults.setdefault(first, f"the id {profile_id} also stands in {path.name}; neither is served")
            profiles.pop(profile_id, None)
            continue
        files[profile_id] = path.name
        profiles[profile_id] = profile
    return ProfileFolder(profiles, faults)


def _read_file(path: Path) -> Profile:
    given = read_json_file(path)
    return profile_from(given, load_profile(given))


def validity_checks(governance: Governance, as_of: date | None, refuse_unfit: bool) -> Iterator[Check]:
    """Approval, dates in force and calibration of a profile.

    Args:
        governance: who answers for the profile, from when to when.
        as_of: the day of the job, from the caller; a service has no clock.
        refuse_unfit: whether the shop refuses what is unfit; otherwise it is a finding.
    """
    bad: Verdict = "fail" if refuse_unfit else "caution"
    yield _approved(governance, bad)
    if as_of is None:
        text = "no as_of given: whether the profile is in force and calibrated on the day is not checked"
        yield Check(
            name="profile_dates",
            code="as_of_required",
            verdict="fail" if refuse_unfit else "not_checked",
            text=text,
        )
        return
    yield _in_force(governance, as_of, bad)
    yield _calibrated(governance, as_of, bad)


def _approved(governance: Governance, bad: Verdict) -> Check:
    if governance.is_approved:
        text = f"the profile was approved by {governance.approved_by} on {governance.approved_on}"
    elif governance.status == "approved":
        text = "the profile is said to be approved, but not by whom and when"
    else:
        text = "the profile is a draft"
    verdict = "pass" if governance.is_approved else bad
    return Check(name="profile_status", code="profile_is_draft", verdict=verdict, text=text)


def _in_force(governance: Governance, as_of: date, bad: Verdict) -> Check:
    start, end = governance.first_day, governance.effective_to
    text = f"on {as_of} the profile, effective from {start or 'no date'} to {end or 'no date'}"
    within = governance.in_force_on(as_of)
    text += ", is in force" if within else ", is not in force"
    return Check(
        name="profile_dates", code="profile_not_in_force", verdict="pass" if within else bad, text=text
    )


def _calibrated(governance: Governance, as_of: date, bad: Verdict) -> Check:
    if governance.calibration_due is None:
        return Check(
            name="calibration",
            code="calibration_missing",
            verdict=bad,
            text="the profile names no calibration",
        )
    calibrated = governance.calibrated_on(as_of)
    text = f"calibration {governance.certificate} due {governance.calibration_due}"
    return Check(
        name="calibration",
        code="calibration_overdue",
        verdict="pass" if calibrated else bad,
        text=f"{text} on {as_of}" if calibrated else f"{text} is overdue on {as_of}",
    )
