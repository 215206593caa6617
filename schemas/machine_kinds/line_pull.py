"""The profile of a line pulling an arm, read on a load cell or a pull gauge."""

from typing import Any

from marshmallow import fields, validates_schema

from schemas.core.faults import contradictions
from schemas.core.fields import Request
from schemas.core.quantity_fields import EitherDial, Quantity
from schemas.machines.cylinder_parts import ArmRadius, WeighedArm
from schemas.machines.profile import (
    DIVISION,
    SPAN,
    AngleOffSquare,
    DialGauge,
    DiameterRange,
    EfficiencyRange,
    KindName,
    MachineProfile,
    Rated,
    check_one_gauge_once,
)
from schemas.machines.tolerances import ArmTolerances, HalfWidthPercent


class PullGauge(DialGauge):
    """A pull gauge with a dial of force, or the gauge of a hydraulic load cell, with one of pressure."""

    span = EitherDial(("force", "pressure"), required=True, metadata={"description": SPAN})
    division = EitherDial(("force", "pressure"), required=True, metadata={"description": DIVISION})


class PullGauges(Request):
    """The gauge read in each operation; may be the same one."""

    make_up = fields.Nested(PullGauge, required=True, metadata={"description": "Read to make up."})
    break_out = fields.Nested(PullGauge, required=True, metadata={"description": "Read to break out."})

    @validates_schema(skip_on_field_errors=True)
    def _one_gauge_once(self, data: dict[str, Any], **_: Any) -> None:
        check_one_gauge_once(data)


class RatedPull(Request):
    """Highest pulls that the makers of line and load cell or gauge allow."""

    line = Rated("line", "force")
    cell = Rated("load cell or pull gauge", "force")


class LineTolerances(ArmTolerances):
    """Tolerances of a line pulling an arm."""

    cell_area_percent = HalfWidthPercent("The area of the load cell")


class LinePullProfile(MachineProfile, WeighedArm):
    """An arm pulled by a line, which must be led so that it turns the joint the wanted way."""

    kind = KindName("line_pull")
    arm_radius = ArmRadius()
    largest_angle_off_square = AngleOffSquare()
    cell_area = Quantity(
        "area",
        metadata={
            "description": "Effective area of a hydraulic load cell, from its certificate; left out with a "
            "pull gauge."
        },
    )
    efficiency = fields.Nested(
        EfficiencyRange, required=True, metadata={"description": "Pull at the arm over the pull read."}
    )
    gauges = fields.Nested(PullGauges, required=True)
    rated_pull = fields.Nested(RatedPull, required=True)
    largest_pull = Quantity(
        "force", required=True, metadata={"description": "The most that winch or cathead can pull."}
    )
    lowest_pull = Quantity(
        "force", zero=True, required=True, metadata={"description": "The least to be set."}
    )
    outside_diameter = fields.Nested(DiameterRange, required=True)
    tolerances = fields.Nested(LineTolerances)

    @validates_schema(skip_on_field_errors=False)
    def _dials(self, data: dict[str, Any], **_: Any) -> None:
        kind = "pressure" if "cell_area" in data else "force"
        spans = [gauge["span"] for gauge in data.get("gauges", {}).values() if "span" in gauge]
        if any(kind not in span.unit.kinds for span in spans):
            why = "with a load cell of that area" if kind == "pressure" else "without cell_area"
            contradictions({"gauges": f"{why} the dials must be of {kind}"})
