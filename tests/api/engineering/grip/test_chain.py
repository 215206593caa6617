"""Chain tensions and links against published figures, hand-worked cases, and pins drawn on a circle."""

from itertools import pairwise
from math import ceil, exp, pi, radians, sin

import pytest
import scipy
from hypothesis import given
from hypothesis import strategies as st

from api.engineering.checks import NoAnswer
from api.engineering.grip.chain import (
    Chain,
    LinkRange,
    chain_slip_torque,
    link_ranges,
    links_by_arc,
    links_by_chord,
    links_from_table,
    slack_tension,
    tension_ratio,
    tight_tension,
    whole_links,
)

ROUND = 2 * pi


@pytest.mark.parametrize(
    ("friction", "degrees", "ratio"),
    [
        # Published table of e^(mu theta).
        (0.15, 180, 1.602),
        (0.15, 270, 2.028),
        (0.15, 360, 2.566),
        (0.25, 180, 2.193),
        (0.25, 270, 3.248),
        (0.25, 360, 4.810),
    ],
)
def test_published_tension_ratio(friction: float, degrees: float, ratio: float) -> None:
    wrap = radians(degrees)
    assert tension_ratio(friction, wrap) == pytest.approx(ratio, abs=5e-4)
    tight, slack = (each(1000.0, 0.1, friction, wrap) for each in (tight_tension, slack_tension))
    assert tight / slack == pytest.approx(ratio, abs=5e-4)


@pytest.mark.parametrize(
    ("torque", "radius", "friction", "degrees", "tight", "slack"),
    [
        # From the published ratios k: T1 - T2 = T/r, T2 = (T/r) / (k - 1). lbf.in over in, lbf.
        # 120 000 lbf.in on 5 in, k 3.248: difference 48 000, slack 48 000 / 2.248 = 21 352
        (120_000, 2.5, 0.25, 270, 69_352, 21_352),
        # 60 000 lbf.in on 4 in, k 1.602: 30 000 / 0.602 = 49 834
        (60_000, 2.0, 0.15, 180, 79_834, 49_834),
        # Metric: 10 000 N.m on 200 mm, k 4.810: 100 000 N / 3.810 = 26 247
        (10_000, 0.1, 0.25, 360, 126_247, 26_247),
        # 5 000 N.m on 100 mm, k 2.028: 100 000 N / 1.028 = 97 276
        (5_000, 0.05, 0.15, 270, 197_276, 97_276),
    ],
)
def test_tensions(
    torque: float, radius: float, friction: float, degrees: float, tight: float, slack: float
) -> None:
    """To 1e-3, since the printed ratios have four digits."""
    wrap = radians(degrees)
    assert tight_tension(torque, radius, friction, wrap) == pytest.approx(tight, rel=1e-3)
    assert slack_tension(torque, radius, friction, wrap) == pytest.approx(slack, rel=1e-3)
    assert chain_slip_torque(tight, radius, friction, wrap) == pytest.approx(torque, rel=1e-3)


@pytest.mark.evidence
@given(st.floats(0.02, 0.6), st.floats(0.5, 12.0), st.floats(0.02, 0.3))
def test_slip_torque_is_the_friction_along_the_pipe(friction: float, wrap: float, radius: float) -> None:
    """Tension grows by friction times its own pressure: dT/dtheta = mu T, integrated numerically."""
    grown = scipy.integrate.solve_ivp(
        lambda _, tension: friction * tension, (0, wrap), [1.0], rtol=1e-10, atol=1e-12
    )
    tight = grown.y[0][-1]
    moment = (tight - 1.0) * radius
    assert chain_slip_torque(tight, radius, friction, wrap) == pytest.approx(moment, rel=1e-6)


@given(st.floats(0.02, 0.6), st.floats(pi, 12.0), st.floats(0.02, 0.3), st.floats(0.0, 0.5))
def test_pins_off_the_surface_never_hold_less(
    friction: float, wrap: float, radius: float, offset: float
) -> None:
    """With its pins at R the chain pulls at R, but friction holds at r: R dT = r mu T dtheta.

    The torque of that is (T1 - T2) R. What we promise, with r for both, is no more.
    """
    pins = radius * (1 + offset)
    tight = 1.0
    true = tight * pins * (1 - exp(-friction * wrap * radius / pins))
    assert chain_slip_torque(tight, radius, friction, wrap) <= true * (1 + 1e-12)


