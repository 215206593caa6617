"""Make-up torque of rotary shouldered connections by API RP 7G, Appendix A.

Symbols are the standard's: ``C`` pitch diameter at the gauge point, ``Qc`` box counterbore, ``Rt`` and
``Rs`` mean thread and shoulder radius, ``S`` stress level. Everything is in SI: m, m2, Pa, N, N.m, rad.

Rs is capped where the areas of pin and box are equal, as the formula is printed, also for mates of two
stress levels. With a box of a higher stress level the pin governs a little before that diameter, and Rs
still grows up to it.
"""

from dataclasses import dataclass
from math import cos, pi, sqrt

from api.engineering.checks import Amount, Fault, NoAnswer
from api.engineering.rotary.sizes import (
    GAUGE_POINT,
    INCH,
    PIN_SECTION_BEYOND_GAUGE_POINT,
    ThreadGeometry,
    pin_nose_diameter,
)

FRICTION = 0.08
"""Coefficient of friction of thread and shoulder in all the tables of API RP 7G."""

BOX_SECTION = 0.375 * INCH
"""The box area is taken 3/8 in from the box shoulder (API RP 7G App. A)."""


LARGEST_DIAMETER = 3.0
"""Box outside diameter over counterbore beyond which a dimension is a slip (own judgement; print: 1.35)."""


@dataclass(frozen=True)
class MakeUp:
    """A make-up and every intermediate of it, named as in the standard; SI."""

    B: float
    E: float
    Ap: float
    Ab: float
    Rt: float
    OD_equal: float
    OD_shoulder: float
    Rs: float
    lead_arm: float
    thread_arm: float
    shoulder_arm: float
    arm: float
    pin_force: float
    box_force: float
    preload: float
    reference_torque: float
    torque: float
    weaker_member: str


def pin_thread_loss(thread: ThreadGeometry) -> float:
    """B, what the thread takes from C at the pin section: ``B = 2 (H/2 - Srs) + tpr/96``, m (App. A)."""
    depth = thread.thread_height / 2 - thread.root_truncation
    return 2 * depth + thread.taper * PIN_SECTION_BEYOND_GAUGE_POINT


def box_taper_gain(thread: ThreadGeometry) -> float:
    """E, by which the box bore is below Qc at the box section: ``E = tpr/32``, m (App. A)."""
    return thread.taper * BOX_SECTION


def pin_area(thread: ThreadGeometry, bore: float) -> float:
    """Ap, pin section 3/4 in from the shoulder: ``pi/4 ((C - B)^2 - ID^2)``, m2 (App. A)."""
    return pi / 4 * ((thread.pitch_diameter - pin_thread_loss(thread)) ** 2 - bore**2)


def box_area(thread: ThreadGeometry, outside_diameter: float) -> float:
    """Ab, box section 3/8 in from the shoulder: ``pi/4 (OD^2 - (Qc - E)^2)``, m2 (App. A)."""
    return pi / 4 * (outside_diameter**2 - (thread.counterbore - box_taper_gain(thread)) ** 2)


def mean_thread_radius(thread: ThreadGeometry) -> float:
    """Rt, m: ``[C + C - (Lpc - 5/8 in) tpr] / 4`` (App. A)."""
    far = thread.pitch_diameter - (thread.pin_length - GAUGE_POINT) * thread.taper
    return (thread.pitch_diameter + far) / 4


def mean_shoulder_radius(thread: ThreadGeometry, outside_diameter: float) -> float:
    """Rs, m: ``(OD + Qc) / 4`` (App. A)."""
    return (outside_diameter + thread.counterbore) / 4


def outside_diameter_of_equal_areas(thread: ThreadGeometry, bore: float) -> float:
    """The box outside diameter at which pin and box areas are equal, m.

    ``sqrt((Qc - E)^2 + (C - B)^2 - ID^2)``, from Ap = Ab. Beyond it API RP 7G lets Rs grow no further.
    """
    box_bore = thread.counterbore - box_taper_gain(thread)
    pin_root = thread.pitch_diameter - pin_thread_loss(thread)
    return sqrt(box_bore**2 + pin_root**2 - bore**2)


