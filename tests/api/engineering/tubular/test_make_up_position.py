"""Where the coupling face of buttress casing may stand, by hand."""

from math import radians, tan

import pytest

from api.engineering.tubular.make_up_position import (
    LEAD,
    POSITIONS,
    TRIANGLE_SIDE,
    face_window,
    position_of_face,
    triangle_height,
    turns_to_base,
)

MM, INCH = 0.001, 0.0254


def test_the_triangle_by_its_angles() -> None:
    """Independent: half the side times tan 60; 9.525 mm of side."""
    assert triangle_height(TRIANGLE_SIDE) == pytest.approx(9.525 * MM / 2 * tan(radians(60)), rel=1e-12)
    assert triangle_height(TRIANGLE_SIDE) < TRIANGLE_SIDE


def test_a_turn_is_a_fifth_of_an_inch() -> None:
    """Buttress has 5 threads per inch: 25.4 mm / 5."""
    assert pytest.approx(5.08 * MM, rel=1e-12) == LEAD


@pytest.mark.parametrize(
    ("face", "position", "accepted", "accepted_to_base"),
    [
        # mm past the base; one turn is 5.08 mm, the triangle 9.525 x 0.8660254 = 8.2489 mm high
        (-20, "short", False, False),
        (-5.10, "short", False, False),
        (-5.08, "within_one_turn", True, False),
        (-2.54, "within_one_turn", True, False),
        (-0.02, "within_one_turn", True, False),
        (-0.0, "base_to_apex", True, True),
        (0, "base_to_apex", True, True),
        (4, "base_to_apex", True, True),
        (8.2489, "base_to_apex", True, True),
        (8.27, "past_apex", False, False),
        (9.525, "past_apex", False, False),
        (30, "past_apex", False, False),
    ],
)
def test_positions(face: float, position: str, accepted: bool, accepted_to_base: bool) -> None:
    assert position_of_face(face * MM) == position
    assert face_window(to_base=False).accepts(face * MM) is accepted
    assert face_window(to_base=True).accepts(face * MM) is accepted_to_base


@pytest.mark.parametrize("typed", [-0.2, 0.0, 0.325, 0.3248, 0.32476])
def test_a_limit_typed_with_three_decimals_is_that_limit(typed: float) -> None:
    assert face_window(to_base=False).accepts(typed * INCH)


@pytest.mark.parametrize("typed", [-0.201, 0.326])
def test_a_thousandth_beyond_is_beyond(typed: float) -> None:
    assert not face_window(to_base=False).accepts(typed * INCH)


def test_positions_follow_each_other_as_the_face_moves() -> None:
    seen = [POSITIONS.index(position_of_face(step * 0.01 * MM)) for step in range(-1000, 1500)]
    assert seen == sorted(seen)
    assert set(seen) == set(range(len(POSITIONS)))


@pytest.mark.parametrize(
    ("face", "turns"),
    [(-10.16, 2.0), (-5.08, 1.0), (-2.54, 0.5), (0.0, 0.0), (4.0, 0.0)],
)
def test_turns_left(face: float, turns: float) -> None:
    assert turns_to_base(face * MM) == pytest.approx(turns, rel=1e-12)
