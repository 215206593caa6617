"""The rules of a verdict: worked by hand, and what must hold of any torque and window."""

from collections.abc import Sequence
from datetime import date
from math import erf, sqrt
from random import Random
from statistics import NormalDist

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from make_ups import GUARD, doubt, torque, true_torque
from rows import every_row

from api.engineering.machines.aim import PASSES_FROM, capability, chance
from api.engineering.machines.drift import Drift, Off, drift
from api.engineering.machines.verdict import (
    NEXT_STEPS,
    Action,
    Judged,
    ReasonCode,
    Rule,
    TorqueVerdict,
    Verdict,
    Work,
    next_action,
    torque_verdict,
)

RULES: tuple[Rule, ...] = ("simple", "guarded")

HAND: list[tuple[float, float | None, float | None, Rule, TorqueVerdict]] = [
    # torque, minimum, maximum, rule, verdict; u = 2, so that a guard band is 3.29 wide
    (100.0, 90.0, 110.0, "simple", "pass"),
    (90.0, 90.0, 110.0, "simple", "pass"),
    (110.0, 90.0, 110.0, "simple", "pass"),
    (89.99, 90.0, 110.0, "simple", "low"),
    (110.01, 90.0, 110.0, "simple", "high"),
    (100.0, 90.0, 110.0, "guarded", "pass"),
    (93.29, 90.0, 110.0, "guarded", "pass"),
    (93.28, 90.0, 110.0, "guarded", "cannot_tell"),
    (86.71, 90.0, 110.0, "guarded", "cannot_tell"),
    (86.70, 90.0, 110.0, "guarded", "low"),
    (106.71, 90.0, 110.0, "guarded", "pass"),
    (106.72, 90.0, 110.0, "guarded", "cannot_tell"),
    (113.29, 90.0, 110.0, "guarded", "cannot_tell"),
    (113.30, 90.0, 110.0, "guarded", "high"),
    # one end alone
    (500.0, 90.0, None, "simple", "pass"),
    (89.0, 90.0, None, "simple", "low"),
    (500.0, 90.0, None, "guarded", "pass"),
    (92.0, 90.0, None, "guarded", "cannot_tell"),
    (1.0, None, 110.0, "simple", "pass"),
    (111.0, None, 110.0, "simple", "high"),
    (109.0, None, 110.0, "guarded", "cannot_tell"),
    # none
    (100.0, None, None, "simple", "cannot_tell"),
    (100.0, None, None, "guarded", "cannot_tell"),
    # a window of 6.57, narrower than two guard bands of 3.29: nothing passes
    (100.0, 96.715, 103.285, "guarded", "cannot_tell"),
    # and one of 6.59: the middle does
    (100.0, 96.705, 103.295, "guarded", "pass"),
]


@every_row("torque_, minimum, maximum, rule, verdict", HAND)
def test_a_verdict_worked_by_hand(
    torque_: float, minimum: float | None, maximum: float | None, rule: Rule, verdict: TorqueVerdict
) -> None:
    assert torque_verdict(Judged(torque_, 2.0, minimum, maximum, rule)) == verdict


def test_the_factor_of_the_guard_band_is_that_of_five_in_a_hundred() -> None:
    """A normal spread has 5 in 100 beyond 1.645 standard deviations, to one side."""
    assert NormalDist().inv_cdf(0.95) == pytest.approx(GUARD, abs=2e-4)
    assert Judged(0.0, 1.0, -9.0, 9.0, "guarded").guard == GUARD


def test_capability_worked_by_hand() -> None:
    """A torque known within 6.4 % and a window of 10 %; and the capability below which nothing passes."""
    assert capability(0.5 * 0.064 * 30000, 30000, 33000) == pytest.approx(10 / 12.8)
    assert pytest.approx(0.8225) == PASSES_FROM
    for share, passes in ((0.999, False), (1.001, True)):
        width = share * 4 * PASSES_FROM
        assert (
            torque_verdict(Judged(100.0, 1.0, 100 - width / 2, 100 + width / 2, "guarded")) == "pass"
        ) is passes


