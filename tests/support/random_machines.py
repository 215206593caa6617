"""Random machines of every kind that gives torque, in US units, with their statics written out again.

Each is a profile for a request and beside it what is worked out here from the same numbers: the torque at a
reading and the standard uncertainty of it, term by term.
"""

from bisect import bisect_left
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from math import acos, ceil, hypot, inf, pi, sin, sqrt
from random import Random
from typing import Any

from machines import profile
from safest_mark import Mark

OWN = ("cylinder", "arm_radius", "base_distance", "right_hand_make_up_side", "efficiency")
"""Members of the example profile that other kinds do not have."""
SPAN_SHARES = {
    # error in percent of span in the first quarter, the middle half and the last quarter of the dial
    "ASME B40.100 A": (2.0, 1.0, 2.0),
    "ASME B40.100 B": (3.0, 2.0, 3.0),
    "ASME B40.100 C": (4.0, 3.0, 4.0),
}


@dataclass(frozen=True)
class Spread:
    """Low, nominal and high of an efficiency or factor, spread evenly."""

    low: float
    nominal: float
    high: float

    @property
    def mean(self) -> float:
        return (self.low + self.high) / 2 / self.nominal

    @property
    def share(self) -> float:
        """Its standard deviation as a share of its mean: half the width over the root of three."""
        return (self.high - self.low) / 2 / sqrt(3) / ((self.low + self.high) / 2)

    @property
    def given(self) -> dict[str, float]:
        return {"low": self.low, "nominal": self.nominal, "high": self.high}


def spread(draw: Random, about: float = 0.95) -> Spread:
    """An efficiency; often with the nominal one off the middle."""
    nominal = about * draw.uniform(0.97, 1.0)
    return Spread(nominal * draw.uniform(0.95, 1.0), nominal, nominal * draw.uniform(1.0, 1.03))


@dataclass(frozen=True, kw_only=True)
class Drawn:
    """A machine drawn at random, psi (or lbf of pull) and lbf.ft.

    Attributes:
        given: its profile.
        asked: what the request must say besides.
        division, last: of its dial: from mark to mark, and how many there are.
        torque: at a reading, nominal.
        spreads: of its losses.
        known: readings between which the torque is known.
        share: a further standard deviation, a share of the torque.
        errors: of its gauge at a reading, half-widths.
        reading: half-width of how finely it is read.
        points: least and most of the torque as shares of the nominal one, of a calibrated machine.
    """

    given: dict[str, Any]
    asked: dict[str, Any]
    division: float
    last: int
    torque: Callable[[float], float]
    spreads: Sequence[Spread]
    errors: Callable[[float], Sequence[float]]
    reading: float
    known: tuple[float, float] = (0.0, inf)
    share: float = 0.0
    points: Sequence[float] = field(default=())

    @property
    def high(self) -> float:
        """Torque at the highest efficiency over that at the nominal one."""
        found = 1.0
        for each in self.spreads:
            found *= each.high / each.nominal
        return found

    @property
    def low(self) -> float:
        found = 1.0
        for each in self.spreads:
            found *= each.low / each.nominal
        return found

    def mark(self, number: int) -> Mark:
        at = number * self.division
        torque, mean = self.torque(at), 1.0
        doubts = [self.share, *(each.share for each in self.spreads)]
        for half in (*self.errors(at), self.reading):
            low, high = max(self.known[0], at - half), min(self.known[1], at + half)
            slope = (self.torque(high) - self.torque(low)) / (high - low)
            doubts.append(half * slope / sqrt(3) / torque)
        for each in self.spreads:
            mean *= each.mean
        return Mark(at, torque, torque * mean, torque * mean * hypot(*doubts))

    @property
    def numbers(self) -> list[int]:
        """Marks with a torque that is known."""
        first, last = self.known
        readings = [(number, number * self.division) for number in range(self.last + 1)]
        return [number for number, at in readings if first <= at <= last and self.torque(at) > 0]

    def reading_for(self, torque: float) -> float:
        """By halving: the torque rises."""
        low, high = self.known[0], min(self.known[1], 4 * self.last * self.division)
        for _ in range(100):
            middle = (low + high) / 2
            low, high = (middle, high) if self.torque(middle) < torque else (low, middle)
        return high

    def relief_lets_through(self, reading: float) -> bool:
        """Whether the valve can be set 10 % above a reading and a division, its override, below the span."""
        relief = self.given.get("relief")
        if relief is None:
            return True
        lowest, highest = (float(relief[end].split()[0]) for end in ("lowest", "highest"))
        cracking = ceil(max(1.1 * reading, lowest) / self.division * (1 - 1e-9)) * self.division
        return cracking <= min(highest, (self.last - 1) * self.division) * (1 + 1e-9)


