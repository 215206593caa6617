"""Where a row of a shop's table contradicts the formula of a connection that Dialset knows."""

from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from itertools import product

from api.answers import rotary_request, round_thread_request
from api.engineering import rotary_shouldered, round_thread
from api.engineering.faults import NoAnswer
from api.engineering.thread_geometry import INCH
from schemas.numbers import NotANumber, plain_number
from schemas.shop_table import KeyColumn, TableRow, folded

LARGEST_DIFFERENCE = 0.03
"""Share of the formula's torque by which a row may differ; handbooks round by less (own judgement)."""

ROTARY = ("connection", "box_outside_diameter", "pin_bore")
ROTARY_OPTIONAL = ("pin_stress_level", "box_stress_level")
ROUND_THREAD = ("size", "weight", "pipe_grade", "thread_type")
FLAGS = {"true": True, "yes": True, "false": False, "no": False}
COMPONENTS = ("drill_collar", "tool_joint")


def contradiction(columns: Sequence[KeyColumn], row: TableRow) -> str | None:
    """How the target of a row differs from all that the formula gives its joint; None if it does not.

    A row is compared where the key columns have the names that the joint's fields have on
    ``/v1/torque/rotary-shouldered`` or ``/v1/torque/round-thread``. What such a row leaves open, like the
    component, is taken either way, and the torque nearest to the row counts.
    """
    names = {column.name for column in columns}
    for needed, torques, standard in (
        (ROTARY, _rotary_torques, "API RP 7G"),
        (ROUND_THREAD, _round_thread_torques, "API RP 5C1"),
    ):
        if names.issuperset(needed):
            differences = [row.target / torque - 1 for torque in torques(row.key)]
            nearest = min(differences, key=abs, default=0.0)
            return None if abs(nearest) <= LARGEST_DIFFERENCE else _told(row, nearest, standard)
    return None


def _told(row: TableRow, difference: float, standard: str) -> str:
    side = "above" if difference > 0 else "below"
    return (
        f"Row {row.number} contradicts the formula of {standard} for this connection: its target is "
        f"{100 * abs(difference):.3g} % {side} what the formula gives. It is served as the shop wrote it; "
        "find out which is right before it is used."
    )


def _rotary_torques(key: Mapping[str, str | float]) -> Iterator[float]:
    """Torques of every joint that a row may mean; none where it is no joint of the formula."""
    given = {name: key[name] for name in (*ROTARY, *ROTARY_OPTIONAL) if name in key}
    if not isinstance(given.pop("connection"), str) or any(isinstance(each, str) for each in given.values()):
        return
    component = folded(str(key.get("component", ""))).replace(" ", "_")
    face = FLAGS.get(folded(str(key.get("low_torque_face", ""))))
    components = (component,) if component in COMPONENTS else COMPONENTS
    for each, cut in product(components, (None, False, True) if face is None else (face,)):
        asked = {**given, "connection": key["connection"], "component": each}
        if cut is not None:
            asked["low_torque_face"] = cut
        with suppress(NoAnswer, NotANumber):
            joint = rotary_request.joint_from(asked)
            yield (
                _factor(key)
                * rotary_shouldered.make_up(
                    joint.thread, joint.outside_diameter, joint.bore, joint.pin_stress, joint.box_stress
                ).torque
            )


def _factor(key: Mapping[str, str | float]) -> float:
    """Friction factor of the compound, where the table has a column for it."""
    return plain_number(str(key.get("compound_friction_factor", 1.0)))


def _round_thread_torques(key: Mapping[str, str | float]) -> Iterator[float]:
    size, weight = key["size"], key["weight"]
    if isinstance(weight, str):
        return
    asked = {
        "size": size if isinstance(size, str) else f"{size / INCH:.10g}",
        "weight": weight,
        "pipe_grade": str(key["pipe_grade"]),
        "thread_type": str(key["thread_type"]).upper(),
    }
    with suppress(NoAnswer):
        yield round_thread.make_up(round_thread_request.joint_from(asked).thread).optimum
