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
    approved = governance.status == "approved"
    text = f"the profile is {governance.status}"
    yield Check("profile_status", "profile_is_draft", "pass" if approved else bad, text)
    if as_of is None:
        text = "no as_of given: whether the profile is in force and calibrated on the day is not checked"
        yield Check("profile_dates", "as_of_required", "fail" if refuse_unfit else "not_checked", text)
        return
    yield _in_force(governance, as_of, bad)
    yield _calibrated(governance, as_of, bad)


def _in_force(governance: Governance, as_of: date, bad: Verdict) -> Check:
    start, end = governance.effective_from, governance.effective_to
    text = f"on {as_of} the profile, effective from {start or 'no date'} to {end or 'no date'}"
    within = (start is None or start <= as_of) and (end is None or as_of <= end)
    text += ", is in force" if within else ", is not in force"
    return Check("profile_dates", "profile_not_in_force", "pass" if within else bad, text)


def _calibrated(governance: Governance, as_of: date, bad: Verdict) -> Check:
    due = governance.calibration_due
    if due is None:
        return Check("calibration", "calibration_overdue", bad, "the profile names no calibration")
    overdue = as_of > due
    text = f"calibration {governance.certificate} due {due}" + (" is overdue" if overdue else "")
    return Check("calibration", "calibration_overdue", bad if overdue else "pass", text + f" on {as_of}")