def _dial(draw: Random, unit: str, drift: bool = False) -> tuple[dict[str, Any], int, float, Any]:
    """A dial, how many marks, from mark to mark, and its error at a reading."""
    division = draw.choice([5, 10, 20, 25, 50, 100])
    last = draw.randint(30, 120)
    span = division * last
    given: dict[str, Any] = {
        "serial": "R-1",
        "span": f"{span} {unit}",
        "division": f"{division} {unit}",
        "connected_at": "work_port",
    }
    if draw.random() < 0.3:
        given["display"] = "digital"
    if draw.random() < 0.4:
        name = draw.choice(list(SPAN_SHARES))
        first, middle, end = SPAN_SHARES[name]
        given["accuracy_class"] = name
    else:
        first = middle = end = draw.choice([0.25, 0.5, 1.0, 1.6, 2.5])
        given["accuracy_percent_of_span"] = middle
    if drift:
        given["drift_percent_of_span"] = 0.25

    def error(at: float) -> float:
        if at < 0.25 * span * (1 - 1e-9):
            return first / 100 * span
        return (middle if at <= 0.75 * span * (1 + 1e-9) else end) / 100 * span

    return given, last, float(division), error


def _made(draw: Random, kind: str, unit: str = "psi", drift: bool = False, **members: Any) -> dict[str, Any]:
    """What `Drawn` needs of the dial and of a profile whose limits leave room."""
    dial, last, division, error = _dial(draw, unit, drift)
    span = dial["span"]
    breakaway = draw.uniform(1, 60)
    members.setdefault("rated_pressure", {"cylinder": "14000 psi", "hoses": "14000 psi"})
    made = profile(
        kind=kind,
        **{name: None for name in OWN if name not in members},
        **members,
        gauges={"make_up": dial, "break_out": dial},
        relief={"lowest": f"{division:g} psi", "highest": span, "override": f"{division:g} psi"},
        torque_rating="70000000 ft-lb",
        lowest_setting=f"0 {unit}",
    )
    made["breakaway_pressure"] = f"{breakaway!r} psi"
    made["return_pressure"] = f"{draw.uniform(1, 30)!r} psi"
    return {
        "given": made,
        "division": division,
        "last": last,
        "errors": lambda at: [error(at)],
        "reading": division * (0.5 if dial.get("display") else 0.25),
        "asked": {"arm_position": "square", "thread_hand": draw.choice(["right", "left"])},
    }


def _psi(made: dict[str, Any], name: str) -> float:
    return float(made["given"][name].split()[0])


def _areas(bore: float, rod: float, side: str, hand: str) -> tuple[float, float]:
    """Of the driven side and of the other one, in2; ``side`` makes up a right-hand thread."""
    cap = pi / 4 * bore**2
    ring = cap - pi / 4 * rod**2
    return (cap, ring) if (side == "cap") == (hand == "right") else (ring, cap)


def _cylinder(bore: float, rod: float, closed: float, end: float) -> dict[str, str]:
    sizes = {"bore": bore, "rod": rod, "closed_length": closed, "open_length": end}
    return {name: f"{size!r} in" for name, size in sizes.items()}


