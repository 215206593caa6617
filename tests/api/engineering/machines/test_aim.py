"""The mark that a make-up sets: every branch by hand, and against a search over all marks by another way.

The hand-worked dials give 100 of torque for each mark with a standard uncertainty of 100, so that the number
of standard uncertainties to an end of the window is counted off, and its probability is in every table of
the normal distribution: 0.5, 0.8413, 0.9772, 0.9987 at 0, 1, 2, 3.
"""

from collections.abc import Callable
from math import log2

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from rows import every_row
from safest_mark import NEARLY, SAME, Mark, Window, right_marks

from api.engineering.machines.aim import Aimed, Chance, Goal, aimed, chance, first


def torque(number: int) -> float:
    return 100.0 * number


def by_table(goal: Goal, deviation: float = 100.0) -> Callable[[int], Chance]:
    return lambda number: chance(torque(number), deviation, goal.minimum, goal.maximum)


def hand(goal: Goal, marks: range, deviation: float = 100.0, at_target: bool = False) -> Aimed:
    return aimed(marks, torque, by_table(goal, deviation), goal, at_target=at_target)


@every_row(
    ("estimate", "minimum", "maximum", "expected"),
    [
        # of the normal distribution: within, below, above
        (1000.0, 900.0, 1100.0, (0.682689, 0.158655, 0.158655)),
        (1000.0, 800.0, 1100.0, (0.818595, 0.022750, 0.158655)),
        (1000.0, 1000.0, 1300.0, (0.498650, 0.5, 0.001350)),
        (1000.0, None, 1200.0, (0.977250, 0.0, 0.022750)),
        (1000.0, 804.0036, None, (0.975, 0.025, 0.0)),
        (1000.0, 1100.0, 1200.0, (0.135905, 0.841345, 0.022750)),
        (1000.0, None, None, (1.0, 0.0, 0.0)),
    ],
)
def test_chance(
    estimate: float, minimum: float | None, maximum: float | None, expected: tuple[float, float, float]
) -> None:
    found = chance(estimate, 100.0, minimum, maximum)
    assert (found.in_window, found.below_minimum, found.above_maximum) == pytest.approx(expected, abs=1e-6)


