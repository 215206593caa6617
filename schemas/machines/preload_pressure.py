"""The setting of a stud tensioner for a preload, as asked and as answered."""

from marshmallow import fields

from schemas.core.fields import Day, Number, Request
from schemas.core.parts import Part, Words
from schemas.core.quantity_fields import DialReading, Quantity
from schemas.machines.answer import CheckPart
from schemas.machines.request import Machine


class PreloadRequest(Request):
    """A preload wanted in a stud, and the tensioner that is to give it."""

    machine = Machine(
        required=True,
        metadata={"description": "Id of a stud tensioner; in JSON also its profile.", "example": "bench-2"},
    )
    preload_target = Quantity(
        "force",
        required=True,
        metadata={
            "description": "Preload wanted in the stud when the tool is let off.",
            "example": "78000 lbf",
        },
    )
    preload_minimum = Quantity("force", metadata={"description": "Lowest preload allowed."})
    preload_maximum = Quantity("force", metadata={"description": "Highest preload allowed."})
    load_loss_factor = Number(
        1,
        2,
        required=True,
        metadata={
            "description": "Load under the tool over the preload left when it is let off. It depends on the "
            "stud and its length between the nuts, and comes from the maker of the tensioner or from a stud "
            "that was measured. Never assumed.",
            "example": 1.25,
        },
    )
    stress_area = Quantity(
        "area",
        limits=("10 mm2", "100000 mm2"),
        required=True,
        metadata={"description": "Tensile stress area of the thread of the stud.", "example": "1.492 in2"},
    )
    yield_strength = Quantity(
        "stress",
        limits=("20000 psi", "300000 psi"),
        required=True,
        metadata={"description": "Minimum yield strength of the stud.", "example": "105000 psi"},
    )
    as_of = Day(
        metadata={"description": "Day of the job; the profile must be in force and calibrated then."},
    )


class PreloadMarkPart(Part):
    """A mark of the gauge."""

    reading = DialReading(metadata={"description": "Reading in the unit of the dial."})
    preload = Quantity("force", attribute="torque")


class PreloadNeighboursPart(Part):
    """The marks on either side of the exact pressure."""

    below = fields.Nested(PreloadMarkPart, allow_none=True)
    above = fields.Nested(PreloadMarkPart, allow_none=True)


class PreloadPressureAnswer(Part):
    """What to set on the gauge of a stud tensioner for a preload."""

    only_full = frozenset(
        {
            "pressure",
            "preload_lower_bound",
            "preload_upper_bound",
            "neighbouring_marks",
            "gauge_error_share",
            "checks",
        }
    )

    pressure = Quantity("pressure", metadata={"description": "Exact pressure of the target preload."})
    gauge_setting = DialReading(
        metadata={"description": "The mark to set, in the unit of the dial whatever units are asked."}
    )
    preload_at_gauge_setting = Quantity(
        "force", metadata={"description": "Preload left when the tool is let off."}
    )
    preload_lower_bound = Quantity(
        "force", metadata={"description": "Worst case over gauge accuracy; no scatter of the load loss."}
    )
    preload_upper_bound = Quantity(
        "force", metadata={"description": "Highest preload in the same worst case."}
    )
    neighbouring_marks = fields.Nested(PreloadNeighboursPart)
    gauge = Words(metadata={"description": "Serial of the gauge."})
    gauge_error_share = Number(
        metadata={"description": "Largest error of the gauge as a share of the setting."}
    )
    tool_load = Quantity(
        "force", metadata={"description": "Load on the stud under the tool, at the setting."}
    )
    stud_stress = Quantity(
        "stress", metadata={"description": "Stress of the stud under the tool, at the setting."}
    )
    stud_stress_share_of_yield = Number(metadata={"description": "0.95 is the most that is accepted."})
    checks = fields.List(fields.Nested(CheckPart))
