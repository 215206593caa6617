"""The relief window: what protects what, by hand and at random."""

import re
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from api.engineering.checks import NoAnswer
from api.engineering.gauges.accuracy_class import stated_accuracy
from api.engineering.gauges.gauge import Gauge
from api.engineering.machines.relief import (
    Relief,
    ReliefSetting,
    ReliefWindow,
    relief_setting,
    relief_window,
    suitable_setting,
)

PSI = 4.4482216152605 / 0.0254**2
HAIR = 1e-9


def dial(span: float = 3000, division: float = 50, unit: float = PSI) -> Gauge:
    return Gauge("G-1", "psi", span, division, unit, stated_accuracy(1.0), "work_port")


def valve(lowest: float, highest: float, override: float) -> Relief:
    return Relief(lowest * PSI, highest * PSI, override * PSI)


def window(
    needed: float, joint: float | None, margin: float = 0.10, override: float = 250, **ends: float
) -> ReliefWindow:
    in_pascal = {part: end * PSI for part, end in ends.items()}
    return relief_window(
        needed * PSI, margin, override * PSI, None if joint is None else joint * PSI, in_pascal
    )


# needed, joint limit, margin, override, torque rating, hoses -> lower, upper_joint, upper_machine, ended by
WINDOWS = [
    ((750, 784, 0.10, 250, 1416, 3000), (825, 534, 1166, "rating")),
    ((2040, 784, 0.10, 250, 1416, 3000), (2244, 534, 1166, "rating")),
    ((400, 600, 0.10, 100, 1416, 3000), (440, 500, 1316, "rating")),
    ((400, None, 0.25, 50, 3500, 3000), (500, None, 2950, "hoses")),
    ((1000, 1500, 0.0, 0, 1600, 1550), (1000, 1500, 1550, "hoses")),
]


@pytest.mark.parametrize(("asked", "expected"), WINDOWS)
def test_window_by_hand(asked: Any, expected: Any) -> None:
    needed, joint, margin, override, rating, hoses = asked
    found = window(needed, joint, margin, override, rating=rating, hoses=hoses)
    lower, upper_joint, upper_machine, ended_by = expected
    assert found.lower / PSI == pytest.approx(lower, rel=HAIR)
    assert (found.upper_joint and found.upper_joint / PSI) == (
        upper_joint and pytest.approx(upper_joint, rel=HAIR)
    )
    assert found.upper_machine / PSI == pytest.approx(upper_machine, rel=HAIR)
    assert found.ended_by == ended_by


# needed, joint limit, machine end, valve (lowest, highest, override), division -> mark, protects; margin 10 %
SETTINGS = [
    # the joint: 400 x 1.1 = 440, up to 450; up to 600 - 100 = 500
    ((400, 600, 1400, (300, 2500, 100), 50), (450, "joint")),
    # at the very end: 1.1 x 500 = 550 is a mark, and 650 - 100 = 550
    ((500, 650, 1400, (300, 2500, 100), 50), (550, "joint")),
    # a coarser dial loses the joint: 440 up to 500, above 590 - 100 = 490
    ((400, 590, 1400, (300, 2500, 100), 100), (500, "machine")),
    # the machine: 750 x 1.1 = 825, up to 850; 784 - 250 = 534 < 850 <= 1416 - 250 = 1166
    ((750, 784, 1416, (300, 2500, 250), 50), (850, "machine")),
    # the joint bears more than the machine: 900 x 1.1 = 990 lies within both
    ((900, 2000, 1300, (300, 2500, 100), 50), (1000, "joint")),
    # no limit of the joint is known
    ((400, None, 1400, (300, 2500, 100), 50), (450, "machine")),
    # the valve cannot be set below 900
    ((400, 1200, 1400, (900, 2500, 100), 50), (900, "joint")),
    ((400, 900, 1400, (920, 2500, 100), 50), (950, "machine")),
]


@pytest.mark.parametrize(("asked", "expected"), SETTINGS)
def test_setting_by_hand(asked: Any, expected: Any) -> None:
    needed, joint, end, (lowest, highest, override), division = asked
    found = relief_setting(
        valve(lowest, highest, override),
        window(needed, joint, override=override, rating=end),
        dial(division=division),
    )
    assert found.mark is not None
    assert (found.mark.value, found.protects) == expected
    assert found.full_flow / PSI == pytest.approx(expected[0] + override, rel=HAIR)


NEITHER = [
    # 1100 x 1.1 = 1210 > 1400 - 250 = 1150; 1150 / 1100 is 4.5 % more
    ((1100, 1200, 1400, (300, 2500, 250), 50), ["1210 psi", "1150 psi", "margin of 4.5 % would do"]),
    # the joint bears more than the machine, which is no licence: 1.1 x 1100 = 1210 > 1150
    ((1100, 2000, 1400, (300, 2500, 250), 50), ["1150 psi"]),
    # rounding up to a mark leaves the window: 1045 up to 1100, above 1070
    ((950, None, 1320, (300, 2500, 250), 100), ["A dial with a mark between 1045 psi and 1070 psi"]),
    # the valve ends at 800, below 1.1 x 750 = 825
    (
        (750, 784, 1416, (300, 800, 250), 50),
        ["300 psi to 800 psi", "margin of 6.6 %", "A valve that cracks between 825 psi and 1166 psi"],
    ),
    # the valve begins above the window
    ((300, 400, 1416, (1200, 2500, 250), 50), ["A valve that cracks between 330 psi and 1166 psi"]),
    # the override alone reaches the rating
    ((100, 120, 240, (50, 2500, 250), 50), ["leave no pressure for it at all"]),
]