HAND_WORKED = [
    # a collar: the target is the minimum, 1000 to 1600; 1300 is three uncertainties from either end
    ("collar", Goal(1000, 1000, 1600, 0.1), range(10, 17), 100.0, Aimed(13, "best_chance")),
    ("target is the maximum", Goal(1600, 1000, 1600, 0.1), range(10, 17), 100.0, Aimed(13, "best_chance")),
    # collar 1000 to 1500: 1200 and 1300 are 2 and 3 from an end: equal, so the nearer to the target
    ("equal, target below", Goal(1000, 1000, 1500, 0.1), range(10, 16), 100.0, Aimed(12, "best_chance")),
    ("equal, target above", Goal(1500, 1000, 1500, 0.1), range(10, 16), 100.0, Aimed(13, "best_chance")),
    # the maximum holds at the highest efficiency up to 1100 only: 1100 is the best of those that may be set
    ("collar, few marks", Goal(1000, 1000, 1600, 0.1), range(10, 12), 100.0, Aimed(11, "best_chance")),
    ("one mark", Goal(1000, 1000, 1600, 0.1), range(10, 11), 100.0, Aimed(10, "best_chance")),
    # inside, in the middle of 700 to 1300
    ("target in the middle", Goal(1000, 700, 1300, 0.1), range(7, 14), 100.0, Aimed(10, "nearest_target")),
    # 600 to 1200: at 1000 P = 0.97725 - 0.00003, at 900 0.9973: 0.0201 better, so 900
    ("a little too near an end", Goal(1000, 600, 1200, 0.1), range(6, 13), 100.0, Aimed(9, "best_chance")),
    # 500 to 1200: at 1000 P = 0.97725; at 800 and 900 at most 0.99865 - 0.00003: 0.0214 better;
    # of 800 (0.99862) and 900 (0.99862) the one nearer to 1000
    ("equal marks better", Goal(1000, 500, 1200, 0.1), range(5, 13), 100.0, Aimed(9, "best_chance")),
    # uncertainty 80, 600 to 1200: 1000 is 2.5 uncertainties off, P = 0.99379; 900 is 3.75: 0.00603 better
    ("not worth leaving", Goal(1000, 600, 1200, 0.1), range(6, 13), 80.0, Aimed(10, "nearest_target")),
    # nearest: 1050 lies as far from 1000 as from 1100: the lower; 1051 is nearer to 1100
    ("between two marks", Goal(1050, 500, 1600, 0.1), range(5, 17), 100.0, Aimed(10, "nearest_target")),
    ("nearer the upper", Goal(1051, 500, 1600, 0.1), range(5, 17), 100.0, Aimed(11, "nearest_target")),
    ("nearer the lower", Goal(1049, 500, 1600, 0.1), range(5, 17), 100.0, Aimed(10, "nearest_target")),
    # only a minimum: 1164.5 is 1.645 uncertainties above 1000: 1200 (at 1100 0.1587 below)
    ("only a minimum", Goal(1000, 1000, None, 0.5), range(10, 16), 100.0, Aimed(12, "enough_above_minimum")),
    # 1100 is at most 10 % above the target: no mark has only 5 in 100 below, so the nearest
    ("minimum, none enough", Goal(1000, 1000, None, 0.1), range(10, 12), 100.0, Aimed(10, "nearest_target")),
    ("far below", Goal(1500, 1000, None, 0.1), range(10, 17), 100.0, Aimed(12, "enough_above_minimum")),
    ("only a maximum", Goal(1000, None, 1200, 0.1), range(9, 13), 100.0, Aimed(10, "nearest_target")),
    ("target is maximum", Goal(1000, None, 1000, 0.1), range(9, 11), 100.0, Aimed(10, "nearest_target")),
    ("no window", Goal(1040, None, None, 0.1), range(10, 12), 100.0, Aimed(10, "nearest_target")),
    ("no window, all below", Goal(1040, None, None, 0.1), range(8, 10), 100.0, Aimed(9, "nearest_target")),
    ("no window, all above", Goal(1040, None, None, 0.1), range(12, 15), 100.0, Aimed(12, "nearest_target")),
]  # fmt: skip


@every_row(
    ("name", "goal", "marks", "deviation", "expected"), HAND_WORKED, ids=[each[0] for each in HAND_WORKED]
)
def test_hand_worked(name: str, goal: Goal, marks: range, deviation: float, expected: Aimed) -> None:
    assert hand(goal, marks, deviation) == expected, name


@every_row(("name", "goal", "marks", "deviation", "expected"), HAND_WORKED)
def test_aim_at_the_target_is_the_nearest_whatever_its_chance(
    name: str, goal: Goal, marks: range, deviation: float, expected: Aimed
) -> None:
    found = hand(goal, marks, deviation, at_target=True)
    distances = [(abs(torque(number) - goal.target), number) for number in marks]
    assert (found.number, found.choice) == (min(distances)[1], "target_asked"), (name, expected)


def test_where_the_uncertainty_is_not_known_the_nearest_is_taken() -> None:
    for goal in (Goal(1000, 1000, 1600, 0.1), Goal(1000, 1000, None, 0.1)):
        assert aimed(range(10, 12), torque, None, goal) == Aimed(10, "nearest_target")


@every_row(
    ("goal", "lowest", "highest"),
    [
        (Goal(1000, 900, 1100, 0.1), 900, 1100),
        (Goal(1000, 900, None, 0.1), 900, 1100),
        (Goal(1000, None, 1200, 0.1), 900, 1200),
        (Goal(1000, None, None, 0.1), 900, 1100),
        # the policy says less
        (Goal(1000, None, None, 0.05), 950, 1050),
        (Goal(1000, 900, None, 0.02), 900, 1020),
        # and both ends bind, whatever it says
        (Goal(1000, 500, 2000, 0.02), 500, 2000),
    ],
)
def test_what_may_be_set(goal: Goal, lowest: float, highest: float) -> None:
    assert (goal.lowest, goal.highest) == pytest.approx((lowest, highest))
    assert goal.closed == (goal.minimum is not None and goal.maximum is not None)


