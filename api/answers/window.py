"""The window of a stated joint, and windows widened by a stated tolerance."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from api.answers.shop import Shop
from api.engineering.checks import Amount, refuse
from api.engineering.provenance import Source, known
from api.engineering.torque_window import End, TorqueWindow, ends_from_tolerance


def widened(window: TorqueWindow, tolerance: float | None) -> TorqueWindow:
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
    low, high = ends_from_tolerance(window.target, tolerance)
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


def stated_window(values: Mapping[str, Any], _: Shop) -> TorqueWindow:
    """The window a caller states, with its source."""
    source = Source("torque", "stated", values["torque_source"])

    def end(field: str) -> End:
        return End(known(values.get(field), f"no {field} stated", "stated by the caller"), source.status)

    window = TorqueWindow(end("torque_minimum"), end("torque_target"), end("torque_maximum"), (source,))
    return widened(window, values.get("torque_tolerance"))
