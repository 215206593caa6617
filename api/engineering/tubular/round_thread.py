"""Strength and make-up torque of API round-thread casing and tubing joints.

Symbols are the source's: ``D`` outside diameter of the thread, ``d`` inside diameter, ``h`` thread height,
``L`` engaged length at nominal power make-up, ``Ajp`` area under the last perfect thread, ``Yp`` and ``Up``
minimum yield and tensile strength of the pipe. Everything is in SI: m, m2, Pa, N, N.m.

The torque is 1 % of pull-out, never of the lesser joint strength. Minimum and maximum are those of the
exact optimum; the printed rounding is a figure of its own, and `narrower_ends` keeps within both.
"""

from dataclasses import dataclass
from math import floor

from api.engineering.checks import Amount, Fault, NoAnswer
from api.engineering.rotary.sizes import INCH

QUARTER_PI = 0.7854
"""pi/4 as the source prints it; all its strengths are computed with these four digits."""

EFFICIENCY = 0.95
"""Factor of pull-out and fracture strength (API Bul 5C3 cl. 4.1)."""

PULL_OUT = 0.74 * INCH**0.59
"""Constant of the pull-out equation, m^0.59: printed as 0.74 for inches, 4.99 for mm (0.74 x 25.4^0.59)."""

TORQUE_PER_STRENGTH = 0.01 * 0.3048
"""Optimum torque over pull-out strength, m: 1 %, in ft-lb per lbf, is 0.01 ft (API RP 5C1 4.3.4)."""

MINIMUM_SHARE, MAXIMUM_SHARE = 0.75, 1.25
"""Ends of the window as shares of the optimum (API RP 5C1)."""

FOOT_POUND = 0.45359237 * 9.80665 * 0.3048
"""One ft-lb in N.m."""

PRINTED_STEP = 10.0
"""Step of the printed torques, ft-lb."""

THREAD_HEIGHTS = {8: 0.07125 * INCH, 10: 0.05560 * INCH}
"""Height of API round thread by threads per inch, m (API Bul 5C3)."""


@dataclass(frozen=True)
class RoundThread:
    """A round-thread joint; SI.

    ``D`` is the outside diameter that the thread is cut on: of the upset for external-upset tubing. ``d`` is
    that of the pin upset for integral-joint tubing.
    """

    D: float
    d: float
    h: float
    L: float
    Yp: float
    Up: float


@dataclass(frozen=True)
class RoundThreadMakeUp:
    """A make-up torque and what it comes from; SI."""

    Ajp: float
    fracture: float
    pull_out: float
    optimum: float
    minimum: float
    maximum: float


@dataclass(frozen=True)
class PrintedTorque:
    """Torques as the tables print them, ft-lb."""

    optimum: float
    minimum: float
    maximum: float


def area_under_last_perfect_thread(D: float, d: float, h: float) -> float:
    """Ajp, m2: ``0.7854 ((D - 2 h)^2 - d^2)``, with 2 h = 0.1425 in for 8-round (API Bul 5C3 cl. 4.1).

    5-1/2 in 17 lb/ft:

    >>> round(area_under_last_perfect_thread(5.5 * INCH, 4.892 * INCH, 0.07125 * INCH) / INCH**2, 3)
    3.747
    """
    return QUARTER_PI * ((D - 2 * h) ** 2 - d**2)


def fracture_strength(Ajp: float, Up: float) -> float:
    """Load that breaks the pipe under the last perfect thread, N: ``0.95 Ajp Up`` (API Bul 5C3 cl. 4.1)."""
    return EFFICIENCY * Ajp * Up


def pull_out_strength(Ajp: float, D: float, L: float, Yp: float, Up: float) -> float:
    """Load that pulls the thread out of the coupling, N (API Bul 5C3 cl. 4.1).

    ``0.95 Ajp L (0.74 D^-0.59 Up / (0.5 L + 0.14 D) + Yp / (L + 0.14 D))``, D and L in inches in print.
    """
    jump_out: float = PULL_OUT * D**-0.59 * Up / (0.5 * L + 0.14 * D)
    return EFFICIENCY * Ajp * L * (jump_out + Yp / (L + 0.14 * D))


def torque_from_pull_out(pull_out: float) -> float:
    """Optimum make-up torque, N.m: 1 % of the pull-out strength, in ft-lb per lbf (API RP 5C1 4.3.4).

    Of the pull-out strength alone: the joint strength, which may be a lesser fracture strength, is not meant.
    """
    return TORQUE_PER_STRENGTH * pull_out


