"""Where a row of a shop's table contradicts the formula of a connection that Dialset knows."""

from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from itertools import product
from math import isfinite

from api.answers.rotary import request as rotary_request
from api.answers.tubular import request as round_thread_request
from api.engineering.rotary import torque as rotary_shouldered
from api.engineering.tubular import round_thread
from api.reference.connections import find_connection
from api.reference.members import COMPONENTS, rule_of
from api.shop_tables.reader import KeyColumn, TableRow, folded
from schemas.core.fields import Flag
from schemas.core.quantity import plain_number
from schemas.rotary.joint import COMPOUND_FRICTION_FACTORS

BEFORE_USE = "Find out which is right before you use it."
"""What to do about a row that contradicts the formula."""

LARGEST_DIFFERENCE = 0.03
"""Share of the formula's torque by which a row may differ; handbooks round by less (own judgement)."""

ROTARY = {"connection": None, "box_outside_diameter": "length", "pin_bore": "length"}
ROTARY_OPTIONAL = {"pin_stress_level": "stress", "box_stress_level": "stress"}
ROUND_THREAD = {"size": None, "weight": "linear_mass", "pipe_grade": None, "thread_type": None}
"""Key columns and the kind of their unit, None for text, by which a joint of a formula is known."""
FACTOR = "compound_friction_factor"

Key = Mapping[str, str | float]


def compared_with(columns: Sequence[KeyColumn]) -> str | None:
    """The standard whose formula the rows of a table are compared with; None for a table of other joints.

    Rows are compared where the key columns have the names that the joint's fields have on
    ``/v1/torque/rotary-shouldered`` or ``/v1/torque/round-thread``, each text or a unit of its kind.
    """
    kinds = {column.name: column.kind for column in columns}
    if ROTARY.items() <= kinds.items() and kinds.get(FACTOR) is None:
        stresses = {name: kinds[name] for name in ROTARY_OPTIONAL if name in kinds}
        return "API RP 7G" if stresses.items() <= ROTARY_OPTIONAL.items() else None
    return "API RP 5C1" if ROUND_THREAD.items() <= kinds.items() else None


def formula_torques(standard: str, row: TableRow) -> list[float]:
    """Every torque (N.m) that the formula of a standard gives a row; none for a joint that it does not know.

    What the row leaves open, like the component, is taken either way.
    """
    torques = _rotary_torques if standard == "API RP 7G" else _round_thread_torques
    return [torque for torque in torques(row.key) if isfinite(torque) and torque > 0]


def contradiction(standard: str, row: TableRow, torques: Sequence[float]) -> str | None:
    """How the target of a row differs from the nearest of these torques; None where it does not."""
    difference = min((row.target / torque - 1 for torque in torques), key=abs, default=0.0)
    if abs(difference) <= LARGEST_DIFFERENCE:
        return None
    side = "above" if difference > 0 else "below"
    return (
        f"Row {row.number} contradicts the formula of {standard} for this connection. Its target is "
        f"{100 * abs(difference):.3g} % {side} what the formula gives. Dialset serves it as the shop "
        "wrote it."
    )


def _rotary_torques(key: Key) -> Iterator[float]:
    if find_connection(str(key["connection"])) is None:
        return
    given = {name: key[name] for name in (*ROTARY, *ROTARY_OPTIONAL) if name in key}
    component = rule_of(folded(str(key.get("component", ""))).replace(" ", "_"))
    face = Flag.words.get(folded(str(key.get("low_torque_face", ""))))
    for each, cut in product(COMPONENTS, (None, False, True) if face is None else (face,)):
        if component not in ("", each):
            continue
        asked = {**given, "component": each, "confirm_size": True}
        if cut is not None:
            asked["low_torque_face"] = cut
        with suppress(ValueError, ArithmeticError):  # what no joint can be is compared with nothing
            joint = rotary_request.joint_from(asked)
            yield (
                _factor(key)
                * rotary_shouldered.make_up(
                    joint.thread, joint.outside_diameter, joint.bore, joint.pin_stress, joint.box_stress
                ).torque
            )


def _factor(key: Key) -> float:
    """Friction factor of the compound, where the table has a column for it.

    Raises:
        ValueError: for what no compound has.
    """
    factor, (low, high) = plain_number(str(key.get(FACTOR, 1.0))), COMPOUND_FRICTION_FACTORS
    if not low <= factor <= high:
        raise ValueError(f"no compound has a friction factor of {factor}")
    return factor


def _round_thread_torques(key: Key) -> Iterator[float]:
    asked = {
        "size": key["size"],
        "weight": key["weight"],
        "pipe_grade": key["pipe_grade"],
        "thread_type": str(key["thread_type"]).upper(),
    }
    with suppress(ValueError, ArithmeticError):
        yield round_thread.make_up(round_thread_request.joint_from(asked).thread).optimum