def spelled(refusal: NoAnswer) -> str:
    """The sentence of a refusal with its pressures in psi."""
    (fault,) = refusal.faults
    assert (fault.code, fault.field) == ("relief_cannot_protect", "machine")
    return re.sub(r"\{(\w+)\}", lambda name: f"{fault.amounts[name[1]].value / PSI:.6g} psi", fault.text)


@pytest.mark.parametrize(("asked", "told"), NEITHER)
def test_neither_by_hand(asked: Any, told: list[str]) -> None:
    needed, joint, end, (lowest, highest, override), division = asked
    with pytest.raises(NoAnswer) as refused:
        relief_setting(
            valve(lowest, highest, override),
            window(needed, joint, override=override, rating=end),
            dial(division=division),
        )
    text = spelled(refused.value)
    assert [each for each in told if each not in text] == []
    assert text.endswith("Else use another machine.")


def test_what_a_separate_supply_of_the_grip_would_bring() -> None:
    """The grip needs 2,040 psi, the mark 750: 1.1 x 750 = 825, up to 850 on a dial of 50."""
    grip = window(2040, 784, rating=1416)
    with pytest.raises(NoAnswer) as refused:
        relief_setting(valve(300, 2500, 250), grip, dial(), window(750, 784, rating=1416))
    text = spelled(refused.value)
    assert "2244 psi" in text
    assert "1166 psi" in text
    assert "With a separate supply of the grip, relief set to 850 psi would do." in text
    assert "margin of" not in text


# needed, joint limit, machine end, cracking, full flow of a fixed valve -> protects; None: refused
FIXED = [
    ((400, 700, 1400, 500, 600), "joint"),
    ((400, 600, 1400, 500, 600), "joint"),
    ((400, 599, 1400, 500, 600), "machine"),
    ((400, 599, 600, 500, 600), "machine"),
    ((400, 599, 599, 500, 600), None),
    ((455, 599, 1400, 500, 600), None),  # 1.1 x 455 = 500.5
    ((454, 700, 1400, 500, 600), "joint"),  # 499.4
]


@pytest.mark.parametrize(("asked", "protects"), FIXED)
def test_a_fixed_valve_is_judged_by_the_same_three_cases(asked: Any, protects: str | None) -> None:
    needed, joint, end, cracking, full_flow = asked
    override = full_flow - cracking
    judged = window(needed, joint, override=override, rating=end)
    found = suitable_setting(valve(cracking, cracking, override), judged, dial())
    assert (found and found.protects) == protects
    if found:
        assert found.mark is None
        assert found.full_flow / PSI == pytest.approx(full_flow, rel=HAIR)


def test_without_a_margin_relief_still_cracks_above_the_mark() -> None:
    found = relief_setting(valve(300, 2500, 100), window(750, None, margin=0.0, hoses=3000), dial())
    assert found.mark is not None
    assert found.mark.value == 800


pressures = st.floats(10, 5000)
overrides = st.floats(0, 400)
margins = st.floats(0, 0.5)


@given(
    pressures,
    margins,
    st.one_of(st.none(), pressures),
    pressures,
    st.tuples(pressures, pressures),
    overrides,
    st.sampled_from([5, 20, 50, 100, 500]),
)
def test_what_holds_of_every_setting(
    needed: float,
    margin: float,
    joint: float | None,
    end: float,
    ends: tuple[float, float],
    override: float,
    division: float,
) -> None:
    """It is the least mark above lower and within the valve with full flow below what it protects."""
    relief, gauge = valve(min(ends), max(ends), override), dial(5000, division)
    assume(not relief.fixed)
    judged = window(needed, joint, margin, override, rating=end)
    found = suitable_setting(relief, judged, gauge)
    marks = [gauge.at(number) for number in range(gauge.last + 1)]
    suitable = [at for at in marks if _suits(at, needed, margin, end, relief)]
    if found is None:
        assert suitable == []
        return
    assert found.mark is not None
    assert found.cracking == min(suitable)
    assert found.mark.value * PSI == found.cracking
    assert found.full_flow <= end * PSI * (1 + HAIR)
    protects = joint is not None and found.full_flow <= joint * PSI * (1 + HAIR)
    assert found.protects == ("joint" if protects else "machine")


def _suits(at: float, needed: float, margin: float, end: float, relief: Relief) -> bool:
    """The rule, written once more in another way."""
    return (
        at > needed * PSI * (1 + 1e-12)
        and at / (needed * PSI) >= (1 + margin) * (1 - 1e-12)
        and relief.lowest * (1 - 1e-12) <= at <= relief.highest * (1 + 1e-12)
        and at + relief.override <= end * PSI + at * 1e-12
    )


@given(pressures, margins, pressures, st.tuples(pressures, pressures), overrides, st.sampled_from([20, 50]))
def test_the_margin_that_a_refusal_names_would_do(
    needed: float, margin: float, end: float, ends: tuple[float, float], override: float, division: float
) -> None:
    relief, gauge = valve(min(ends), max(ends), override), dial(5000, division)
    try:
        relief_setting(relief, window(needed, None, margin, override, rating=end), gauge)
    except NoAnswer as refused:
        named = re.search(r"A relief margin of ([\d.]+) % would do", spelled(refused))
        if named:
            smaller = window(needed, None, float(named[1]) / 100, override, rating=end)
            assert isinstance(suitable_setting(relief, smaller, gauge), ReliefSetting)
