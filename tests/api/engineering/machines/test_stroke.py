"""A stroke against published tables, pins drawn in coordinates, numerical integration, and its properties."""

from math import acos, atan2, cos, degrees, hypot, inf, pi, radians, sin, sqrt

import pytest
import scipy
from hypothesis import given
from hypothesis import strategies as st

from api.engineering.checks import NoAnswer
from api.engineering.machines.arm import Swing, largest_moment_arm, moment_arm, smallest_moment_arm
from api.engineering.machines.cylinder import Cylinder
from api.engineering.machines.stroke import (
    arm_angle,
    arm_at,
    rotation_from_travel,
    square_position,
    stroke_between,
    strokes_for_rotation,
    useful_rotation,
)

FAR = 5e4
"""Base distance, in arm radii, that stands for one without end: what is left is below 1e-9."""


def swing_of(arm: float, base: float, closed: float, opened: float) -> Swing:
    return Swing(Cylinder(0.1, 0.05, closed, opened), arm, base)


PUBLISHED = swing_of(36, 60, 36, 60)


@pytest.mark.parametrize(
    ("length", "theta", "factor"),
    [
        # Published example, arm 36 in and base 60 in: cylinder length, angle at the pipe, torque factor.
        (36, 33.557, 0.92128),
        (42, 43.531, 0.98393),
        (48, 53.130, 1.00000),
        (54, 62.720, 0.98753),
        (60, 72.542, 0.95394),
    ],
)
def test_published_angle_and_factor(length: float, theta: float, factor: float) -> None:
    at = arm_at(PUBLISHED, length)
    assert degrees(at.arm_angle) == pytest.approx(theta, abs=5e-4)
    assert at.torque_factor == pytest.approx(factor, abs=5e-6)
    assert at.loss_off_square == pytest.approx(1 - factor, abs=5e-6)


@pytest.mark.parametrize(
    ("start", "end", "rotation", "mean", "degrees_per_inch"),
    [
        # The same published example: from length to length, swing, mean factor, swing per inch of stroke.
        (42, 54, 19.189, 0.99528, 1.60),
        (36, 60, 38.985, 0.97979, None),
    ],
)
def test_published_stroke(
    start: float, end: float, rotation: float, mean: float, degrees_per_inch: float | None
) -> None:
    stroke = stroke_between(PUBLISHED, start, end)
    assert degrees(stroke.rotation) == pytest.approx(rotation, abs=5e-4)
    assert stroke.mean_moment_arm / 36 == pytest.approx(mean, abs=5e-6)
    if degrees_per_inch:
        assert degrees(stroke.rotation) / (end - start) == pytest.approx(degrees_per_inch, abs=5e-3)
    assert stroke.largest.length == 48
    assert stroke.largest.moment_arm == 36
    assert stroke.smallest is stroke.start


@pytest.mark.parametrize(
    ("stroke_per_arm", "rotation", "end_factor", "mean", "loss_percent"),
    [
        # Published table for a base pin far away and a stroke centred on square: 2 asin(S/2a),
        # cos(rotation/2), S / (a rotation), 100 (1 - cos(rotation/2)).
        (0.25, 14.362, 0.99216, 0.99738, 0.78),
        (0.40, 23.074, 0.97980, 0.99326, 2.02),
        (0.50, 28.955, 0.96825, 0.98939, 3.18),
        (0.75, 44.049, 0.92702, 0.97555, 7.30),
        (1.00, 60.000, 0.86603, 0.95493, 13.40),
        (1.50, 97.181, 0.66144, 0.88437, 33.86),
    ],
)
def test_published_table_of_a_far_base(
    stroke_per_arm: float, rotation: float, end_factor: float, mean: float, loss_percent: float
) -> None:
    square = sqrt(FAR**2 - 1)
    start, end = square - stroke_per_arm / 2, square + stroke_per_arm / 2
    stroke = stroke_between(swing_of(1.0, FAR, start, end), start, end)
    assert degrees(stroke.rotation) == pytest.approx(rotation, abs=5e-4)
    assert stroke.mean_moment_arm == pytest.approx(mean, abs=5e-6)
    for at in (stroke.start, stroke.end):
        assert at.torque_factor == pytest.approx(end_factor, abs=2e-5)  # 1e-5 of it is the base not being far
        assert 100 * at.loss_off_square == pytest.approx(loss_percent, abs=6e-3)
    assert stroke.largest.torque_factor == pytest.approx(1.0, abs=1e-9)


