"""Preload, yield and tension of a rotary shouldered joint a second time, in US units (in, psi, ft-lb, lbf).

Written from the reference page alone (sections 1, 4 and 5). Tension is not taken from its equations but from
two springs side by side: pin and shoulder stretch alike until the shoulder is free.
"""

from dataclasses import dataclass

from rotary_shouldered_us import Joint


@dataclass(frozen=True)
class Springs:
    """A joint at its preload, with the stiffness of pin and box per unit of length over Young's modulus."""

    pin_area: float
    box_area: float
    preload: float

    def stretch_at(self, tension: float) -> float:
        """The stretch (times Young's modulus over length) that a tension adds while in contact."""
        return tension / (self.pin_area + self.box_area)

    def pin_force(self, tension: float) -> float:
        grown = self.preload + self.pin_area * self.stretch_at(tension)
        return grown if self.shoulder_force(tension) > 0 else tension

    def shoulder_force(self, tension: float) -> float:
        return max(0.0, self.preload - self.box_area * self.stretch_at(tension))

    def separation(self) -> float:
        """The tension at which the stretch has taken the whole squeeze of the box."""
        squeeze = self.preload / self.box_area
        return squeeze * (self.pin_area + self.box_area)

    def first_yield(self, yield_strength: float) -> float:
        """The tension that yields the pin, by halving: the force in the pin never falls with tension."""
        low, high = 0.0, yield_strength * self.pin_area
        for _ in range(200):
            middle = (low + high) / 2
            if self.pin_force(middle) < yield_strength * self.pin_area:
                low = middle
            else:
                high = middle
        return low


def springs_of(joint: Joint, torque_ftlb: float) -> Springs:
    """A joint at an applied torque: the compound factor is divided out of it."""
    made = joint.make_up()
    return Springs(made["pin_area"], made["box_area"], 12 * torque_ftlb / joint.compound_factor / made["arm"])


def arm_without_shoulder(joint: Joint) -> float:
    """p/(2 pi) + Rt f/cos(theta): the whole arm less that of the shoulder, in."""
    made = joint.make_up()
    return made["arm"] - 0.08 * made["rs"]