def cylinder_on_arm(draw: Random) -> Drawn:
    bore, arm = draw.uniform(2, 10), draw.uniform(15, 60)
    rod, base = bore * draw.uniform(0.3, 0.75), arm * draw.uniform(1.2, 2.5)
    closed = (base - arm) + arm * draw.uniform(0.2, 0.6)
    end = closed + arm * draw.uniform(0.5, 1.0)
    length, side, losses = draw.uniform(closed, end), draw.choice(["cap", "rod"]), spread(draw)
    made = _made(
        draw,
        "cylinder_on_arm",
        cylinder=_cylinder(bore, rod, closed, end),
        arm_radius=f"{arm!r} in",
        base_distance=f"{base!r} in",
        right_hand_make_up_side=side,
        efficiency=losses.given,
    )  # fmt: skip
    made["asked"]["arm_position"] = f"{length!r} in"
    lever = arm * base * sin(acos((arm**2 + base**2 - length**2) / (2 * arm * base))) / length
    area, other = _areas(bore, rod, side, made["asked"]["thread_hand"])
    lost = area * _psi(made, "breakaway_pressure") + other * _psi(made, "return_pressure")
    return Drawn(torque=lambda at: lever / 12 * losses.nominal * (area * at - lost), spreads=[losses], **made)


def cylinder_on_square_arm(draw: Random) -> Drawn:
    bore, arm = draw.uniform(2, 10), draw.uniform(15, 60)
    rod, side, losses = bore * draw.uniform(0.3, 0.75), draw.choice(["cap", "rod"]), spread(draw)
    made = _made(
        draw,
        "cylinder_on_square_arm",
        cylinder={"bore": f"{bore!r} in", "rod": f"{rod!r} in"},
        arm_radius=f"{arm!r} in",
        right_hand_make_up_side=side,
        efficiency=losses.given,
        largest_angle_off_square="12 deg",
    )
    area, other = _areas(bore, rod, side, made["asked"]["thread_hand"])
    lost = area * _psi(made, "breakaway_pressure") + other * _psi(made, "return_pressure")
    return Drawn(torque=lambda at: arm / 12 * losses.nominal * (area * at - lost), spreads=[losses], **made)


def two_cylinders(draw: Random) -> Drawn:
    losses, members, sizes = spread(draw), [], []
    for _ in range(2):
        bore, arm = draw.uniform(2, 8), draw.uniform(15, 50)
        rod, base, side = (
            bore * draw.uniform(0.3, 0.75),
            arm * draw.uniform(1.3, 2),
            draw.choice(["cap", "rod"]),
        )
        square = sqrt(base**2 - arm**2)
        closed, end = (base - arm + square) / 2, (base + arm + square) / 2
        sizes.append((bore, rod, side, arm))
        members.append(
            {
                "cylinder": _cylinder(bore, rod, closed, end),
                "arm_radius": f"{arm!r} in", "base_distance": f"{base!r} in", "right_hand_make_up_side": side,
            }
        )  # fmt: skip
    made = _made(draw, "two_cylinders", cylinders=members, on_opposite_sides=True, efficiency=losses.given)
    hand, breakaway, back = (
        made["asked"]["thread_hand"],
        _psi(made, "breakaway_pressure"),
        _psi(made, "return_pressure"),
    )
    areas = [(arm, *_areas(bore, rod, side, hand)) for bore, rod, side, arm in sizes]

    def torque(at: float) -> float:
        moments = [arm * (area * (at - breakaway) - other * back) for arm, area, other in areas]
        return losses.nominal * sum(moments) / 12

    return Drawn(torque=torque, spreads=[losses], **made)


def motor_through_gears(draw: Random) -> Drawn:
    volume, ratio = draw.uniform(5, 60), draw.uniform(10, 100)
    motor, gears = spread(draw, 0.85), spread(draw, 0.95)
    made = _made(
        draw,
        "motor_through_gears",
        displacement=f"{volume!r} in3/rev",
        gear_ratio=ratio,
        starting_efficiency=motor.given,
        gear_efficiency=gears.given,
        right_hand_make_up_port=draw.choice(["A", "B"]),
        rated_pressure={"motor": "14000 psi", "hoses": "14000 psi"},
    )
    del made["given"]["breakaway_pressure"]
    back, factor = (
        _psi(made, "return_pressure"),
        volume / (2 * pi) * ratio * motor.nominal * gears.nominal / 12,
    )
    return Drawn(torque=lambda at: factor * (at - back), spreads=[motor, gears], **made)