@given(
    st.lists(st.integers(0, 5), max_size=30),
    st.integers(0, 6),
    st.integers(0, 30),
    st.none() | st.integers(-5, 40),
)
def test_the_first_number(steps: list[int], wanted: int, start: int, near: int | None) -> None:
    """Of numbers that rise, found by halving, or from wherever it is expected, as by looking at each."""
    numbers, asked = sorted(steps), range(start, len(steps))
    found = [number for number in asked if numbers[number] >= wanted]
    assert first(asked, lambda number: numbers[number] >= wanted, near) == (found[0] if found else None)


@every_row("expected", [0, 250, 498, 499, 500, 501, 510, 999])
def test_the_nearer_it_is_expected_the_fewer_numbers_are_asked(expected: int) -> None:
    """Steps double on the way there and halve on the way back."""
    asked: list[int] = []

    def holds(number: int) -> bool:
        asked.append(number)
        return number >= 500

    assert first(range(1000), holds, near=expected) == 500
    assert len(asked) <= 2 + 2 * log2(1 + abs(expected - 500))


class Dial:
    """A dial with its marks, a machine on a straight line, and its uncertainty: worked out by `NormalDist`.

    The standard uncertainty is that of a gauge, the same in torque all over the dial, and of an efficiency,
    in proportion to the torque. The best estimate lies below the nominal torque by a share.
    """

    def __init__(self, slope: float, lost: float, fixed: float, share: float, shift: float) -> None:
        self.slope, self.lost, self.fixed, self.share, self.shift = slope, lost, fixed, share, shift

    def torque(self, number: int) -> float:
        return self.slope * (number - self.lost)

    def estimate(self, number: int) -> float:
        return self.torque(number) * (1 - self.shift)

    def deviation(self, number: int) -> float:
        return float((self.fixed**2 + (self.share * self.estimate(number)) ** 2) ** 0.5)

    def chance(self, goal: Goal, number: int) -> Chance:
        return chance(self.estimate(number), self.deviation(number), goal.minimum, goal.maximum)

    def mark(self, number: int) -> Mark:
        return Mark(number, self.torque(number), self.estimate(number), self.deviation(number))

    def may_be_set(self, window: Window, last: int) -> list[Mark]:
        marks = [self.mark(number) for number in range(last + 1)]
        return [mark for mark in marks if 0 < window.lowest <= mark.torque <= window.highest]

    def set_on(self, window: Window, marks: list[Mark]) -> Mark:
        """The mark that is set of those that may be."""
        goal = Goal(window.target, window.minimum, window.maximum, window.farthest)
        numbers = range(int(marks[0].reading), int(marks[-1].reading) + 1)
        return self.mark(aimed(numbers, self.torque, lambda number: self.chance(goal, number), goal).number)


FORMS = ["both", "target at minimum", "target at maximum", "minimum", "maximum", "none"]


def window_of(form: str, target: float, ends: tuple[float, float], farthest: float = 0.1) -> Window:
    low = target if form == "target at minimum" else target * (1 - ends[0])
    high = target if form == "target at maximum" else target * (1 + ends[1])
    return Window(
        target,
        low if form not in ("maximum", "none") else None,
        high if form not in ("minimum", "none") else None,
        farthest,
    )


dials = st.builds(
    Dial,
    slope=st.floats(0.5, 200),
    lost=st.floats(0, 5),
    fixed=st.floats(0.01, 150),
    share=st.floats(0, 0.05),
    shift=st.floats(0, 0.04),
)
shares = st.tuples(st.floats(0.02, 0.4), st.floats(0.02, 0.4))


@given(
    dials,
    st.integers(20, 400),
    st.floats(0.1, 0.9),
    shares,
    st.sampled_from(FORMS),
    st.sampled_from([0.02, 0.05, 0.1]),
)
def test_a_search_over_all_marks(
    dial: Dial, last: int, at: float, ends: tuple[float, float], form: str, farthest: float
) -> None:
    target = dial.torque(1) + at * (dial.torque(last) - dial.torque(1))
    assume(target > 0)
    window = window_of(form, target, ends, farthest)
    marks = dial.may_be_set(window, last)
    assume(marks)
    assert dial.set_on(window, marks) in right_marks(marks, window)