def yield_strength_of_section(outside: float, inside: float, Yp: float) -> float:
    """Load at which a section of pipe yields, N: ``Yp 0.7854 (outside^2 - inside^2)`` (API Bul 5C3 cl. 4.4).

    It is the joint strength of tubing: with outside D - 2 h for non-upset, with the pipe body for upset.
    """
    return Yp * QUARTER_PI * (outside**2 - inside**2)


def check_geometry(thread: RoundThread) -> None:
    """Refuse a thread that no pipe can have.

    Raises:
        NoAnswer: ``impossible_geometry`` and ``above_tensile_strength``, each with its limit.
    """
    root = thread.D - 2 * thread.h
    faults = []
    if not thread.d < root:
        text = "the inside diameter {value} must be smaller than {limit}, the root of the last perfect thread"
        amounts = _amounts("length", thread.d, root)
        faults.append(Fault("impossible_geometry", text, "pipe_inside_diameter", amounts))
    if not thread.L < thread.D:
        text = "the engaged length {value} must be below the outside diameter {limit}: no thread is that long"
        amounts = _amounts("length", thread.L, thread.D)
        faults.append(Fault("impossible_geometry", text, "engaged_length", amounts))
    if not thread.Yp <= thread.Up:
        text = "the yield strength {value} is above the tensile strength {limit}"
        amounts = _amounts("stress", thread.Yp, thread.Up)
        faults.append(Fault("above_tensile_strength", text, "pipe_yield_strength", amounts))
    if faults:
        raise NoAnswer(faults)


def _amounts(kind: str, value: float, limit: float) -> dict[str, Amount]:
    return {"value": Amount(kind, value), "limit": Amount(kind, limit)}


def make_up(thread: RoundThread) -> RoundThreadMakeUp:
    """Optimum, minimum and maximum make-up torque of a round-thread joint, with the strengths behind them.

    Raises:
        NoAnswer: as `check_geometry`.

    5-1/2 in 17 lb/ft J55 STC is printed as 2290, 1720 and 2860 ft-lb (API RP 5C1 Table 1), its joint
    strength as 229,000 lbf:

    >>> psi, lbf = 6894.757293168362, 4.4482216152605
    >>> thread = RoundThread(5.5 * INCH, 4.892 * INCH, 0.07125 * INCH, 2.171 * INCH, 55000 * psi, 75000 * psi)
    >>> made = make_up(thread)
    >>> round(made.pull_out / lbf, -3)
    229000.0
    >>> printed_torque(made.optimum)
    PrintedTorque(optimum=2290.0, minimum=1720.0, maximum=2860.0)
    """
    check_geometry(thread)
    Ajp = area_under_last_perfect_thread(thread.D, thread.d, thread.h)
    pull_out = pull_out_strength(Ajp, thread.D, thread.L, thread.Yp, thread.Up)
    optimum = torque_from_pull_out(pull_out)
    return RoundThreadMakeUp(
        Ajp=Ajp,
        fracture=fracture_strength(Ajp, thread.Up),
        pull_out=pull_out,
        optimum=optimum,
        minimum=MINIMUM_SHARE * optimum,
        maximum=MAXIMUM_SHARE * optimum,
    )


def printed_torque(optimum: float) -> PrintedTorque:
    """An optimum torque (N.m) as the tables print it, in ft-lb.

    The optimum is rounded to the nearest 10 ft-lb; the ends are shares of the rounded optimum, rounded again;
    halves go up.
    """
    printed = _to_step(optimum / FOOT_POUND)
    return PrintedTorque(printed, _to_step(MINIMUM_SHARE * printed), _to_step(MAXIMUM_SHARE * printed))


def narrower_ends(made_up: RoundThreadMakeUp) -> tuple[float, float]:
    """Minimum and maximum torque, N.m, that keep within the exact and the printed limits.

    7 in 26 lb/ft J55 LTC: 75 % of 3673.6 ft-lb is 2755.2, printed 2750; 125 % is 4592.0, printed 4590.

    >>> optimum = 3673.6 * FOOT_POUND
    >>> ends = narrower_ends(RoundThreadMakeUp(0, 0, 0, optimum, 0.75 * optimum, 1.25 * optimum))
    >>> [round(end / FOOT_POUND, 1) for end in ends]
    [2755.2, 4590.0]
    """
    printed = printed_torque(made_up.optimum)
    lowest, highest = FOOT_POUND * printed.minimum, FOOT_POUND * printed.maximum
    return max(made_up.minimum, lowest), min(made_up.maximum, highest)


def _to_step(torque: float) -> float:
    return PRINTED_STEP * floor(torque / PRINTED_STEP + 0.5)
