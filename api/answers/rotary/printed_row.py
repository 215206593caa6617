"""The printed row of a rotary shouldered joint: beside its computed torque, or in place of it."""

from typing import Any

from api.answers.rotary.request import Joint
from api.engineering.checks import Amount, Fault, NoAnswer, refuse
from api.reference.make_up_torque import PublishedTorque, TableKey, published_row, rows_around


def _key(joint: Joint) -> TableKey | None:
    """The key of the row to look for; None for mates of two stress levels, which no table has."""
    if abs(joint.pin_stress - joint.box_stress) > 1.0:
        return None
    return TableKey(
        joint.connection.designation,
        joint.component,
        joint.low_torque_face,
        joint.edition == "2003",
        joint.pin_stress,
    )


def _row(joint: Joint) -> PublishedTorque | None:
    key = _key(joint)
    return published_row(key, joint.outside_diameter, joint.bore) if key else None


def compare(joint: Joint, torque: float) -> dict[str, Any] | None:
    """The published row for exactly this joint beside the computed torque, if there is one.

    The difference is that of the formula from the row, as a share of the row, both at the friction
    factor of the request.
    """
    row = _row(joint)
    if row is None:
        return None
    published = row.torque * joint.compound_friction_factor
    return {
        "value": published,
        "row": row.row,
        "status": row.source.status,
        "source": row.source.source,
        "resolution": row.resolution,
        "difference": torque / published - 1,
        "doubt": row.doubt or None,
    }


def row_or_refusal(joint: Joint) -> PublishedTorque:
    """The published row for exactly this joint.

    Raises:
        NoAnswer: ``no_published_row`` with the rows around it, or ``row_in_doubt``.
    """
    row = _row(joint)
    if row is None:
        raise NoAnswer([_no_row(joint)])
    if not row.doubt and not row.exact:
        text = (
            f"the only row, {row.row}, is of an older edition and rounded to {{step}}: ask with basis=formula"
        )
        raise refuse("row_rounded", text, "basis", step=Amount("torque", row.resolution))
    if row.doubt:
        text = f"row {row.row} is in doubt ({row.doubt}): ask with basis=formula"
        raise NoAnswer([Fault("row_in_doubt", text, "basis")])
    return row


def _no_row(joint: Joint) -> Fault:
    key = _key(joint)
    around = rows_around(key, joint.outside_diameter, joint.bore) if key else []
    if not around:
        return Fault(
            "no_published_row",
            "Dialset has no table row for this connection, component, edition and stress level: ask "
            "with basis=formula",
            "basis",
        )
    parts: list[str] = []
    amounts: dict[str, Amount] = {}
    for number, row in enumerate(around):
        parts.append(f"row {row.row}: {{od{number}}} x {{bore{number}}}, {{torque{number}}}")
        amounts |= {
            f"od{number}": Amount("length", row.box_outside_diameter),
            f"bore{number}": Amount("length", row.pin_bore),
            f"torque{number}": Amount("torque", row.torque),
        }
    text = "no published row is for exactly this joint, and Dialset guesses none; the rows around it: "
    return Fault("no_published_row", text + "; ".join(parts), "basis", amounts)