def check_geometry(thread: ThreadGeometry, outside_diameter: float, bore: float) -> None:
    """Refuse a joint that has no shoulder or no pin wall.

    Raises:
        NoAnswer: ``impossible_geometry`` for each dimension at fault, with its limit.
    """
    faults = []
    largest = LARGEST_DIAMETER * thread.counterbore
    if outside_diameter > largest:
        faults.append(
            Fault(
                "impossible_geometry",
                "the box outside diameter {value} is more than three times the counterbore, {limit}: no box "
                "of this connection is that large",
                "box_outside_diameter",
                {"value": Amount("length", outside_diameter), "limit": Amount("length", largest)},
            )
        )
    if not outside_diameter > thread.counterbore:
        faults.append(
            Fault(
                "impossible_geometry",
                "the box outside diameter {value} must be larger than the counterbore {limit}: "
                "otherwise no shoulder is left",
                "box_outside_diameter",
                {
                    "value": Amount("length", outside_diameter),
                    "limit": Amount("length", thread.counterbore),
                },
            )
        )
    nose = pin_nose_diameter(thread)
    if not bore < nose:
        faults.append(
            Fault(
                "impossible_geometry",
                "the pin bore {value} must be smaller than {limit}, the diameter of the pin nose: otherwise "
                "no metal is left there",
                "pin_bore",
                {"value": Amount("length", bore), "limit": Amount("length", nose)},
            )
        )
    if faults:
        raise NoAnswer(faults)


def make_up(
    thread: ThreadGeometry,
    outside_diameter: float,
    bore: float,
    pin_stress: float,
    box_stress: float,
    compound_friction_factor: float = 1.0,
    cap_shoulder_radius: bool = True,
) -> MakeUp:
    """Make-up torque and preload at given stress levels (API RP 7G, Appendix A).

    ``T = FF S A (p/2pi + Rt f/cos(theta) + Rs f)``, with ``S A`` the lower of pin and box.

    Args:
        thread: the connection, with the counterbore of its low torque face if that is cut.
        outside_diameter: actual (worn) box OD, not the bevel diameter, m; larger than the counterbore.
        bore: actual pin bore, m; smaller than the pin nose.
        pin_stress: stress level of the pin, Pa, > 0.
        box_stress: stress level of the box, Pa, > 0.
        compound_friction_factor: API RP 7A1 factor of the thread compound; scales the torque, not the
            preload.
        cap_shoulder_radius: Rs stops growing at the OD of equal areas (Addendum 1, 2003, and all
            drill-collar tables); False reproduces the tool-joint table printed before.

    Raises:
        NoAnswer: ``impossible_geometry``.

    NC50, 6-1/2 x 2-13/16 in at 62,500 psi is printed as 29,679 ft-lb (Table 14, errata May 2000):

    >>> nc50 = ThreadGeometry(0.25 * INCH, 1 / 6, 5.0417 * INCH, 4.5 * INCH, 5.3125 * INCH,
    ...                       0.216005 * INCH, 0.038 * INCH, pi / 6)
    >>> psi, ftlb = 6894.757293168362, 1.3558179483314004
    >>> joint = make_up(nc50, 6.5 * INCH, 2.8125 * INCH, 62500 * psi, 62500 * psi)
    >>> round(joint.torque / ftlb), joint.weaker_member
    (29679, 'box')
    """
    check_geometry(thread, outside_diameter, bore)
    Ap = pin_area(thread, bore)
    Ab = box_area(thread, outside_diameter)
    Rt = mean_thread_radius(thread)
    OD_equal = outside_diameter_of_equal_areas(thread, bore)
    OD_shoulder = min(outside_diameter, OD_equal) if cap_shoulder_radius else outside_diameter
    Rs = mean_shoulder_radius(thread, OD_shoulder)
    lead_arm = thread.lead / (2 * pi)
    thread_arm = Rt * FRICTION / cos(thread.half_angle)
    shoulder_arm = Rs * FRICTION
    arm = lead_arm + thread_arm + shoulder_arm
    pin_force, box_force = pin_stress * Ap, box_stress * Ab
    preload = min(pin_force, box_force)
    return MakeUp(
        B=pin_thread_loss(thread),
        E=box_taper_gain(thread),
        Ap=Ap,
        Ab=Ab,
        Rt=Rt,
        OD_equal=OD_equal,
        OD_shoulder=OD_shoulder,
        Rs=Rs,
        lead_arm=lead_arm,
        thread_arm=thread_arm,
        shoulder_arm=shoulder_arm,
        arm=arm,
        pin_force=pin_force,
        box_force=box_force,
        preload=preload,
        reference_torque=preload * arm,
        torque=compound_friction_factor * preload * arm,
        weaker_member="pin" if pin_force < box_force else "box",
    )
