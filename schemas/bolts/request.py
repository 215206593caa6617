"""A bolted joint: what must be known of it to know its torque, or its preload."""

from collections.abc import Callable, Mapping
from typing import Any

from marshmallow import ValidationError

from schemas.core.faults import fault
from schemas.core.fields import LEFT_OUT, Choice, Number, Request, Text
from schemas.core.quantity import read_quantity
from schemas.core.quantity_fields import Quantity

METHODS = ("nut_factor", "exact_helix", "simplified_helix", "rounded_helix", "heavy_hex_nut")
TIGHTENING_METHODS = (
    "by_feel", "torque_wrench", "torque_wrench_unlubricated", "torque_wrench_cadmium_plated",
    "torque_wrench_lubricated", "torque_wrench_known_friction", "torque_wrench_estimated_friction",
    "power_driver", "impact_wrench", "turn_of_nut", "yield_sensing_wrench", "yield_or_angle_controlled",
    "preload_indicating_washer", "bolt_elongation", "ultrasonic", "strain_gauge", "instrumented_bolt",
    "hydraulic_tensioner",
)  # fmt: skip
BOLT_ENDS = (
    "grip_only", "hexagon_bolt_and_nut", "hexagon_bolt_in_tapped_hole", "socket_screw_and_nut",
    "socket_screw_in_tapped_hole", "stud_and_two_nuts",
)  # fmt: skip

LEAST_SHARE = 0.001
"""Least share of a strength that is no slip (own judgement)."""


class _Coefficient(Number):
    """A coefficient that looks like another where it lies outside its range."""

    code = ""
    words = ""

    def outside(self, number: float) -> ValidationError:
        """What it looks like, where that is known."""
        if not 0 <= number <= 1000:
            return super().outside(number)
        return fault(self.code, f"{number:.10g} {self.words}", self.accepted)


class Friction(_Coefficient):
    """Coefficient of friction; a nut factor or a percentage is none."""

    code = "implausible_friction"
    words = (
        "is no coefficient of friction of a bolt. The friction factor marked on a compound's container, "
        "about 1, is relative to a reference compound; a percentage must be divided by 100; a nut factor K "
        "goes with method=nut_factor"
    )

    def __init__(self, **options: Any) -> None:
        super().__init__(0.02, 0.6, **options)
        self.accepted += "; 0.08 to 0.20 is usual with a lubricant"


class NutFactor(_Coefficient):
    """Nut factor K of the short form; a coefficient of friction is smaller by about 0.04."""

    code = "implausible_nut_factor"
    words = (
        "is no nut factor. K holds all friction and the pitch, and is published from 0.09 to 0.55; a "
        "coefficient of friction is smaller and goes with another method; a compound's friction factor, "
        "about 1, is relative to a reference compound"
    )

    def __init__(self, **options: Any) -> None:
        super().__init__(0.07, 0.6, **options)
        self.accepted += "; published figures stand at /v1/nut-factors and are never assumed"


class BoltAsGiven(Request):
    """Thread, strength and friction of a bolt."""

    thread = Text(
        40,
        required=True,
        metadata={
            "description": "Designation, listed at /v1/threads: M20, M20x1.5, 3/4-16 UNF, 1-1/2-8 UN.",
            "example": "3/4-10 UNC",
        },
    )
    bolt_grade = Text(
        40,
        metadata={
            "description": "Grade of the bolt: 8.8, SAE 5, B7, L7M; see /v1/grades. Or bolt_yield_strength.",
            "example": "B7",
        },
    )
    bolt_yield_strength = Quantity(
        "stress",
        limits=("100 MPa", "2000 MPa"),
        metadata={"description": "Minimum yield strength, in the place of a grade."},
    )
    bolt_proof_stress = Quantity(
        "stress",
        limits=("100 MPa", "2000 MPa"),
        metadata={"description": "Proof stress, together with bolt_yield_strength; needed for its share."},
    )
    method = Choice(
        METHODS,
        required=True,
        metadata={
            "description": "How torque follows from preload. nut_factor: T = K d F, needs nut_factor. "
            "exact_helix; simplified_helix: ISO 16047; rounded_helix: coefficients of VDI 2230; these need "
            "both frictions and the bearing face. heavy_hex_nut: flange bolts of API 6A, needs "
            "thread_friction alone. A coefficient that a method does not take is refused.",
            "example": "nut_factor",
        },
    )
    nut_factor = NutFactor(metadata={"description": "K of T = K d F, measured or agreed. Never assumed."})
    thread_friction = Friction(
        metadata={
            "description": "Coefficient of friction in the thread; of heavy_hex_nut in thread and nut face: "
            "0.13 bare and lubricated, 0.07 coated with fluoropolymer."
        }
    )
    bearing_friction = Friction(
        metadata={"description": "Coefficient of friction under the head or nut that is turned."}
    )
    bearing_outside_diameter = Quantity(
        "length",
        limits=("4 mm", "500 mm"),
        metadata={
            "description": "Outside diameter of the face under the head or nut that is turned. With "
            "rounded_helix that of a metric hexagon head if left out."
        },
    )
    bearing_hole_diameter = Quantity(
        "length",
        limits=("4 mm", "500 mm"),
        metadata={
            "description": "Inner diameter of that face, usually the hole. With rounded_helix that of ISO "
            "273, medium series, if left out."
        },
    )
    tightening_method = Choice(
        TIGHTENING_METHODS,
        metadata={
            "description": "Way of tightening, for the published scatter of the preload. Of several "
            "figures the largest is used; scatter.source has whose it is."
        },
    )


