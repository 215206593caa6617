"""Where a number comes from and how sure it is, or why it is not known."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import ClassVar, Generic, NamedTuple, TypeVar

from api.engineering.checks import Amount, NoAnswer

T = TypeVar("T")
T_co = TypeVar("T_co", covariant=True)

STATUSES = ("read", "reprint", "fitted", "from memory")
"""From the surest to the least sure; ``stated`` (by the caller) stands outside the scale.

*read*: seen in a public copy of the source; *reprint*: seen in one public reprint of it; *fitted*: one
of its inputs was inferred from its value; *from memory*: remembered, whether or not a formula agrees.
"""


class Source(NamedTuple):
    """One thing an answer rests on: what it is, how sure it is, and where it stands."""

    what: str
    status: str
    source: str


@dataclass(frozen=True)
class Assumption:
    """A value that entered an answer without having been given by the caller, and why."""

    field: str
    value: str
    reason: str


@dataclass(frozen=True)
class TableVersion:
    """Which table of the shop, and which revision of its row, gave a torque; ``hash`` is of the file."""

    id: str
    revision: str
    hash: str


def weakest_status(sources: Iterable[Source]) -> str:
    """The least sure status among ``sources``; ``stated`` if nothing published is among them."""
    found = [STATUSES.index(source.status) for source in sources if source.status in STATUSES]
    return STATUSES[max(found)] if found else "stated"


@dataclass(frozen=True)
class Known(Generic[T_co]):
    """A value and, where there is something to say of it, what it rests on.

    It has the attributes of `NotKnown` too, so that who needs the number alone reads ``value`` of either.
    """

    value: T_co
    basis: str | None = None
    reason: ClassVar[None] = None


@dataclass(frozen=True)
class NotKnown:
    """The reason why there is no value; each ``{name}`` in it stands for an entry of ``amounts``."""

    reason: str
    amounts: Mapping[str, Amount] = field(default_factory=dict)
    value: ClassVar[None] = None
    basis: ClassVar[None] = None


Knowable = Known[T_co] | NotKnown
"""What an answer has for a value that may not be known."""


def known(value: T | None, otherwise: str, basis: str | None = None) -> Knowable[T]:
    """A value as `Known`, or in place of None the reason why there is none.

    >>> known(3.0, "nobody measured it", "as measured")
    Known(value=3.0, basis='as measured')
    >>> known(None, "nobody measured it").reason
    'nobody measured it'
    """
    return NotKnown(otherwise) if value is None else Known(value, basis)


def why_not(refusal: NoAnswer) -> NotKnown:
    """All that a refusal says, as the reason why there is no value.

    >>> from api.engineering.checks import refuse
    >>> told = why_not(refuse("too_long", "{length} is too long", length=Amount("length", 3.0)))
    >>> told.reason, told.amounts["length_0"].value
    ('{length_0} is too long', 3.0)
    """
    texts, amounts = [], {}
    for number, fault in enumerate(refusal.faults):
        text = fault.text
        for name, amount in fault.amounts.items():
            text = text.replace(f"{{{name}}}", f"{{{name}_{number}}}")
            amounts[f"{name}_{number}"] = amount
        texts.append(text)
    return NotKnown("; ".join(texts), amounts)
