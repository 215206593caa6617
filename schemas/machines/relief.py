"""The relief of a machine for a job, as answered."""

from schemas.core.parts import Basis, Part, Words, knowable
from schemas.core.quantity_fields import DialReading, Quantity


class ReliefPart(Part):
    """How the relief valve must stand for a job, and what it then protects."""

    only_full = frozenset(
        {
            "upper_joint_basis",
            "upper_machine_basis",
            "gauge_read",
            "cracking",
            "full_flow",
            "override",
            "grip_pressure",
        }
    )

    lower = Quantity(
        "pressure",
        metadata={"description": "Lowest pressure at which it may begin to open; below, it opens too early."},
    )
    upper_joint = knowable(
        Quantity(
            "pressure",
            metadata={"description": "Highest such pressure at which full flow does not overload the joint."},
        )
    )
    upper_joint_basis = Basis()
    upper_machine = Quantity(
        "pressure",
        metadata={
            "description": "Highest such pressure at which full flow overloads no part of the machine."
        },
    )
    upper_machine_basis = Basis(allow_none=False)
    set_to = knowable(
        DialReading(
            metadata={
                "description": "Pressure at which to set the valve, a mark in the unit of the dial; null for "
                "a fixed valve."
            }
        )
    )
    gauge = Words(metadata={"description": "Serial of the gauge on which relief is set."})
    gauge_read = Words(
        metadata={"description": "Which gauge of the profile that is: system, or that of the operation."}
    )
    cracking = knowable(
        Quantity("pressure", metadata={"description": "Pressure at which it then begins to open."})
    )
    full_flow = knowable(
        Quantity(
            "pressure",
            metadata={"description": "Pressure at which it passes the full flow of the pump."},
        )
    )
    override = Quantity("pressure", metadata={"description": "Full flow less cracking."})
    protects = knowable(Words(metadata={"description": "joint (and machine), or machine alone."}))
    grip_pressure = knowable(
        Quantity(
            "pressure",
            metadata={"description": "Pressure of the grip for the torque with its margin, common supply."},
        )
    )
