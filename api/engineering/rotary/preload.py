"""Preload of a rotary shouldered joint at an applied torque, and what it leaves for tension.

Symbols are those of API RP 7G: ``F0`` preload, ``Ap`` and ``Ab`` pin and box area, ``Ym`` yield strength,
``k`` torque per preload (the arm), ``FF`` factor of the thread compound. SI: m2, m, Pa, N, N.m.

The torque formula is that of Appendix A (read). The equations of combined tension and torque, A.8.3, are
from memory and derived again from statics: pin and box are two springs of equal length side by side, each
as stiff as its area. They are an estimate, without bending and without pressure.
"""

from collections.abc import Collection, Mapping
from dataclasses import dataclass

from api.engineering.checks import Amount, Fault
from api.engineering.rotary.torque import MakeUp

ROUNDING = 1e-9
"""Share by which a bound may seem to be passed by the rounding of units alone."""
EVEN_SO = ", even of the strongest steel taken here"


@dataclass(frozen=True)
class TensionLimits:
    """What tension a joint stands at its preload; N and N.m, None where the pin's yield is not known.

    Attributes:
        Po: tension at which the shoulder separates.
        P1: tension that yields the pin alone.
        contact: tension at which the pin would yield were its shoulder still closed; P1 or less only
            where the pin yields before the shoulder separates.
        T3: applied torque at which separation and pin yield coincide.
        T4: torque that yields the pin once the shoulder has separated.
    """

    Po: float
    P1: float | None
    contact: float | None
    T3: float | None
    T4: float | None


@dataclass(frozen=True)
class TensionState:
    """A joint under tension: force in the pin and left on the shoulder, N; stress of the pin, Pa."""

    pin_force: float
    shoulder_force: float
    pin_stress: float
    separated: bool


def preload_from_torque(torque: float, arm: float, compound_friction_factor: float) -> float:
    """F0, N: ``T / (FF k)`` (API RP 7G App. A turned round; FF by API RP 7A1, which scales the torque).

    Args:
        torque: applied torque, N.m, > 0.
        arm: k, torque per preload, m, > 0.
        compound_friction_factor: FF, > 0. It is divided out: a compound with more friction needs more
            torque for the same preload.

    NC50, 6-1/2 x 2-13/16 in: the printed 29,679 ft-lb (Table 14) on an arm of 0.493990 in gives 62,500 psi
    times the 11.5355 in2 of the box, 720,971 lbf, within the rounding of the print:

    >>> inch, lbf, ftlb = 0.0254, 4.4482216152605, 1.3558179483314004
    >>> round(preload_from_torque(29679 * ftlb, 0.49399 * inch, 1.0) / lbf, -2)
    721000.0
    """
    return torque / (compound_friction_factor * arm)


def torsional_yield(yield_strength: float, area: float, arm: float, compound_friction_factor: float) -> float:
    """T1 (box) or T2 (pin), N.m: applied torque that yields a member, ``FF Ym A k`` (API RP 7G App. A).

    NC50, 6-5/8 x 3-1/4 in, is printed as 51,200 ft-lb (a pipe data sheet, rounded to 100); its pin has
    10.41462 in2 and the arm is 0.491775 in:

    >>> psi, inch, ftlb = 6894.757293168362, 0.0254, 1.3558179483314004
    >>> T2 = torsional_yield(120000 * psi, 10.41462 * inch**2, 0.491775 * inch, 1.0)
    >>> round(T2 / ftlb, -2)
    51200.0
    """
    return compound_friction_factor * yield_strength * area * arm


def separation_tension(preload: float, Ap: float, Ab: float) -> float:
    """Po, N: tension at which no force is left on the shoulder, ``F0 (Ap + Ab) / Ab``.

    API RP 7G A.8.3, from memory; statics: the shoulder loses ``Ab / (Ap + Ab)`` of a tension.

    >>> separation_tension(600.0, 10.0, 15.0)
    1000.0
    """
    return preload * (Ap + Ab) / Ab


def pin_tensile_limit(yield_strength: float, Ap: float) -> float:
    """P1, N: tension that yields the pin by itself, ``Ym Ap`` (API RP 7G A.8.3, from memory).

    The standard is remembered as dividing by 1.1, and is also quoted with a safety factor of one. It is
    not divided here: no margin is in it. Ap is 3/4 in from the shoulder, as for torque.
    """
    return yield_strength * Ap


def contact_yield_tension(yield_strength: float, Ap: float, Ab: float, preload: float) -> float:
    """Tension that yields a pin whose shoulder is still closed, N: ``(Ym Ap - F0) (Ap + Ab) / Ap``.

    API RP 7G A.8.3, from memory; statics: the pin takes ``Ap / (Ap + Ab)`` of a tension. It is more than
    P1, and is not reached, where the shoulder separates before; 0 where the preload alone yields the pin.

    >>> contact_yield_tension(100.0, 10.0, 15.0, 800.0)
    500.0
    """
    return max(0.0, yield_strength * Ap - preload) * (Ap + Ab) / Ap


