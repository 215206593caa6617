"""Whether a profile may be relied on at a date: approved, in force, calibrated."""

from collections.abc import Iterator
from datetime import date

from api.answers.profiles import Governance
from api.engineering.checks import Check, Verdict


def validity_checks(governance: Governance, as_of: date | None, refuse_unfit: bool) -> Iterator[Check]:
    """Approval, dates in force and calibration of a profile.

    Args:
        governance: who answers for the profile, from when to when.
        as_of: the day of the job, from the caller; a service has no clock.
        refuse_unfit: whether the shop refuses what is unfit; otherwise it is a caution.
    """
    bad: Verdict = "fail" if refuse_unfit else "caution"
    yield _approved(governance, bad)
    if as_of is None:
        text = "no as_of given: whether the profile is in force and calibrated on the day is not checked"
        yield Check("profile_dates", "as_of_required", "fail" if refuse_unfit else "not_checked", text)
        return
    yield _in_force(governance, as_of, bad)
    yield _calibrated(governance, as_of, bad)


def _approved(governance: Governance, bad: Verdict) -> Check:
    if governance.status != "approved":
        return Check("profile_status", "profile_is_draft", bad, "the profile is a draft")
    if governance.approved_by is None or governance.approved_on is None:
        text = "the profile is said to be approved, but not by whom and when"
        return Check("profile_status", "profile_is_draft", bad, text)
    text = f"the profile was approved by {governance.approved_by} on {governance.approved_on}"
    return Check("profile_status", "profile_is_draft", "pass", text)


def _in_force(governance: Governance, as_of: date, bad: Verdict) -> Check:
    dates = [day for day in (governance.effective_from, governance.approved_on) if day is not None]
    start, end = max(dates, default=None), governance.effective_to
    text = f"on {as_of} the profile, effective from {start or 'no date'} to {end or 'no date'}"
    within = (start is None or start <= as_of) and (end is None or as_of <= end)
    text += ", is in force" if within else ", is not in force"
    return Check("profile_dates", "profile_not_in_force", "pass" if within else bad, text)


def _calibrated(governance: Governance, as_of: date, bad: Verdict) -> Check:
    due = governance.calibration_due
    if due is None:
        return Check("calibration", "calibration_missing", bad, "the profile names no calibration")
    overdue = as_of > due
    text = f"calibration {governance.certificate} due {due}" + (" is overdue" if overdue else "")
    return Check("calibration", "calibration_overdue", bad if overdue else "pass", text + f" on {as_of}")
