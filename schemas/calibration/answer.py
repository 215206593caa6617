"""What a calibration says of a machine, as answered."""

from typing import Any

from marshmallow import fields

from schemas.core.fields import Number, ten_digits
from schemas.core.parts import Part, Words, knowable
from schemas.core.quantity_fields import AmountField, DialReading, Quantity, output_units
from schemas.finding import FaultText
from schemas.record import Reasoned


class TorquePerPressure(AmountField):
    """A slope, in the units of torque and pressure that the answer is written in."""

    def _serialize(self, value: float | None, attr: str | None, obj: Any, **kwargs: Any) -> Any:
        if value is None:
            return None
        torque, pressure = (output_units.get().units[kind] for kind in ("torque", "pressure"))
        shown = value / torque.factor * pressure.factor
        return {"value": ten_digits(shown), "unit": f"{torque.code}/{pressure.code}"}


class NotePart(Part):
    """A remark with a stable code."""

    code = Words()
    text = FaultText()


class LinePart(Part):
    """A line of torque over pressure, by least squares over the rising readings."""

    offset = Quantity("torque", attribute="a", metadata={"description": "Torque at no pressure."})
    offset_standard_uncertainty = Quantity("torque", attribute="u_a")
    slope = TorquePerPressure(attribute="b")
    slope_standard_uncertainty = TorquePerPressure(attribute="u_b")
    correlation = Number(attribute="r", metadata={"description": "Correlation of offset and slope."})
    residual_standard_deviation = Quantity("torque", attribute="s")
    degrees_of_freedom = Number()


class LevelPart(Part):
    """One pressure. Relative figures are in percent of the mean torque; names as in ISO 7500-1."""

    pressure = DialReading(metadata={"description": "Pressure in the unit of the dial."})
    rising_runs = Number()
    mean_torque = Quantity("torque", metadata={"description": "Mean of the rising runs."})
    line_torque = Quantity("torque", metadata={"description": "Torque by the line to use."})
    line_torque_standard_uncertainty = Quantity(
        "torque",
        metadata={
            "description": "Standard uncertainty of the next single torque at this pressure, by the line."
        },
    )
    relative_error_percent = Number(metadata={"description": "Line less measured."})
    repeatability_percent = Number(
        allow_none=True, metadata={"description": "Largest less smallest over the rising runs."}
    )
    reversibility_percent = Number(allow_none=True, metadata={"description": "Falling less rising."})


class ResidualPart(Part):
    """One reading and how far it lies from the line to use."""

    pressure = DialReading(metadata={"description": "Pressure in the unit of the dial."})
    torque = Quantity("torque")
    run = Number()
    direction = Words()
    residual = Quantity("torque", metadata={"description": "Measured less line."})


class FigurePart(Part):
    """A figure of merit where it is farthest from zero, and the best class whose limit it keeps."""

    figure = Words()
    percent = Number()
    best_class = Words(allow_none=True)


class YardstickPart(Part):
    """The figures against class limits: a yardstick, no conformity."""

    best_class = Words(
        allow_none=True,
        metadata={"description": "Best class whose limits hold for all figures measured; null if none."},
    )
    figures = fields.List(fields.Nested(FigurePart), attribute="measured")
    not_measured = fields.List(fields.String())


class MistakePart(Part):
    """A mistake that would explain the efficiency."""

    code = Words(metadata={"description": "Two mistakes at once are joined by +."})
    text = Words()
    efficiency_without = Number(allow_none=True, metadata={"description": "Without that mistake."})


class FoundEfficiencyPart(Part):
    """The slope of the line to use over that of geometry without losses."""

    efficiency = Number(attribute="value")
    standard_uncertainty = Number(
        attribute="uncertainty",
        metadata={"description": "Standard uncertainty from line, reference and gauge, as far as known."},
    )
    verdict = Words(
        metadata={
            "description": "plausible, low or high (outside the range of the profile), impossible (above 1)."
        }
    )
    expected_efficiency = Number(
        attribute="geometry.efficiency.nominal", metadata={"description": "The nominal one of the profile."}
    )
    geometric_slope = TorquePerPressure(attribute="geometry.torque_per_pressure")
    likely_mistakes = fields.List(fields.Nested(MistakePart), attribute="mistakes")


class CalibrationSidePart(Reasoned):
    """One side on one gauge."""

    side = Words()
    gauge = Words(metadata={"description": "Serial of the gauge."})
    line_to_use = Words(metadata={"description": "with_offset or through_zero."})
    line_to_use_basis = fields.Nested(NotePart, metadata={"description": "Why that line."})
    with_offset = fields.Nested(LinePart)
    through_zero = fields.Nested(LinePart)
    levels = fields.List(fields.Nested(LevelPart))
    readings = fields.List(fields.Nested(ResidualPart))
    breakaway_pressure = knowable(
        DialReading(
            metadata={
                "description": "Pressure at which the line to use reaches no torque, return pressure "
                "included, in the unit of the dial."
            }
        )
    )
    zero_error_percent = knowable(
        Number(metadata={"description": "Torque at no pressure, of the largest torque."})
    )
    expanded_uncertainty_percent = knowable(
        Number(
            metadata={
                "description": "Expanded uncertainty of one torque within the calibrated range, for "
                "about 95 %. The assumptions list what entered it."
            }
        )
    )
    yardstick = knowable(fields.Nested(YardstickPart))
    efficiency = knowable(fields.Nested(FoundEfficiencyPart))
    notes = fields.List(fields.Nested(NotePart))


class CalibrationAnswer(Part):
    """What a calibration says of a machine, and the profile that holds it."""

    sides = fields.List(fields.Nested(CalibrationSidePart))
    notes = fields.List(fields.Nested(NotePart), metadata={"description": "Notes on all sides together."})
    profile = knowable(
        fields.Dict(
            metadata={"description": "A profile of kind calibrated, a draft, in the units of the readings."}
        )
    )
    profile_lacks = fields.List(
        fields.String(),
        metadata={
            "description": "Members that the profile still needs; without the drift of its gauge its "
            "worst-case bounds count the whole error of the class."
        },
    )