@pytest.mark.parametrize(
    ("arm", "base", "start", "end", "rotation", "mean", "smallest", "largest"),
    [
        # Right triangles and an equilateral one, by hand. Lengths in any unit, angles in rad.
        # 3-4-5 from square to the right angle at the pipe: theta from acos(3/5) to pi/2 at L = sqrt(34);
        # h = a = 3 at the start, a b / L = 15/sqrt(34) at the end.
        (3, 5, 4, sqrt(34), pi / 2 - acos(0.6), None, (sqrt(34), 15 / sqrt(34)), (4, 3)),
        # 5-12-13, base nearer than the arm pin: largest lever is the base, 5, where the cylinder stands
        # square to the line to the base, L = 12; ends 60 deg and 90 deg at the pipe, L^2 = 129 and 194.
        (13, 5, sqrt(129), sqrt(194), pi / 6, None, (sqrt(194), 65 / sqrt(194)), (12, 5)),
        # Arm and base alike: L = 2 a sin(theta/2), h = a cos(theta/2); from 60 deg to 90 deg.
        (2, 2, 2, 2 * sqrt(2), pi / 6, (2 * sqrt(2) - 2) * 6 / pi, (2 * sqrt(2), sqrt(2)), (2, sqrt(3))),
        # Past square only: 13-12-5 starts at square, 12, and ends at the right angle at the pipe, sqrt(194).
        (5, 13, 12, sqrt(194), pi / 2 - acos(5 / 13), None, (sqrt(194), 65 / sqrt(194)), (12, 5)),
        # Metric: arm 900 mm, base 1500 mm, from square at 1200 mm back to 1000 mm.
        # cos(theta) = (0.81 + 2.25 - 1) / 2.7 = 0.762963, theta = 0.702912; square at acos(0.6) = 0.927295.
        (0.9, 1.5, 1.0, 1.2, 0.2243832, 0.8913324, (1.0, 0.8726970), (1.2, 0.9)),
    ],
)
def test_stroke_by_hand(
    arm: float,
    base: float,
    start: float,
    end: float,
    rotation: float,
    mean: float | None,
    smallest: tuple[float, float],
    largest: tuple[float, float],
) -> None:
    stroke = stroke_between(swing_of(arm, base, start, end), start, end)
    assert stroke.rotation == pytest.approx(rotation, rel=1e-6)
    assert stroke.mean_moment_arm == pytest.approx(mean or (end - start) / rotation, rel=1e-6)
    assert (stroke.smallest.length, stroke.smallest.moment_arm) == pytest.approx(smallest, rel=1e-6)
    assert (stroke.largest.length, stroke.largest.moment_arm) == pytest.approx(largest, rel=1e-6)


@st.composite
def strokes(draw: st.DrawFn) -> tuple[Swing, float, float]:
    """A machine and a part of its stroke, no pin nearer than 5 degrees to a dead centre."""
    arm = draw(st.floats(0.1, 3.0))
    base = arm * draw(st.floats(0.2, 5.0))
    angles = sorted(draw(st.tuples(st.floats(radians(6), radians(174)), st.floats(radians(6), radians(174)))))
    angles[1] = max(angles[1], angles[0] + radians(0.5))
    start, end = (sqrt(arm**2 + base**2 - 2 * arm * base * cos(angle)) for angle in angles)
    return swing_of(arm, base, start, end), start, end


@pytest.mark.evidence
@given(strokes())
def test_the_mean_is_the_integral_of_the_moment_arm(case: tuple[Swing, float, float]) -> None:
    """h over theta from coordinates: arm pin at (a cos, a sin), base at (b, 0), the line between them."""
    swing, start, end = case
    stroke = stroke_between(swing, start, end)

    def lever(theta: float) -> float:
        x, y = swing.arm_radius * cos(theta), swing.arm_radius * sin(theta)
        return swing.base_distance * y / hypot(swing.base_distance - x, y)

    area, _ = scipy.integrate.quad(
        lever, stroke.start.arm_angle, stroke.end.arm_angle, epsabs=0, epsrel=1e-10
    )
    assert stroke.mean_moment_arm == pytest.approx(area / stroke.rotation, rel=1e-8)


@given(strokes())
def test_the_angle_puts_the_pins_at_the_length(case: tuple[Swing, float, float]) -> None:
    swing, start, _ = case
    theta = arm_angle(swing.arm_radius, swing.base_distance, start)
    x, y = swing.arm_radius * cos(theta), swing.arm_radius * sin(theta)
    assert hypot(swing.base_distance - x, y) == pytest.approx(start, rel=1e-9)
    at = arm_at(swing, start)
    line = atan2(y, x - swing.base_distance)  # of the cylinder, from base pin to arm pin
    assert at.off_square == pytest.approx(abs(pi / 2 - abs(line - theta)), abs=1e-7)
    assert at.torque_factor == pytest.approx(cos(at.off_square), rel=1e-9)
    assert at.torque_factor == pytest.approx(1 - at.loss_off_square, rel=1e-9)


@given(strokes(), st.floats(0, 1))
def test_nowhere_in_the_stroke_is_the_moment_arm_beyond_its_extremes(
    case: tuple[Swing, float, float], share: float
) -> None:
    swing, start, end = case
    stroke = stroke_between(swing, start, end)
    anywhere = moment_arm(swing.arm_radius, swing.base_distance, start + share * (end - start))
    least, most = stroke.smallest.moment_arm, stroke.largest.moment_arm
    assert least * (1 - 1e-9) <= anywhere <= most * (1 + 1e-9)
    assert least * (1 - 1e-9) <= stroke.mean_moment_arm <= most * (1 + 1e-9)
    whole = (swing.cylinder, swing.arm_radius, swing.base_distance)
    assert least == pytest.approx(smallest_moment_arm(*whole), rel=1e-9)
    assert most == pytest.approx(largest_moment_arm(*whole), rel=1e-9)