def test_where_the_class_of_the_gauge_changes_the_best_is_sought_on_both_sides() -> None:
    """Target and minimum 1000, maximum 1600. Up to 1200 the uncertainty is 400, from there 100.

    Before: 1100 lies 0.25 and 1.25 uncertainties inside: 0.4931. From 1200 on 1300 has three to either end:
    0.9973, and 1200 itself 0.9772. To the other side it is the same, and 1100 is the best below 1200.
    """
    goal = Goal(1000, 1000, 1600, 0.1)
    for below, above, best in ((400.0, 100.0, 13), (100.0, 400.0, 11)):

        def at(number: int, below: float = below, above: float = above) -> Chance:
            return chance(torque(number), below if number < 12 else above, goal.minimum, goal.maximum)

        found = aimed(range(10, 17), torque, at, goal, leaps=(12,))
        assert found == Aimed(best, "best_chance")
        assert found.number == max(range(10, 17), key=lambda number: at(number).in_window)


def test_where_the_class_changes_the_lowest_sure_enough_is_sought_from_below() -> None:
    """Only a minimum of 1000: 1200 is two uncertainties above; from 1300 on they are three times as large."""
    goal = Goal(1000, 1000, None, 0.5)

    def at(number: int) -> Chance:
        return chance(torque(number), 100.0 if number < 13 else 300.0, 1000, None)

    assert aimed(range(10, 16), torque, at, goal, leaps=(13,)) == Aimed(12, "enough_above_minimum")


@given(st.integers(1000, 100000), st.floats(0.2, 0.8), st.booleans())
def test_on_a_plateau_the_nearest_to_the_target_is_taken(width: int, at: float, at_minimum: bool) -> None:
    """A window a thousand uncertainties wide: P is 1 at nearly every mark, so the target itself is as good.

    A target at the minimum has 0.5; six uncertainties above it 1e-9 is left, which counts as nothing.
    """
    dial = Dial(1.0, 0.0, 1.0, 0.0, 0.0)
    low, high = 1000.0, 1000.0 + width
    target = low if at_minimum else float(round(low + at * width))
    goal = Goal(target, low, high, 0.1)
    marks = range(1000, 1000 + width + 1)
    found = aimed(marks, dial.torque, lambda number: dial.chance(goal, number), goal)
    assert found.number == (1006 if at_minimum else target)


@given(
    dials,
    st.integers(10, 60),
    st.integers(2, 10),
    st.floats(0.1, 0.9),
    shares,
    st.sampled_from(FORMS),
    st.floats(0.0, 1.0),
)
def test_a_finer_dial_never_does_worse(
    coarse: Dial, last: int, parts: int, at: float, ends: tuple[float, float], form: str, surer: float
) -> None:
    """Its marks hold those of the coarser one; its accuracy is the same, the doubt of reading no greater.

    What is answered on the coarse dial is answered on the fine one, and the best probability is not lower.
    The mark set may give up 0.02 of it for the target, on either.
    """
    fine = Dial(
        coarse.slope / parts,
        coarse.lost * parts,
        coarse.fixed * (1 - 0.2 * surer),
        coarse.share,
        coarse.shift,
    )
    target = coarse.torque(1) + at * (coarse.torque(last) - coarse.torque(1))
    assume(target > 0)
    window = window_of(form, target, ends)
    marks = coarse.may_be_set(window, last)
    assume(marks)
    # the ends of a window may lie on a mark, within the last digit
    same = [fine.mark(int(mark.reading) * parts) for mark in marks]
    finer = sorted({*fine.may_be_set(window, last * parts), *same}, key=lambda mark: mark.reading)
    on_coarse, on_fine = coarse.set_on(window, marks), fine.set_on(window, finer)
    if window.minimum is not None and window.maximum is not None:
        given_up = 0.0 if form.startswith("target") else 0.02
        best = max(mark.within(window) for mark in marks)
        assert on_fine.within(window) >= best - given_up - NEARLY
    elif window.minimum is None:
        missed = abs(on_coarse.torque - target)
        assert abs(on_fine.torque - target) <= missed + SAME * target
    elif on_coarse.below(window) <= 0.05 - NEARLY:
        assert on_fine.below(window) <= 0.05 + NEARLY
        assert on_fine.torque <= on_coarse.torque + SAME * target