@pytest.mark.parametrize(
    ("diameter", "pitch", "offset", "degrees", "arc", "chord", "whole"),
    [
        # Published: 4.75 in, pitch 1 in, offset 0.375 in, once round.
        (4.75, 1.0, 0.375, 360, 17.28, 17.18, 18),
        # By hand. R = 3 in: 6 pi = 18.85; half angle of a link asin(1/6) = 9.594 deg, 180 / 9.594 = 18.76
        (5.5, 1.0, 0.25, 360, 18.85, 18.76, 19),
        # R = 1 in and pitch 1 in: a hexagon, six chords exactly; the arc has 6.28.
        (2.0, 1.0, 0.0, 360, 6.28, 6.0, 7),
        # R = 2 in, pitch 1.5 in, 270 deg: 1.5 pi * 2 / 1.5 = 6.28; asin(0.375) = 22.024 deg,
        # 135 / 22.024 = 6.13
        (3.5, 1.5, 0.25, 270, 6.28, 6.13, 7),
        # Metric, mm. R = 110: 2 pi 110 / 25.4 = 27.21; asin(12.7/110) = 6.630 deg, 180 / 6.630 = 27.15
        (200, 25.4, 10, 360, 27.21, 27.15, 28),
    ],
)
def test_links(
    diameter: float, pitch: float, offset: float, degrees: float, arc: float, chord: float, whole: int
) -> None:
    chain = Chain(pitch, offset, radians(degrees), 0)
    assert links_by_arc(chain, diameter) == pytest.approx(arc, abs=5e-3)
    assert links_by_chord(chain, diameter) == pytest.approx(chord, abs=5e-3)
    assert whole_links(chain, links_by_arc(chain, diameter)) == whole
    with_tails = Chain(pitch, offset, radians(degrees), 3)
    assert whole_links(with_tails, links_by_arc(with_tails, diameter)) == whole + 3


@given(st.integers(3, 60), st.floats(0.01, 1.0), st.floats(0.0, 0.4))
def test_a_closed_chain_of_n_links_is_a_regular_polygon(links: int, radius: float, share: float) -> None:
    pitch = 2 * radius * sin(pi / links)
    chain = Chain(pitch, share * radius, ROUND, 0)
    assert links_by_chord(chain, 2 * radius * (1 - share)) == pytest.approx(links, rel=1e-9)


@given(st.floats(2.5, 40.0), st.floats(0.375, 1.0), st.floats(1.0, 7.0))
def test_arc_and_chord_differ_by_less_than_published(pitches: float, offset: float, wrap: float) -> None:
    """Under 1.7 % from 2.5 pitches up, with the pins 0.375 pitches or more off the surface."""
    chain = Chain(1.0, offset, wrap, 0)
    ratio = links_by_arc(chain, pitches) / links_by_chord(chain, pitches)
    assert 1 < ratio < 1.017


def test_a_link_longer_than_the_circle_does_not_bend_round_it() -> None:
    with pytest.raises(NoAnswer) as refusal:
        links_by_chord(Chain(3.0, 0.25, ROUND, 0), 2.5)
    assert [fault.code for fault in refusal.value.faults] == ["pitch_too_long"]


@pytest.mark.parametrize(("links", "whole"), [(17.0, 17), (17 + 1e-12, 17), (17.0001, 18), (16.9999, 17)])
def test_only_what_is_metal_takes_a_link(links: float, whole: int) -> None:
    assert whole_links(Chain(1.0, 0.375, ROUND, 0), links) == whole


def test_ranges_by_hand() -> None:
    """Pitch pi/2, pins on the surface, once round: 2 OD links, so that 7 reach 3.5, and 2 more are tails."""
    ranges = list(link_ranges(Chain(pi / 2, 0.0, ROUND, 2), 3.3, 4.2))
    assert [each.links for each in ranges] == [9, 10, 11]
    ends = [end for each in ranges for end in (each.minimum, each.maximum)]
    assert ends == pytest.approx([3.3, 3.5, 3.5, 4.0, 4.0, 4.2], rel=1e-12)


chains = st.builds(
    Chain, st.floats(0.4, 3.0), st.floats(0.0, 1.5), st.floats(1.0, 7.0), st.integers(0, 6).map(float)
)


@given(chains, st.floats(2.0, 10.0), st.floats(0.0, 8.0), st.floats(0.0, 1.0))
def test_ranges_say_what_the_rule_says_everywhere(
    chain: Chain, smallest: float, width: float, share: float
) -> None:
    largest = smallest + width
    ranges = list(link_ranges(chain, smallest, largest))
    assert (ranges[0].minimum, ranges[-1].maximum) == (smallest, largest)
    for left, right in pairwise(ranges):
        assert left.maximum == right.minimum
        assert right.links == left.links + 1
    diameter = min(smallest + share * width, largest)
    inside = [each.links for each in ranges if each.minimum <= diameter <= each.maximum]
    on_the_pipe = chain.wrap * (diameter / 2 + chain.pin_line_offset) / chain.pitch
    assert ceil(on_the_pipe + chain.tail_links - 1e-9) in inside


TABLE = [LinkRange(3.0, 3.99, 14), LinkRange(4.0, 5.0, 17), LinkRange(5.0, 6.0, 20)]


@pytest.mark.parametrize(
    ("diameter", "links"), [(3.0, 14), (3.5, 14), (4.0, 17), (4.9, 17), (5.0, 20), (6.0, 20)]
)
def test_table(diameter: float, links: int) -> None:
    assert links_from_table(TABLE, diameter) == links


@pytest.mark.parametrize("diameter", [2.99, 3.995, 6.01])
def test_nothing_is_taken_from_outside_the_table(diameter: float) -> None:
    with pytest.raises(NoAnswer) as refusal:
        links_from_table(TABLE, diameter)
    assert [fault.code for fault in refusal.value.faults] == ["diameter_not_in_link_table"]
