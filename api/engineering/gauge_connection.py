"""What stands between gauge and cylinder: a column of oil, and a line that takes pressure while oil flows."""

from collections.abc import Mapping

from api.engineering.checks import Check, at_most

HEAD_PER_METRE = 0.4 * 6894.757293168362 / 0.3048
"""Static head of oil, Pa/m: 0.4 psi/ft, the figure of the trade (read). It is that of 923 kg/m3; hydraulic
oils have 881 to 929 (read), which is 0.382 to 0.403 psi/ft."""

SHARE_OF_ERROR = 1 / 3
"""Share of the gauge error up to which a head does not matter (own judgement: in quadrature it adds 5 %)."""

LINE_DROP: Mapping[str, str | None] = {
    "work_port": None,
    "pump": (
        "The gauge is connected at the pump: while oil flows it also reads what valve and line take, more "
        "than the cylinder has. At stall both agree: read it there."
    ),
}
"""What whoever reads a gauge must know, by where it is connected; None where it reads the cylinder itself."""


def static_head(height: float) -> float:
    """Pressure of the oil between two heights, Pa: the lower one of gauge and cylinder has it on top.

    Args:
        height: difference of height, m, >= 0.

    Ten feet are 4 psi:

    >>> round(static_head(10 * 0.3048) / 6894.757293168362, 9)
    4.0
    """
    return HEAD_PER_METRE * height


def static_head_check(height: float | None, gauge_error: float) -> Check:
    """Whether the oil between gauge and cylinder matters beside the error of the gauge.

    Args:
        height: of the gauge above or below the cylinder, m, >= 0; None where not known.
        gauge_error: largest error of the gauge at the reading, Pa.
    """
    if height is None:
        text = (
            "it is not stated how far the gauge stands above or below the cylinder: 3 m of oil are 0.27 bar"
        )
        return Check("static_head", "", "not_checked", text)
    return at_most(
        "static_head",
        "",
        "head of the oil between gauge and cylinder {value} against a third of the gauge error {limit}; a "
        "gauge above the cylinder reads that much less than the cylinder has, one below it more",
        "pressure",
        static_head(height),
        SHARE_OF_ERROR * gauge_error,
        "caution",
    )