@given(strokes(), st.floats(0.01, 0.99))
def test_two_parts_turn_as_far_as_the_whole(case: tuple[Swing, float, float], share: float) -> None:
    swing, start, end = case
    middle = start + share * (end - start)
    parts = stroke_between(swing, start, middle).rotation + stroke_between(swing, middle, end).rotation
    assert parts == pytest.approx(stroke_between(swing, start, end).rotation, rel=1e-9)


@pytest.mark.parametrize(
    ("arm", "base", "closed", "opened", "start", "end", "expected"),
    [
        (36, 60, 40, 62, 40, 62, "within_used_part"),
        (36, 60, 40, 62, 48, 62, "within_used_part"),  # square at its very end
        (36, 60, 40, 62, 40, 48, "within_used_part"),
        (36, 60, 40, 62, 48.001, 62, "outside_used_part"),
        (36, 60, 49, 62, 49, 62, "outside_stroke"),
        (60, 36, 40, 62, 40, 62, "none"),  # base nearer than the arm pin: never square to the arm
        (36, 36, 20, 40, 20, 40, "none"),
    ],
)
def test_square_position(
    arm: float, base: float, closed: float, opened: float, start: float, end: float, expected: str
) -> None:
    assert square_position(swing_of(arm, base, closed, opened), start, end) == expected


@pytest.mark.parametrize(
    ("swing", "start", "end", "code"),
    [
        (swing_of(36, 60, 40, 62), 39.9, 60, "outside_stroke"),
        (swing_of(36, 60, 40, 62), 42, 62.1, "outside_stroke"),
        (swing_of(0.9, 1.5, 0.5, 3.0), 0.6, 1.2, "dead_centre"),  # |a - b| = 0.6
        (swing_of(0.9, 1.5, 0.5, 3.0), 0.608, 1.2, "dead_centre"),  # 4.9 degrees
        (swing_of(0.9, 1.5, 0.5, 3.0), 1.0, 2.4, "dead_centre"),  # a + b = 2.4
        # 175.1 degrees: sqrt(0.81 + 2.25 + 2.7 cos 4.9 deg) = 2.397944 m
        (swing_of(0.9, 1.5, 0.5, 3.0), 1.0, 2.398, "dead_centre"),
    ],
)
def test_stroke_that_cannot_be(swing: Swing, start: float, end: float, code: str) -> None:
    with pytest.raises(NoAnswer) as refusal:
        stroke_between(swing, start, end)
    assert [fault.code for fault in refusal.value.faults] == [code]


@pytest.mark.parametrize(
    ("rotation", "useful", "strokes"),
    [
        # By hand, degrees: the last stroke counts whole, unless what is left is arithmetic.
        (90, 30, 3),
        (90.001, 30, 4),
        (90 + 1e-12, 30, 3),
        (5, 30, 1),
        (29.999, 30, 1),
        (360, 17.5, 21),  # 20.57
        (1080, 38.985, 28),  # 27.70
    ],
)
def test_strokes(rotation: float, useful: float, strokes: int) -> None:
    assert strokes_for_rotation(radians(rotation), radians(useful)) == strokes


@given(st.floats(1e-3, 1e4), st.floats(1e-2, 3.0))
def test_no_stroke_too_few_and_none_too_many(rotation: float, useful: float) -> None:
    strokes = strokes_for_rotation(rotation, useful)
    assert strokes * useful >= rotation - 2e-9 * useful
    assert (strokes - 1) * useful < rotation


@pytest.mark.parametrize(
    ("travel", "lead", "rotation"),
    [
        (0.25, 0.25, 360),  # 4 threads per inch: a quarter inch a turn
        (0.5, 0.2, 900),  # 5 threads per inch
        (3, 2, 540),  # M16, in mm
        (0, 2, 0),
    ],
)
def test_rotation_from_travel(travel: float, lead: float, rotation: float) -> None:
    assert degrees(rotation_from_travel(travel, lead)) == pytest.approx(rotation, abs=1e-9)


@pytest.mark.parametrize(("rotation", "lost", "useful"), [(30, 2.5, 27.5), (30, 0, 30), (30, 29.9, 0.1)])
def test_useful_rotation(rotation: float, lost: float, useful: float) -> None:
    assert degrees(useful_rotation(radians(rotation), radians(lost))) == pytest.approx(useful, rel=1e-9)


@pytest.mark.parametrize("lost", [30.0, 29.999999999, 31.0, inf])
def test_a_stroke_that_is_lost_whole_is_refused(lost: float) -> None:
    with pytest.raises(NoAnswer) as refusal:
        useful_rotation(radians(30), radians(lost))
    assert [(fault.code, fault.field) for fault in refusal.value.faults] == [
        ("nothing_left_of_stroke", "lost_motion")
    ]
