"""What a calibration says of a machine, as answered."""

from typing import Any

from marshmallow import fields

from schemas.calibration.request import DIRECTIONS
from schemas.core.fields import Number, ten_digits
from schemas.core.parts import Count, OneOf, Part, Words, knowable
from schemas.core.quantity_fields import AmountField, DialReading, Quantity, output_units
from schemas.finding import FaultText
from schemas.record import Reasoned
from schemas.words import SIDES

FIGURES = ("relative_error", "repeatability", "reversibility", "zero", "resolution")
"""Figures of merit, by the names of ISO 7500-1."""
CLASSES = ("0.5", "1", "2", "3")
"""Classes of ISO 7500-1, as a yardstick."""
LINES = ("with_offset", "through_zero")
PLAUSIBILITY = ("plausible", "low", "high", "impossible")


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

    code = Words(metadata={"description": "Stable, for programs; later versions may have more."})
    text = FaultText(metadata={"description": "The remark in words."})


class LinePart(Part):
    """A line of torque over pressure, by least squares over the rising readings."""

    offset = Quantity("torque", attribute="a", metadata={"description": "Torque at no pressure."})
    offset_standard_uncertainty = Quantity(
        "torque", attribute="u_a", metadata={"description": "Standard uncertainty of the offset."}
    )
    slope = TorquePerPressure(attribute="b", metadata={"description": "Torque a unit of pressure."})
    slope_standard_uncertainty = TorquePerPressure(
        attribute="u_b", metadata={"description": "Standard uncertainty of the slope."}
    )
    correlation = Number(attribute="r", metadata={"description": "Correlation of offset and slope."})
    residual_standard_deviation = Quantity(
        "torque",
        attribute="s",
        metadata={"description": "Standard deviation of readings about the line."},
    )
    degrees_of_freedom = Count(metadata={"description": "Rising readings less the figures of the line."})


class LevelPart(Part):
    """One pressure. Relative figures are in percent of the mean torque; names as in ISO 7500-1."""

    pressure = DialReading(metadata={"description": "Pressure in the unit of the dial."})
    rising_runs = Count(metadata={"description": "Rising readings at this pressure."})
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
    torque = Quantity("torque", metadata={"description": "Torque of the reference."})
    run = Count(metadata={"description": "Number of the run."})
    direction = OneOf(DIRECTIONS, metadata={"description": "How the pressure was approached."})
    residual = Quantity("torque", metadata={"description": "Measured less line."})


class FigurePart(Part):
    """A figure of merit where it is farthest from zero, and the best class whose limit it keeps."""

    figure = OneOf(FIGURES, metadata={"description": "Which figure."})
    percent = Number(metadata={"description": "The figure, in percent."})
    best_class = OneOf(
        CLASSES,
        allow_none=True,
        metadata={"description": "Best class whose limit it keeps; null if it keeps none."},
    )


class YardstickPart(Part):
    """The figures against class limits: a yardstick, no conformity."""

    best_class = OneOf(
        CLASSES,
        allow_none=True,
        metadata={"description": "Best class whose limits hold for all figures measured; null if none."},
    )
    figures = fields.List(
        fields.Nested(FigurePart),
        attribute="measured",
        metadata={"description": "The figures that were measured."},
    )
    not_measured = fields.List(
        OneOf(FIGURES), metadata={"description": "Figures that the classes limit and this lacks."}
    )


class MistakePart(Part):
    """A mistake that would explain the efficiency."""

    code = Words(metadata={"description": "Two mistakes at once are joined by +."})
    text = Words(metadata={"description": "The mistake in words."})
    efficiency_without = Number(allow_none=True, metadata={"description": "Without that mistake."})


class FoundEfficiencyPart(Part):
    """The slope of the line to use over that of geometry without losses."""

    efficiency = Number(attribute="value", metadata={"description": "Slope measured over slope by geometry."})
    standard_uncertainty = Number(
        attribute="uncertainty",
        metadata={"description": "Standard uncertainty from line, reference and gauge, as far as known."},
    )
    verdict = OneOf(
        PLAUSIBILITY,
        metadata={"description": "low and high: outside the range of the profile; impossible: above 1."},
    )
    expected_efficiency = Number(
        attribute="geometry.efficiency.nominal", metadata={"description": "The nominal one of the profile."}
    )
    geometric_slope = TorquePerPressure(
        attribute="geometry.torque_per_pressure",
        metadata={"description": "Torque a unit of pressure by geometry, without losses."},
    )
    likely_mistakes = fields.List(
        fields.Nested(MistakePart),
        attribute="mistakes",
        metadata={"description": "Mistakes that would explain it, the best first; empty if plausible."},
    )


class CalibrationSidePart(Reasoned):
    """One side on one gauge."""

    side = OneOf(SIDES, metadata={"description": "What was under pressure."})
    gauge = Words(metadata={"description": "Serial of the gauge."})
    line_to_use = OneOf(LINES, metadata={"description": "Which of the two lines is to be used."})
    line_to_use_basis = fields.Nested(NotePart, metadata={"description": "Why that line."})
    with_offset = fields.Nested(LinePart, metadata={"description": "Line with an offset of its own."})
    through_zero = fields.Nested(LinePart, metadata={"description": "Line through no torque at no pressure."})
    levels = fields.List(
        fields.Nested(LevelPart), metadata={"description": "Every pressure with a rising reading, rising."}
    )
    readings = fields.List(
        fields.Nested(ResidualPart), metadata={"description": "Every reading against the line to use."}
    )
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
    notes = fields.List(fields.Nested(NotePart), metadata={"description": "Remarks on this side and gauge."})


class CalibrationAnswer(Part):
    """What a calibration says of a machine, and the profile that holds it."""

    sides = fields.List(
        fields.Nested(CalibrationSidePart), metadata={"description": "Each side and gauge on its own."}
    )
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