TORQUES = st.floats(1.0, 1e6)
WIDER = st.floats(0.0, 1e5)


@given(TORQUES, TORQUES, TORQUES, WIDER, WIDER, st.floats(0.01, 1e5), st.sampled_from(RULES))
def test_a_wider_window_keeps_what_passes(
    at: float, one: float, other: float, below: float, above: float, u: float, rule: Rule
) -> None:
    low, high = sorted((one, other))
    assume(torque_verdict(Judged(at, u, low, high, rule)) == "pass")
    assert torque_verdict(Judged(at, u, low - below, high + above, rule)) == "pass"
    assert torque_verdict(Judged(at, u, None, high + above, rule)) == "pass"
    assert torque_verdict(Judged(at, u, low - below, None, rule)) == "pass"


@given(TORQUES, TORQUES, TORQUES, st.floats(0.01, 1e5))
def test_what_the_guarded_rule_says_the_simple_one_says_too(
    at: float, one: float, other: float, u: float
) -> None:
    """Where it can tell at all."""
    low, high = sorted((one, other))
    guarded = torque_verdict(Judged(at, u, low, high, "guarded"))
    if guarded != "cannot_tell":
        assert torque_verdict(Judged(at, u, low, high, "simple")) == guarded


@given(TORQUES, TORQUES, TORQUES, st.floats(0.01, 1e5), st.sampled_from(RULES))
def test_a_higher_torque_is_never_lower(at: float, one: float, other: float, u: float, rule: Rule) -> None:
    low, high = sorted((one, other))
    order: Sequence[TorqueVerdict] = ("low", "pass", "high")
    here, there = (torque_verdict(Judged(each, u, low, high, rule)) for each in (at, at * 1.5))
    if "cannot_tell" not in (here, there):
        assert order.index(here) <= order.index(there)


JOINTS = 100_000
WINDOW = 30000.0, 38000.0