def torque_of_coincidence(P1: float, Ap: float, Ab: float, arm: float, factor: float) -> float:
    """T3, N.m: applied torque at which ``Po = P1``, ``FF P1 Ab / (Ap + Ab) k`` (A.8.3, from memory).

    Below it the shoulder separates before the pin yields; above it the pin yields first.
    """
    return factor * P1 * Ab / (Ap + Ab) * arm


def torque_after_separation(P1: float, lead_arm: float, thread_arm: float, factor: float) -> float:
    """T4, N.m: torque that yields a pin without its shoulder, ``FF P1 (p/2pi + Rt f/cos(theta))``.

    API RP 7G A.8.3, from memory: no friction is left on the shoulder.
    """
    return factor * P1 * (lead_arm + thread_arm)


def tension_limits(made: MakeUp, preload: float, factor: float, pin_yield: float | None) -> TensionLimits:
    """Every limit of tension of a joint at its preload (API RP 7G A.8.3, from memory)."""
    Po = separation_tension(preload, made.Ap, made.Ab)
    if pin_yield is None:
        return TensionLimits(Po, None, None, None, None)
    P1 = pin_tensile_limit(pin_yield, made.Ap)
    return TensionLimits(
        Po,
        P1,
        contact_yield_tension(pin_yield, made.Ap, made.Ab, preload),
        torque_of_coincidence(P1, made.Ap, made.Ab, made.arm, factor),
        torque_after_separation(P1, made.lead_arm, made.thread_arm, factor),
    )


def pin_yield_tension(yield_strength: float, Ap: float, Ab: float, preload: float) -> float:
    """Tension that yields the pin, N: the lower of P1 and the one in contact.

    The one in contact is the lower exactly where the pin yields before the shoulder separates.

    >>> pin_yield_tension(100.0, 10.0, 15.0, 800.0), pin_yield_tension(100.0, 10.0, 15.0, 300.0)
    (500.0, 1000.0)
    """
    contact = contact_yield_tension(yield_strength, Ap, Ab, preload)
    return min(pin_tensile_limit(yield_strength, Ap), contact)


def under_tension(tension: float, preload: float, Ap: float, Ab: float) -> TensionState:
    """Forces in a joint under tension (N), as long as the pin is elastic.

    Closed: the pin has ``F0 + P Ap / (Ap + Ab)``, the shoulder ``F0 - P Ab / (Ap + Ab)``; the two always
    differ by P. Separated: the pin has P, the shoulder nothing (statics; A.8.3 from memory).

    >>> under_tension(500.0, 600.0, 10.0, 15.0)
    TensionState(pin_force=800.0, shoulder_force=300.0, pin_stress=80.0, separated=False)
    """
    separated = tension >= separation_tension(preload, Ap, Ab) * (1 - ROUNDING)
    pin_force = tension if separated else preload + tension * Ap / (Ap + Ab)
    shoulder_force = 0.0 if separated else preload - tension * Ab / (Ap + Ab)
    return TensionState(pin_force, shoulder_force, pin_force / Ap, separated)


def torque_faults(torque: float, limits: Mapping[str, float], supposed: Collection[str]) -> list[Fault]:
    """A fault for each member (pin, box) whose torsional yield (N.m) an applied torque passes.

    ``supposed``: the members whose yield strength is not known; their limit is that of the strongest steel.
    """
    return [
        Fault(
            "torsional_yield_exceeded",
            f"the applied torque {{torque}} is above {{limit}}, at which the {member} yields"
            f"{EVEN_SO if member in supposed else ''}: the preload is not known then",
            "applied_torque",
            {"torque": Amount("torque", torque), "limit": Amount("torque", limit)},
            f"a lower torque; or {member}_yield_strength, where this {member} has more",
        )
        for member, limit in limits.items()
        if not torque <= limit * (1 + ROUNDING)
    ]


def tension_faults(tension: float, limit: float, supposed: bool) -> list[Fault]:
    """The fault of a tension above that at which the pin yields (N); ``supposed`` as in `torque_faults`."""
    if tension <= limit * (1 + ROUNDING):
        return []
    text = "the tension {tension} is above {limit}, at which the pin yields"
    text += (EVEN_SO if supposed else "") + ": the forces are not known then"
    amounts = {"tension": Amount("force", tension), "limit": Amount("force", limit)}
    accepted = "a lower tension; or pin_yield_strength, where this pin has more"
    return [Fault("pin_yield_exceeded", text, "axial_tension", amounts, accepted)]