class BoltJoint(BoltAsGiven):
    """A bolt and how far it is to be tightened: exactly one of the four ways to say so."""

    preload = Quantity(
        "force",
        metadata={"description": "Preload wanted.", "example": "17559 lbf"},
    )
    bolt_stress = Quantity(
        "stress",
        limits=("1 MPa", "2000 MPa"),
        metadata={"description": "Tension wanted on the stress area."},
    )
    proof_share = Number(
        LEAST_SHARE,
        1,
        metadata={"description": "Tension as a share of the proof stress; not for grades without one."},
    )
    yield_share = Number(
        LEAST_SHARE,
        1,
        exclude_high=True,
        metadata={"description": "Tension as a share of the yield strength: 0.5 for flange bolts of API 6A."},
    )


def _with_grip(usual: Any) -> Callable[[Mapping[str, Any]], Any]:
    """What is usual of a stretch, for which the grip must be given."""
    return lambda values: usual if "grip_length" in values else None


class BoltStretch(Request):
    """How long a bolt is between its faces, for its stretch."""

    grip_length = Quantity(
        "length",
        limits=("1 mm", "10 m"),
        metadata={"description": "Length between the faces of head and nut: gives elongation and angle."},
    )
    unthreaded_length = Quantity(
        "length",
        limits=("0.1 mm", "10 m"),
        zero=True,
        metadata={
            "description": "Part of the grip without thread, of nominal diameter. 0 if left out.",
            LEFT_OUT: _with_grip(0.0),
        },
    )
    bolt_ends = Choice(
        BOLT_ENDS,
        metadata={
            "description": "What head, nut and engaged thread add to the stretch (VDI 2230, from memory). "
            "grip_only, nothing, if left out.",
            LEFT_OUT: _with_grip("grip_only"),
        },
    )
    bolt_modulus = Quantity(
        "stress",
        limits=("50000 MPa", "300000 MPa"),
        metadata={
            "description": "Modulus of elasticity. 30,000 ksi, steel, if left out.",
            LEFT_OUT: _with_grip(read_quantity("30000 ksi", "stress").si),
        },
    )


class BoltService(Request):
    """An external load that pulls the joint apart once it is made up."""

    external_load = Quantity(
        "force",
        metadata={"description": "Load on this bolt along its axis, for its force and stress in service."},
    )
    bolt_load_share = Number(
        0.001,
        0.999,
        metadata={
            "description": "Share of the external load that the bolt takes: bolt stiffness over that of "
            "bolt and clamped parts together. Never assumed."
        },
    )
    stiffness_ratio = Number(
        0.001,
        1000,
        metadata={
            "description": "Stiffness of the clamped parts over that of the bolt, in place of "
            "bolt_load_share."
        },
    )


class BoltPreloadRequest(BoltService, BoltStretch, BoltAsGiven):
    """A bolt and the torque that was applied to it."""

    applied_torque = Quantity(
        "torque",
        required=True,
        metadata={"description": "Torque at the turned head or nut.", "example": "200 ft-lb"},
    )
