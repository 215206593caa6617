"""What engineering says when a request cannot be answered."""

import dataclasses
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass


@dataclass(frozen=True)
class Amount:
    """A number in SI with the kind of quantity it is, so that the border can show it in any unit."""

    kind: str
    value: float


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
