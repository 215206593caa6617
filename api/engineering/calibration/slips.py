"""Mistakes usual in a calibration, and the factor by which each makes the efficiency come out wrong."""

from dataclasses import dataclass
from math import pi

FOOT_POUND = 1.3558179483314004
BAR = 14.503773773020923
CUBIC_INCH = 16.387064
"""In cm3."""


@dataclass(frozen=True)
class Slip:
    """A mistake of a kind, and the factor by which it makes the efficiency come out wrong."""

    kind: str
    ratio: float
    text: str


def _both_ways(kind: str, ratio: float, text: str, inverse: str) -> tuple[Slip, Slip]:
    return Slip(kind, ratio, text), Slip(kind, 1 / ratio, inverse)


READING_SLIPS = (
    *_both_ways(
        "newton_metre_foot_pound",
        FOOT_POUND,
        "torque in N.m given as foot-pounds",
        "torque in foot-pounds given as N.m",
    ),
    *_both_ways("psi_bar", BAR, "pressure in bar given as psi", "pressure in psi given as bar"),
    *_both_ways(
        "factor_ten",
        10,
        "pressure of a dial marked x10 read without it, or torque in N.m given as daN.m",
        "pressure read with a x10 too many, or torque in daN.m or kgf.m given as N.m",
    ),
)
"""What may happen to the readings of any machine."""


@dataclass(frozen=True)
class Drive:
    """The drive of a machine, as far as its profile may hold it wrongly.

    Attributes:
        sizes: what may be of another size than in the profile, as the code of that explanation.
        sizes_text: the same in words.
        slips: mistakes in the readings or in the sizes of such a machine.
    """

    sizes: str
    sizes_text: str
    slips: tuple[Slip, ...]


CYLINDER = Drive(
    "bore_or_arm_hole",
    "a bore, rod or arm hole",
    (
        *_both_ways(
            "inch_foot",
            12,
            "torque in inch-pounds given as foot-pounds, or the arm in feet given as inches",
            "torque in foot-pounds given as inch-pounds, or the arm in inches given as feet",
        ),
        *READING_SLIPS,
        *_both_ways(
            "inch_millimetre", 25.4, "the arm in inches given as mm", "the arm in mm given as inches"
        ),
        *_both_ways(
            "radius_diameter",
            2,
            "the arm radius taken for a diameter and halved",
            "the arm given by its diameter instead of its radius",
        ),
    ),
)
MOTOR = Drive(
    "displacement_or_gear_ratio",
    "a displacement or gear ratio",
    (
        *_both_ways(
            "inch_foot",
            12,
            "torque in inch-pounds given as foot-pounds",
            "torque in foot-pounds given as inch-pounds",
        ),
        *READING_SLIPS,
        *_both_ways(
            "radian_revolution",
            2 * pi,
            "displacement per radian given as per revolution",
            "displacement per revolution given as per radian",
        ),
        *_both_ways(
            "cubic_inch_centimetre",
            CUBIC_INCH,
            "displacement in in3 given as cm3",
            "displacement in cm3 given as in3",
        ),
    ),
)
