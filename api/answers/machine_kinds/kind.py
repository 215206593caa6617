"""What the service must know of a kind of machine besides its engineering."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from api.answers.machine_kinds.parts import limits_of
from api.engineering.limits import Limits
from api.engineering.machines.machine import ArmPosition, Machine
from api.engineering.provenance import Source
from api.engineering.turning import Turning
from api.engineering.working import Step

Loaded = Mapping[str, Any]


def no_cautions(loaded: Loaded, limits: Limits) -> Iterator[str]:
    """Nothing to say of a profile of this kind."""
    yield from ()


@dataclass(frozen=True)
class Kind:
    """A kind of machine.

    Attributes:
        build: the machine of a loaded profile as it grips an outside diameter, m, None where not known;
            raises NoAnswer where it must be.
        source: where its equation comes from.
        to_reading, to_torque: its working, from torque to reading and back.
        working: the objects that the steps of its working read, beside ``job``, which is there for all.
        cautions: what a profile of this kind should not be put into service with.
        limits: what the makers allow, of a loaded profile.
        says: what whoever uses a machine of this kind must know every time.
    """

    build: Callable[[Loaded, float | None], Machine]
    source: Source
    to_reading: tuple[Step, ...]
    to_torque: tuple[Step, ...]
    working: Callable[[Any, Loaded, Turning, ArmPosition], Mapping[str, Any]]
    cautions: Callable[[Loaded, Limits], Iterator[str]] = no_cautions
    limits: Callable[[Loaded], Limits] = limits_of
    says: tuple[str, ...] = ()