def line_pull(draw: Random) -> Drawn:
    arm, losses = draw.uniform(24, 72), spread(draw, 1.0)
    losses = Spread(losses.low, losses.nominal, min(losses.high, 1.0))
    cell = draw.choice([None, draw.uniform(5, 30)])
    made = _made(draw, "line_pull", "lbf" if cell is None else "psi", arm_radius=f"{arm!r} in",
                 efficiency=losses.given, largest_angle_off_square="10 deg")  # fmt: skip
    given = made["given"]
    for name in ("relief", "rated_pressure", "breakaway_pressure", "return_pressure", "lowest_setting"):
        del given[name]
    span = made["division"] * made["last"] * (cell or 1.0)
    given |= {
        "rated_pull": {"line": f"{2 * span!r} lbf", "cell": f"{2 * span!r} lbf"},
        "largest_pull": f"{draw.uniform(0.5, 1.0) * span!r} lbf",
        "lowest_pull": "0 lbf",
    }
    if cell is not None:
        given["cell_area"] = f"{cell!r} in2"
    return Drawn(torque=lambda at: arm / 12 * losses.nominal * at * (cell or 1.0), spreads=[losses], **made)


def torque_wrench(draw: Random) -> Drawn:
    factor, width = draw.uniform(0.1, 3), draw.uniform(0.005, 0.05)
    made = _made(
        draw,
        "torque_wrench",
        torque_factor={"torque": f"{factor * 10000!r} ft-lb", "pressure": "10000 psi"},
        torque_factor_range={"low": 1 - width, "high": 1 + width},
        rated_pressure={"wrench": "14000 psi", "hoses": "14000 psi"},
    )
    for name in ("breakaway_pressure", "return_pressure", "outside_diameter"):
        del made["given"][name]
    losses = Spread(1 - width, 1.0, 1 + width)
    return Drawn(torque=lambda at: factor * at, spreads=[losses], **made)


def calibrated(draw: Random) -> Drawn:
    """Points near a straight line, as a calibration finds them; on its own gauge or on another."""
    own = draw.random() < 0.5
    made = _made(draw, "calibrated", drift=draw.random() < 0.7, right_hand_make_up_side="cap")
    for name in ("breakaway_pressure", "return_pressure"):
        del made["given"][name]
    span, slope = made["division"] * made["last"], draw.uniform(5, 100)
    first = draw.uniform(0.05, 0.15) * span
    readings = [first + share * (span - first) for share in (0, 0.25, 0.5, 0.75, 1.0)]
    points = [(at, slope * (at - 0.02 * span) * draw.uniform(0.995, 1.005)) for at in readings]
    percent = draw.uniform(0.5, 3)
    sides = {
        side: {
            "gauge_serial": "R-1" if own else "elsewhere",
            "points": [{"pressure": f"{at!r} psi", "torque": f"{torque!r} ft-lb"} for at, torque in points],
        }
        for side in ("cap", "rod")
    }
    made["given"]["calibrated"] = {
        "position": "square", "calibrated_on": "2026-01-01", "reference": "invented",
        "expanded_uncertainty_percent": percent, "sides": sides,
    }  # fmt: skip
    class_error = made["errors"]
    drift = [0.0025 * span] if "drift_percent_of_span" in made["given"]["gauges"]["make_up"] else []
    made["errors"] = lambda at: [*drift] if own else [*drift, *class_error(at)]

    def torque(at: float) -> float:
        right = min(max(bisect_left(readings, at), 1), len(readings) - 1)
        (x1, y1), (x2, y2) = points[right - 1], points[right]
        return y1 + (y2 - y1) / (x2 - x1) * (at - x1)

    high = Spread(1 - percent / 100, 1.0, 1 + percent / 100)
    return Drawn(
        torque=torque, spreads=[], share=percent / 200, known=(readings[0], readings[-1]),
        points=[high.low, high.high], **made,
    )  # fmt: skip


KINDS: dict[str, Callable[[Random], Drawn]] = {
    each.__name__: each
    for each in (
        cylinder_on_arm,
        cylinder_on_square_arm,
        two_cylinders,
        motor_through_gears,
        line_pull,
        torque_wrench,
        calibrated,
    )
}
