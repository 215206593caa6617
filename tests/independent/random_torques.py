"""Torques drawn at random from what may be off, with statics alone: psi, in, lbf, rad; torque in lbf.in.

Each function draws every quantity once for each torque and computes with it. None of our code is used.
"""

from math import pi

import numpy as np

Drawn = np.ndarray
DRAWS = 200_000


class Draw:
    """Quantities within a half-width of their values, from one generator with a fixed seed."""

    def __init__(self, seed: int) -> None:
        self._generator = np.random.default_rng(seed)

    def within(self, value: float, half_width: float) -> Drawn:
        return self._generator.uniform(value - half_width, value + half_width, DRAWS)

    def between(self, low: float, high: float) -> Drawn:
        return self._generator.uniform(low, high, DRAWS)

    def certified(self, value: float, expanded: float) -> Drawn:
        return self._generator.normal(value, expanded / 2, DRAWS)

    def reading(self, value: float, *half_widths: float) -> Drawn:
        return value + sum(self.within(0.0, half_width) for half_width in half_widths)


def areas(bore: Drawn, rod: Drawn) -> tuple[Drawn, Drawn]:
    return pi / 4 * bore**2, pi / 4 * (bore**2 - rod**2)


def lever(arm: Drawn, base: Drawn, length: Drawn) -> Drawn:
    """From the coordinates of the pins: base pin at (b, 0), arm pin where the two circles meet."""
    x = (arm**2 + base**2 - length**2) / (2 * base)
    return base * np.sqrt(arm**2 - x**2) / length


def push() -> Drawn:
    """5 x 2.5 in, 36 in arm, 2500 psi on a 5000 psi dial of 1 %, square within 5 degrees."""
    draw = Draw(11)
    p = draw.reading(2500, 50, 12.5)
    cap, rod_side = areas(draw.within(5, 0.0015), draw.within(2.5, 0.0015))
    force = cap * (p - draw.within(40, 15)) - rod_side * draw.within(60, 30)
    angle = draw.within(0, np.radians(5))
    return draw.between(0.92, 0.98) * force * draw.within(36, 0.125) * np.cos(angle)


def pull_lopsided() -> Drawn:
    """The rod side of the same, low on the dial, worn, with an efficiency nearer to its upper end."""
    draw = Draw(12)
    p = draw.reading(800, 40, 25)
    cap, rod_side = areas(draw.within(5, 0.04), draw.within(2.5, 0.03))
    force = rod_side * (p - draw.within(40, 15)) - cap * draw.within(60, 30)
    return draw.between(0.86, 0.98) * force * draw.within(36, 0.25)


def at_length() -> Drawn:
    """Cylinder pushing at a length of 60 in on a 36 in arm and a 60 in base, angle within 3 degrees."""
    draw = Draw(13)
    p = draw.reading(2000, 30, 12.5)
    cap, _ = areas(draw.within(5, 0.0015), draw.within(2.5, 0.0015))
    arm, base = draw.within(36, 0.25), draw.within(60, 0.25)
    h = lever(arm, base, np.float64(60))
    alpha = np.pi - np.arcsin(lever(np.float64(36), np.float64(60), np.float64(60)) / 36)
    off = np.sin(alpha + draw.within(0, np.radians(3))) / np.sin(alpha)
    return draw.between(0.92, 0.98) * cap * p * h * off


def anywhere_in_the_stroke() -> Drawn:
    """The same machine with its cylinder at any length from 40 to 62 in."""
    draw = Draw(14)
    p = draw.reading(2000, 30, 12.5)
    cap, _ = areas(draw.within(5, 0.0015), draw.within(2.5, 0.0015))
    h = lever(draw.within(36, 0.25), np.float64(60), draw.between(40, 62))
    return draw.between(0.94, 0.96) * cap * p * h


def square_arm_anywhere() -> Drawn:
    """Known by its arm alone, anywhere within 15 degrees of square: 4 x 2 in on 30 in, pulling."""
    draw = Draw(15)
    p = draw.reading(1500, 20, 10)
    _, rod_side = areas(draw.within(4, 0.002), draw.within(2, 0.002))
    angle = draw.within(0, np.radians(15))
    return draw.between(0.94, 0.96) * rod_side * p * draw.within(30, 0.1) * np.cos(angle)


def push_pull() -> Drawn:
    """Two cylinders 4 x 2 in, one pushing, one pulling, on 20 in, measured alike, square within 8 degrees."""
    draw = Draw(16)
    p = draw.reading(1800, 30, 12.5)
    cap, rod_side = areas(draw.within(4, 0.02), draw.within(2, 0.02))
    breakaway, back = draw.within(50, 20), draw.within(30, 30)
    force = cap * (p - breakaway) - rod_side * back + rod_side * (p - breakaway) - cap * back
    return draw.between(0.9, 0.98) * force * draw.within(20, 0.1) * np.cos(draw.within(0, np.radians(8)))


def push_push_anywhere() -> Drawn:
    """Two alike, 4 x 2 in on 20 in with the base at 45 in, anywhere in a stroke from 27 to 60 in."""
    draw = Draw(22)
    p = draw.reading(1800, 30, 12.5)
    cap, _ = areas(draw.within(4, 0.02), np.float64(2))
    h = lever(np.float64(20), np.float64(45), draw.between(27, 60))
    return draw.between(0.94, 0.96) * 2 * cap * p * h


def motor() -> Drawn:
    """24 in3/rev through 60 to 1 at 1500 psi, 80 psi in the return."""
    draw = Draw(17)
    p = draw.reading(1500, 25, 12.5) - draw.within(80, 40)
    displacement = 24 * draw.within(1, 0.01)
    return p * displacement / (2 * pi) * 60 * draw.between(0.78, 0.86) * draw.between(0.94, 0.98)


def line_on_load_cell() -> Drawn:
    """A cell of 5 in2 at 1200 psi on a 48 in arm, square within 10 degrees."""
    draw = Draw(18)
    pull = draw.reading(1200, 20, 6.25) * 5 * draw.within(1, 0.005)
    return pull * draw.within(48, 0.25) * np.cos(draw.within(0, np.radians(10))) * draw.between(0.97, 1.0)


def wrench() -> Drawn:
    """15 lbf.in/psi at 4000 psi."""
    draw = Draw(19)
    return 15 * draw.within(1, 0.02) * draw.reading(4000, 100, 25) * draw.between(0.97, 1.03)


POINTS = ([500.0, 1000.0, 2000.0, 3000.0], [290_000.0, 600_000.0, 1_230_000.0, 1_850_000.0])
"""A calibration: pressures and the torques measured at them."""


def calibrated() -> Drawn:
    """1500 psi on those points, certified to 2 % with k = 2, read on another gauge than theirs.

    A point drawn too far to the right gives as much less torque as a reading that is too high.
    """
    draw = Draw(20)
    off_in_calibration = draw.within(0, 15)
    torques = np.interp(draw.reading(1500, 30, 12.5) - off_in_calibration, *POINTS)
    return torques * draw.certified(1.0, 0.02)


def calibrated_on_this_gauge() -> Drawn:
    """The same on the gauge of the calibration, drifted by up to 10 psi since."""
    draw = Draw(21)
    return np.interp(draw.reading(1500, 10, 12.5), *POINTS) * draw.certified(1.0, 0.02)
