"""The thread of a rotary shouldered connection as its torque needs it (API Spec 7-2; ISO 10424-2)."""

from dataclasses import dataclass

INCH = 0.0254

GAUGE_POINT = 0.625 * INCH
"""Distance of the gauge point, where C is measured, from the pin shoulder (API Spec 7-2)."""


@dataclass(frozen=True)
class ThreadGeometry:
    """The dimensions of a connection that enter its torque, SI (API Spec 7-2; ISO 10424-2).

    Attributes:
        lead: axial advance in one turn, m.
        taper: change of diameter per length, m/m (1/6, 1/4 or 1/8 for 2, 3 and 1.5 in/ft).
        pitch_diameter: C, at the gauge point 5/8 in from the shoulder, m.
        pin_length: Lpc, m.
        counterbore: Qc, box counterbore, an exact 1/64 in, m; that of the low torque face where one is cut.
        thread_height: H, of the sharp thread, m.
        root_truncation: Srs, m.
        half_angle: half of the thread angle, rad (30 deg V-forms, 45 deg 90-V-0.050).
        nose_diameter: DS, over the crests at the pin nose, m; None where it is not held.
    """

    lead: float
    taper: float
    pitch_diameter: float
    pin_length: float
    counterbore: float
    thread_height: float
    root_truncation: float
    half_angle: float
    nose_diameter: float | None = None


def pin_nose_diameter(thread: ThreadGeometry) -> float:
    """Largest diameter of the pin at its small end, m: DS, else that of the thread not truncated.

    ``C - tpr (Lpc - 5/8 in) + H``, which is a little more than DS.
    """
    if thread.nose_diameter is not None:
        return thread.nose_diameter
    nose_pitch = thread.pitch_diameter - thread.taper * (thread.pin_length - GAUGE_POINT)
    return nose_pitch + thread.thread_height


def pin_nose_root_diameter(thread: ThreadGeometry) -> float:
    """Thread root diameter at the small end of the pin, m: ``C - tpr (Lpc - 5/8 in) - 2 (H/2 - Srs)``."""
    depth = thread.thread_height / 2 - thread.root_truncation
    return thread.pitch_diameter - thread.taper * (thread.pin_length - GAUGE_POINT) - 2 * depth
