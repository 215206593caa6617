"""Which size of a cylinder or its arm explains what the sides gave, worked by hand."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from api.engineering.calibration.size_in_doubt import SizeInDoubt, explaining_sizes
from api.engineering.machine_kinds.machine import Driven
from api.engineering.machines.cylinder import Piston

PISTON = Piston(5.0, 2.5)


def side(name: Driven, share: float) -> SizeInDoubt:
    """A side of the piston on an arm of 36 in; a share within 6 % is one of a sound machine."""
    return SizeInDoubt(name, PISTON, 36.0, share, abs(share - 1) < 0.06)


@pytest.mark.parametrize(
    ("cap", "rod", "sizes"),
    [
        # bore 4.5: cap 20.25/25, rod (20.25 - 6.25)/18.75
        (0.81, 14 / 18.75, {"bore": 4.5}),
        # bore 4: 16/25, (16 - 6.25)/18.75
        (0.64, 9.75 / 18.75, {"bore": 4.0}),
        # bore 6: 36/25, (36 - 6.25)/18.75
        (1.44, 29.75 / 18.75, {"bore": 6.0}),
        # bore 4.75: 22.5625/25, (22.5625 - 6.25)/18.75
        (0.9025, 16.3125 / 18.75, {"bore": 4.75}),
        (30 / 36, 30 / 36, {"arm": 30.0}),
        (45 / 36, 45 / 36, {"arm": 45.0}),
        # rods of 3, 2 and 1.75: (25 - 9)/18.75, (25 - 4)/18.75, (25 - 3.0625)/18.75
        (1.0, 16 / 18.75, {"rod": 3.0}),
        (1.0, 21 / 18.75, {"rod": 2.0}),
        (1.0, 21.9375 / 18.75, {"rod": 1.75}),
        # the losses of the machine are 3.5 % greater than thought, and its rod is 3 in
        (0.965, 0.965 * 16 / 18.75, {"rod": 3.0}),
        (0.81, 0.78, {}),  # between bore and arm
        (0.75, 1.0, {}),  # the cap side alone
        (1.0, 1.4, {}),  # more than the whole bore gives
        # too near to tell: by bore sqrt(27.083) and sqrt(6.25 + 20.3125) in
        (39 / 36, 39 / 36, {"bore": 5.179, "arm": 39.0}),
        # a rod of 2.35 in, (25 - 5.5225)/18.75, or a bore of about sqrt((25 + 25.7275)/2)
        (1.0, 19.4775 / 18.75, {"bore": 5.036, "rod": 2.35}),
    ],
)
def test_both_sides(cap: float, rod: float, sizes: dict[str, float]) -> None:
    found = explaining_sizes([side("cap", cap), side("rod", rod)])
    assert found == pytest.approx(sizes, rel=1e-3)


@pytest.mark.parametrize(
    ("name", "share", "sizes"),
    [
        ("cap", 0.81, {"bore": 4.5, "arm": 29.16}),
        # sqrt(6.25 + 14), sqrt(25 - 14)
        ("rod", 14 / 18.75, {"bore": 4.5, "rod": 11**0.5, "arm": 36 * 14 / 18.75}),
        ("rod", 1.5, {"bore": (6.25 + 28.125) ** 0.5, "arm": 54.0}),  # no rod gives that much
        ("cap", 0.2, {"arm": 7.2}),  # the bore would be smaller than its rod
    ],
)
def test_one_side(name: Driven, share: float, sizes: dict[str, float]) -> None:
    assert explaining_sizes([side(name, share)]) == pytest.approx(sizes)
    assert explaining_sizes([side(name, share), side(name, 1.2 * share)]) == {}  # two gauges that disagree


def test_sides_that_are_off_alike_leave_nothing_to_a_rod() -> None:
    """Both at 0.8, which on the gauge of the cap side is still within what its profile expects."""
    sides = [SizeInDoubt("cap", PISTON, 36.0, 0.8, True), SizeInDoubt("rod", PISTON, 36.0, 0.8, False)]
    assert explaining_sizes(sides) == pytest.approx({"arm": 28.8})


@given(st.floats(3, 8), st.sampled_from(["bore", "rod", "arm"]))
def test_what_is_true_is_among_what_explains(size: float, which: str) -> None:
    """Whatever single size is another, it is named."""
    true = {
        "bore": 5.0,
        "rod": 2.5,
        "arm": 36.0,
        which: size * (6 if which == "arm" else 0.5 if which == "rod" else 1),
    }
    arm = true["arm"] / 36
    cap, rod = arm * true["bore"] ** 2 / 25, arm * (true["bore"] ** 2 - true["rod"] ** 2) / 18.75
    found = explaining_sizes([side("cap", cap), side("rod", rod)])
    if which == "rod" and abs(rod - 1) < 0.03:
        return  # too little to tell from no change at all
    assert found[which] == pytest.approx(true[which], rel=0.02)
