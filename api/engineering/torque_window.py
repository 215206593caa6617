"""The window of torque in which a joint may be made up: what every joint family returns."""

from dataclasses import dataclass, replace

from api.engineering.checks import Amount, Finding, refuse
from api.engineering.provenance import Assumption, Knowable, Known, Source, TableVersion


@dataclass(frozen=True)
class End:
    """One end of a window, or its target: a torque in N.m or why there is none, and how sure it is.

    ``withheld`` is a torque that is not sure enough to be told or aimed by. It still limits what is set.
    """

    torque: Knowable[float]
    status: str = "none"
    withheld: float | None = None


@dataclass(frozen=True)
class TorqueWindow:
    """Minimum, target and maximum make-up torque of a joint, each with what it rests on.

    ``torsional_yield`` is the torque at which the joint yields, N.m, where it is known; ``findings`` what
    whoever makes up this very joint must know; ``table`` that of the shop, where the torque is from one;
    ``opening_moment`` the bending moment that opens its shoulder at the target, N.m, where it has one;
    ``of_pipe`` whether it is one of pipe, which a machine must grip, ``of_nut`` whether a nut is turned.

    Raises:
        NoAnswer: ``window_out_of_order`` unless minimum <= target <= maximum.
    """

    minimum: End
    target: End
    maximum: End
    sources: tuple[Source, ...]
    assumptions: tuple[Assumption, ...] = ()
    torsional_yield: float | None = None
    findings: tuple[Finding, ...] = ()
    table: TableVersion | None = None
    opening_moment: float | None = None
    of_pipe: bool = False
    of_nut: bool = False

    def __post_init__(self) -> None:
        target = self.goal
        low, high = self.minimum.torque.value, self.maximum.torque.value
        if low is not None and not low <= target:
            raise refuse(
                "window_out_of_order",
                "the minimum torque {minimum} lies above the target {target}",
                "torque_minimum",
                minimum=Amount("torque", low),
                target=Amount("torque", target),
            )
        if high is not None and not target <= high:
            raise refuse(
                "window_out_of_order",
                "the maximum torque {maximum} lies below the target {target}",
                "torque_maximum",
                maximum=Amount("torque", high),
                target=Amount("torque", target),
            )

    @property
    def goal(self) -> float:
        """The target torque in N.m; a window always has one."""
        return _torque_of(self.target)


def _torque_of(target: End) -> float:
    if target.torque.value is None:
        raise ValueError("a torque window needs a target")
    return target.torque.value


STATED = "the stated torque_tolerance"


def ends_from_tolerance(target: End, tolerance: float, whose: str = STATED) -> tuple[End, End]:
    """Minimum and maximum as the target less and plus a share of it.

    Args:
        target: the target, with a torque.
        tolerance: share of the target, 0 < tolerance < 1; 0.05 is plus and minus 5 %.
        whose: where the share comes from, in words.

    >>> low, high = ends_from_tolerance(End(Known(1000.0), "read"), 0.05)
    >>> low.torque.value, high.torque.value
    (950.0, 1050.0)
    """
    torque = _torque_of(target)
    basis = f"the target with {whose} of {tolerance:.10g}"
    low, high = Known(torque * (1 - tolerance), basis), Known(torque * (1 + tolerance), basis)
    return End(low, target.status), End(high, target.status)


def widened(window: TorqueWindow, tolerance: float | None, whose: str = STATED) -> TorqueWindow:
    """The window with both ends set by a tolerance, where it has neither.

    Raises:
        NoAnswer: ``tolerance_not_needed`` where an end already stands, ``torsional_yield_exceeded`` where the
            joint would yield within the tolerance.
    """
    if tolerance is None:
        return window
    if window.minimum.torque.value is not None or window.maximum.torque.value is not None:
        raise refuse(
            "tolerance_not_needed",
            "this joint already has a minimum or a maximum; a torque_tolerance would contradict it",
            "torque_tolerance",
        )
    low, high = ends_from_tolerance(window.target, tolerance, whose)
    limit = window.torsional_yield
    if limit is not None and not window.goal * (1 + tolerance) < limit:
        raise refuse(
            "torsional_yield_exceeded",
            "within this tolerance the joint would yield: the target is {target}, and it yields at {limit}",
            "torque_tolerance",
            f"less than {limit / window.goal - 1:.3g}",
            target=Amount("torque", window.goal),
            limit=Amount("torque", limit),
        )
    return replace(window, minimum=low, maximum=high)
