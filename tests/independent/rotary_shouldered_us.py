"""Rotary shouldered connections worked a second time, in US units (in, psi, ft-lb, lbf).

Written from the reference page on the make-up torque formula alone (its sections 1, 2, 4, 5 and 6), in the
order and with the symbols of API RP 7G Appendix A, so that it can be read against the page line by line.
It shares nothing with the program under test: no code, no units, no table. Thread dimensions arrive as plain
numbers.
"""

import math
import random
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import Literal, TypedDict

FRICTION = 0.08  # thread and shoulder, in every table of the standard
SAME_CONE_AS_NC40 = "4 FH"  # an alias in the thread table, not a connection of its own


class MakeUp(TypedDict):
    """What `make_up` works out, in US units."""

    pin_area: float  # in2, 3/4 in from the pin shoulder
    box_area: float  # in2, 3/8 in from the box shoulder
    rt: float  # in, mean radius of the thread
    rs: float  # in, mean radius of the shoulder
    od_equal_area: float  # in, outside diameter at which both areas are equal
    arm: float  # in, p/(2 pi) + Rt f/cos(theta) + Rs f
    torque_ftlb: float
    preload_lbf: float
    weaker: Literal["pin", "box"]


def make_up(
    *,
    tpi: float,
    taper_in_per_ft: float,
    C: float,
    Lpc: float,
    Qc: float,
    H: float,
    Srs: float,
    half_angle_deg: float,
    OD: float,
    ID: float,
    pin_stress: float,
    box_stress: float,
    compound_factor: float,
    capped: bool,
) -> MakeUp:
    """Work out the make-up torque and preload of a joint (sections 1, 4 and 5).

    Qc is the box counterbore, or the low-torque-face counterbore where that face is cut. The weaker member is
    the one with the smaller product of its own stress and its own area. With `capped` the shoulder radius Rs
    is taken no farther out than the diameter of equal areas, whatever the two stresses are. The compound
    factor scales the torque and leaves the preload alone.
    """
    B = 2 * (H / 2 - Srs) + taper_in_per_ft / 96
    E = taper_in_per_ft / 32
    pin_area = math.pi / 4 * ((C - B) ** 2 - ID**2)
    box_area = math.pi / 4 * (OD**2 - (Qc - E) ** 2)
    od_equal_area = math.sqrt((Qc - E) ** 2 + (C - B) ** 2 - ID**2)

    rt = (C + (C - (Lpc - 0.625) * taper_in_per_ft / 12)) / 4
    od_of_shoulder = min(OD, od_equal_area) if capped else OD
    rs = (od_of_shoulder + Qc) / 4

    lead = 1 / tpi
    theta = math.radians(half_angle_deg)
    arm = lead / (2 * math.pi) + rt * FRICTION / math.cos(theta) + rs * FRICTION

    pin_load = pin_stress * pin_area
    box_load = box_stress * box_area
    preload = min(pin_load, box_load)

    return {
        "pin_area": pin_area,
        "box_area": box_area,
        "rt": rt,
        "rs": rs,
        "od_equal_area": od_equal_area,
        "arm": arm,
        "torque_ftlb": compound_factor * preload * arm / 12,
        "preload_lbf": preload,
        "weaker": "pin" if pin_load <= box_load else "box",
    }


def bending_strength_ratio(
    *, taper_in_per_ft: float, C: float, Lpc: float, H: float, Srs: float, OD: float, ID: float
) -> float:
    """Work out the bending strength ratio of a drill collar connection (section 6)."""
    dedendum = H / 2 - Srs
    b = C - taper_in_per_ft * (Lpc - 0.625) / 12 + 2 * dedendum  # box thread root at the end of the pin
    R = C - 2 * dedendum - taper_in_per_ft * (1 / 8) / 12  # pin thread root 3/4 in from the shoulder
    box_modulus = (OD**4 - b**4) / OD
    pin_modulus = (R**4 - ID**4) / R
    return box_modulus / pin_modulus


@dataclass(frozen=True)
class Thread:
    """The thread dimensions that the formulas need, named as in the formulas, in inches and degrees."""

    tpi: float
    taper_in_per_ft: float
    C: float
    Lpc: float
    Qc: float
    H: float
    Srs: float
    half_angle_deg: float


def thread_from_row(row: Mapping[str, str], *, low_torque_face: bool = False) -> Thread:
    """Take the thread dimensions out of one row of the thread table (its column names, its text values)."""
    counterbore = "low_torque_face_counterbore_in" if low_torque_face else "box_counterbore_Qc_in"
    return Thread(
        tpi=float(row["tpi"]),
        taper_in_per_ft=float(row["taper_in_per_ft"]),
        C=float(row["pitch_dia_C_in"]),
        Lpc=float(row["pin_length_LPC_in"]),
        Qc=float(row[counterbore]),
        H=float(row["thread_height_H_in"]),
        Srs=float(row["root_truncation_Srs_in"]),
        half_angle_deg=float(row["half_angle_deg"]),
    )


@dataclass(frozen=True)
class Joint:
    """One joint to work out. `low_torque_face` is None where the connection offers no such face."""

    connection: str
    low_torque_face: bool | None
    thread: Thread
    OD: float
    ID: float
    pin_stress: float
    box_stress: float
    compound_factor: float
    capped: bool

    def make_up(self) -> MakeUp:
        """Work out this joint by `make_up`."""
        return make_up(
            **asdict(self.thread),
            OD=self.OD,
            ID=self.ID,
            pin_stress=self.pin_stress,
            box_stress=self.box_stress,
            compound_factor=self.compound_factor,
            capped=self.capped,
        )

    def bending_strength_ratio(self) -> float:
        """Work out this joint by `bending_strength_ratio`."""
        thread = self.thread
        return bending_strength_ratio(
            taper_in_per_ft=thread.taper_in_per_ft,
            C=thread.C,
            Lpc=thread.Lpc,
            H=thread.H,
            Srs=thread.Srs,
            OD=self.OD,
            ID=self.ID,
        )


def random_joints(
    count: int, seed: int, rows: Sequence[Mapping[str, str]], *, largest_bore_fraction: float = 0.95
) -> Iterator[Joint]:
    """Yield `count` random joints with a box and a pin left to carry load, the same ones for the same seed.

    The box is 1.01 to 1.6 times its counterbore, the bore between 0.3 in and `largest_bore_fraction` of the
    pin thread root diameter C - B. Every other joint has its own stress level in each member. All values are
    rounded to few decimals, so that they survive being written out as text.
    """
    chance = random.Random(seed)
    connections = [row for row in rows if row["connection"] != SAME_CONE_AS_NC40]
    for number in range(count):
        row = chance.choice(connections)
        has_low_torque_face = bool(row["low_torque_face_counterbore_in"])
        low_torque_face = chance.random() < 0.5 if has_low_torque_face else None
        thread = thread_from_row(row, low_torque_face=bool(low_torque_face))

        B = 2 * (thread.H / 2 - thread.Srs) + thread.taper_in_per_ft / 96
        pin_stress = round(chance.uniform(40_000, 120_000), 1)
        box_stress = round(chance.uniform(40_000, 120_000), 1) if number % 2 else pin_stress
        yield Joint(
            connection=row["connection"],
            low_torque_face=low_torque_face,
            thread=thread,
            OD=round(chance.uniform(1.01, 1.6) * thread.Qc, 4),
            ID=round(chance.uniform(0.3, largest_bore_fraction * (thread.C - B)), 4),
            pin_stress=pin_stress,
            box_stress=box_stress,
            compound_factor=round(chance.uniform(0.8, 1.25), 3),
            capped=chance.random() < 0.5,
        )