def test_the_error_rates_of_100000_joints_are_the_stated_probabilities() -> None:
    """Joints are drawn from the doubts of their readings, not from a normal spread.

    Three rectangular doubts are nearly normal: the probabilities differ by no more than 0.015. A share of
    6,000 joints is sure to 0.0065, one standard deviation at most.
    """
    random = Random(20261201)
    readings = [float(reading) for reading in range(480, 800, 20)]
    low, high = WINDOW
    wrong, passed = 0, 0
    for reading in readings:
        u, estimate = doubt(reading), torque(reading)
        stated = chance(estimate, u, low, high)
        drawn = [true_torque(reading, random) for _ in range(JOINTS // len(readings))]
        shares = [
            sum(map(holds, drawn)) / len(drawn)
            for holds in (lambda t: low <= t <= high, lambda t: t < low, lambda t: t > high)
        ]
        assert shares == pytest.approx(list(stated), abs=0.02)
        if torque_verdict(Judged(estimate, u, low, high, "guarded")) == "pass":
            # at most 5 in 100 beyond either end, as the factor says
            assert max(shares[1:]) <= 0.05 + 0.01
            wrong, passed = wrong + round((1 - shares[0]) * len(drawn)), passed + len(drawn)
        if torque_verdict(Judged(estimate, u, low, high, "simple")) == "pass":
            assert shares[0] >= 0.5 - 0.02
    assert passed > 0
    assert wrong / passed <= 0.05


def test_the_tail_is_that_of_the_error_function() -> None:
    stated = chance(34000.0, 1000.0, 33000.0, 35500.0)
    inside = 0.5 * (erf(1.5 / sqrt(2)) + erf(1.0 / sqrt(2)))
    assert stated.in_window == pytest.approx(inside)


STEPS: list[tuple[Work, TorqueVerdict, tuple[ReasonCode, ...], str, Action]] = [
    ("as_ordered", "pass", ("torque_in_window",), "", "accept"),
    ("as_ordered", "cannot_tell", ("no_window",), "", "accept"),
    ("as_ordered", "low", ("torque_below_minimum",), "", "repeat"),
    ("as_ordered", "cannot_tell", ("within_guard_band",), "", "other_machine"),
    ("as_ordered", "cannot_tell", ("within_guard_band",), "never", "other_machine"),
    ("not_as_ordered", "pass", ("off_the_mark",), "", "repeat"),
    ("not_as_ordered", "pass", ("off_the_mark",), "above", "ask"),
    ("not_as_ordered", "high", ("off_the_mark", "torque_above_maximum"), "above", "redo"),
    ("cannot_tell", "cannot_tell", ("static_check", "nothing_moved", "torque_above_maximum"), "", "redo"),
    ("as_ordered", "cannot_tell", ("no_window",), "far", "ask"),
    ("as_ordered", "pass", ("torque_in_window",), "far", "ask"),
    ("not_as_ordered", "cannot_tell", ("marks_did_not_move", "nothing_moved"), "", "redo"),
    ("not_as_ordered", "cannot_tell", ("marks_did_not_move", "machine_unfit"), "", "redo"),
    ("cannot_tell", "pass", ("machine_unfit",), "", "other_machine"),
    ("cannot_tell", "pass", ("gauge_zero_off",), "", "other_machine"),
    ("cannot_tell", "pass", ("marks_not_seen",), "", "repeat"),
    ("cannot_tell", "cannot_tell", ("static_check", "nothing_moved"), "", "repeat"),
    ("cannot_tell", "pass", ("not_told",), "", "tell"),
    ("cannot_tell", "pass", ("no_ordered_mark",), "", "tell"),
    ("as_ordered", "high", (), "yielded", "quarantine"),
    ("cannot_tell", "cannot_tell", ("machine_unfit", "nothing_moved"), "yielded", "quarantine"),
]


@every_row("work, verdict, codes, what, action", STEPS)
def test_what_to_do_next(
    work: Work, verdict: TorqueVerdict, codes: tuple[ReasonCode, ...], what: str, action: Action
) -> None:
    decides = (what == "yielded", what != "never", what == "above", what == "far")
    found = Verdict(work, verdict, frozenset(codes), *decides)
    assert next_action(found) == action


def test_every_step_is_one_line_and_one_that_comes() -> None:
    assert {each[-1] for each in STEPS} == NEXT_STEPS.keys()
    assert all(line.endswith(".") and "\n" not in line and len(line) < 80 for line in NEXT_STEPS.values())


def days(*numbers: int) -> list[date]:
    return [date(2026, 11, number) for number in numbers]


def test_a_drift_worked_by_hand() -> None:
    """Least squares: days 1, 2, 5 with 0, 10, 20 have the means 8/3 and 10, and the slope 40 / (26/3)."""
    by = [0.0, 10.0, 20.0]
    by_day = drift([Off(n, day, off) for n, (day, off) in enumerate(zip(days(1, 2, 5), by, strict=True), 1)])
    assert (by_day.mean, by_day.per) == (10.0, "day")
    assert by_day.trend == pytest.approx(40 / (26 / 3))
    assert drift([Off(n, None, off) for n, off in enumerate(by)]) == Drift(10.0, 10.0, "line")


def test_a_trend_is_by_lines_where_days_do_not_tell() -> None:
    one_day = [Off(line, day, 5.0 * line) for line, day in enumerate(days(3, 3, 3))]
    one_without = [Off(1, date(2026, 11, 1), 0.0), Off(2, None, 5.0), Off(3, date(2026, 11, 9), 10.0)]
    assert drift(one_day) == Drift(5.0, 5.0, "line")
    assert drift(one_without) == Drift(5.0, 5.0, "line")
    assert drift([Off(7, date(2026, 11, 1), -10.0)]) == Drift(-10.0, None, None)
