"""Passes of a flange: torques worked by hand, the snug pass, and the practices that steps are of."""

from itertools import pairwise

import pytest

from api.engineering.flanges.passes import tightening_passes
from api.reference.flanges import PRACTICES

FOOT_POUND = 4.4482216152605 * 0.3048  # N.m, exact


@pytest.mark.parametrize(
    ("target", "shares", "torques"),
    [
        (1000, (0.3, 0.6, 1.0), [300, 600, 1000]),
        (1000, (0.3, 0.7, 1.0), [300, 700, 1000]),
        (840, (0.25, 0.5, 0.75, 1.0), [210, 420, 630, 840]),
        (59, (1.0,), [59]),
    ],
)
def test_cross_passes_worked_by_hand(target: float, shares: tuple[float, ...], torques: list[float]) -> None:
    passes = list(tightening_passes(target, shares))
    assert [each.torque for each in passes if each.name == "cross"] == pytest.approx(torques, rel=1e-12)
    assert [each.share for each in passes if each.name == "cross"] == list(shares)


@pytest.mark.parametrize("target", [0.1, 13.7, 1355.8179, 1e7 / 3])
def test_no_torque_is_above_the_target_and_the_last_is_the_target(target: float) -> None:
    passes = list(tightening_passes(target, (0.3, 0.6, 1.0)))
    assert [each.name for each in passes] == ["snug", "cross", "cross", "cross", "circular", "check"]
    torques = [each.torque for each in passes if each.torque is not None]
    assert torques[-3:] == [target, target, target]
    assert max(torques) == target
    assert all(left <= right for left, right in pairwise(torques))
    assert passes[0].torque is None
    assert passes[0].share is None


@pytest.mark.parametrize(
    ("target", "first", "minimum", "maximum"),
    [
        # ASME PCC-1 (from memory): 10 to 20 ft-lbf, not above 20 % of the target; ft-lbf
        (1000, 0.3, 10, 20),
        (100, 0.3, 10, 20),
        (80, 0.3, 10, 16),
        (50, 0.3, 10, 10),
        (49, 0.3, None, 9.8),
        (12, 0.3, None, 2.4),
        # never tighter than the first pass
        (120, 0.1, 10, 12),
        (100, 0.05, None, 5),
    ],
)
def test_snug(target: float, first: float, minimum: float | None, maximum: float) -> None:
    snug = next(tightening_passes(target * FOOT_POUND, (first, 1.0)))
    assert snug.name == "snug"
    assert snug.torque_maximum == pytest.approx(maximum * FOOT_POUND, rel=1e-12)
    expected = None if minimum is None else pytest.approx(minimum * FOOT_POUND, rel=1e-12)
    assert snug.torque_minimum == expected


@pytest.mark.parametrize(
    ("shares", "statuses"),
    [
        # 30/60/100 and 30/70/100 lie in the ranges of PCC-1 (from memory) and are printed as such (reprint)
        ((0.3, 0.6, 1.0), ["from memory", "reprint"]),
        ((0.3, 0.7, 1.0), ["from memory", "reprint"]),
        ((0.2, 0.5, 1.0), ["from memory"]),
        ((0.25, 0.65, 1.0), ["from memory"]),
        ((0.19, 0.5, 1.0), []),
        ((0.31, 0.6, 1.0), []),
        ((0.3, 0.71, 1.0), []),
        ((0.3, 0.49, 1.0), []),
        ((0.3, 1.0), []),
        ((0.3, 0.6, 0.9, 1.0), []),
        ((1.0,), []),
    ],
)
def test_published_practices(shares: tuple[float, ...], statuses: list[str]) -> None:
    assert [each.source.status for each in PRACTICES if each.has(shares)] == statuses


def test_every_practice_rises_to_the_target() -> None:
    for practice in PRACTICES:
        assert practice.lowest[-1] == practice.highest[-1] == 1
        for steps in (practice.lowest, practice.highest):
            assert all(left < right for left, right in pairwise(steps))
        assert practice.source.source
