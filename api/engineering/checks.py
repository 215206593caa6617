"""Why engineering says no: faults, and the checks of a value against its limit."""

import dataclasses
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from functools import partial
from typing import Literal

NOISE = 1e-12
"""Relative difference of floats that is arithmetic, not torque: a value on the very limit is within it."""


@dataclass(frozen=True)
class Amount:
    """A number in SI with the kind of quantity it is, so that the border can show it in any unit.

    Attributes:
        kind: of quantity.
        value: SI.
        unit: code of the unit it is always shown in: that of the dial it is read on; None for the unit asked
            for.
        on_mark: whether it is a mark of that dial, which is shown as it stands there.
    """

    kind: str
    value: float
    unit: str | None = None
    on_mark: bool = False


@dataclass(frozen=True)
class Fault:
    """One reason why there is no answer.

    ``code`` is stable and meant for programs. ``text`` is the sentence for people; each ``{name}`` in
    it stands for an entry of ``amounts``. ``field`` names the input at fault, if there is one (with a
    dot the member of one), and ``accepted`` says what would be taken, where the sentence does not.
    """

    code: str
    text: str
    field: str | None = None
    amounts: Mapping[str, Amount] = dataclasses.field(default_factory=dict)
    accepted: str | None = None


class NoAnswer(ValueError):
    """Raised with every fault found when no number can be given with a clear conscience."""

    def __init__(self, faults: Sequence[Fault]) -> None:
        self.faults = tuple(faults)
        super().__init__("; ".join(f"{fault.code}: {fault.text}" for fault in self.faults))


@contextmanager
def collecting(faults: list[Fault]) -> Iterator[None]:
    """Add the faults of a refusal to a list instead of stopping at it, so that all are told at once."""
    try:
        yield
    except NoAnswer as no_answer:
        faults += no_answer.faults


def refuse(
    code: str, text: str, field: str | None = None, accepted: str | None = None, **amounts: Amount
) -> NoAnswer:
    """The exception for a single fault, ready to raise."""
    return NoAnswer([Fault(code, text, field, amounts, accepted)])


Verdict = Literal["pass", "caution", "fail", "not_checked"]


@dataclass(frozen=True, kw_only=True)
class Check:
    """One limit.

    Attributes:
        name: what is checked.
        verdict: ``pass``, ``caution``, ``fail`` or ``not_checked``.
        text: a sentence, with ``{value}`` and ``{limit}`` for the amounts.
        code: the code of a refusal where the verdict is ``fail``; empty where it never is.
        value, limit: what was compared.
    """

    name: str
    verdict: Verdict
    text: str
    code: str = ""
    value: Amount | None = None
    limit: Amount | None = None

    @property
    def fault(self) -> Fault:
        """The fault that a failed check is."""
        amounts = {"value": self.value, "limit": self.limit}
        shown = {name: at for name, at in amounts.items() if at}
        return Fault(self.code, self.text, "machine", shown, ACCEPTED.get(self.code))


ACCEPTED: Mapping[str, str] = {
    "profile_is_draft": "a machine whose profile is approved, with who approved it and when",
    "profile_not_in_force": "a machine whose profile is in force on that day",
    "calibration_missing": "a machine whose profile names its calibration",
    "calibration_overdue": "a machine in calibration: have this one calibrated, or use another",
    "as_of_required": "as_of with the day of the job, such as 2026-11-24",
    "capacity_exceeded": "a stronger machine",
    "torque_rating_exceeded": "a stronger machine",
    "grip_pressure_exceeded": "a stronger grip, jaws with more friction, or a smaller margin",
}
"""What would be taken in place of what a failed check refuses, by its code."""


def at_most(
    *,
    name: str,
    text: str,
    value: float,
    limit: float,
    kind: str = "",
    shown: Callable[[float], Amount] | None = None,
    code: str = "",
    bad: Verdict = "fail",
) -> Check:
    """A check that a value does not exceed a limit; the limit itself passes.

    Both are of a ``kind``, or ``shown`` as a dial shows them.
    """
    verdict: Verdict = "pass" if value <= limit * (1 + NOISE) else bad
    amount = shown or partial(Amount, kind)
    return Check(name=name, code=code, verdict=verdict, text=text, value=amount(value), limit=amount(limit))


def at_least(
    *,
    name: str,
    text: str,
    value: float,
    limit: float,
    kind: str = "",
    shown: Callable[[float], Amount] | None = None,
    code: str = "",
    bad: Verdict = "fail",
) -> Check:
    """A check that a value does not fall below a limit; the limit itself passes.

    Both are of a ``kind``, or ``shown`` as a dial shows them.
    """
    verdict: Verdict = "pass" if value >= limit * (1 - NOISE) else bad
    amount = shown or partial(Amount, kind)
    return Check(name=name, code=code, verdict=verdict, text=text, value=amount(value), limit=amount(limit))
