"""The published forms of the torque of a bolt: what each asks for, its friction, its bearing face.

`api_6a` is from memory, although its formula gives every printed value: nobody here has read it. The
bearing face is assumed, whole, for VDI 2230 on M6 to M36 alone, and listed.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from api.engineering.bolts.thread import BoltThread
from api.engineering.bolts.torque import (
    TorqueArms,
    arms_by_api_6a,
    arms_by_exact_helix,
    arms_by_iso_16047,
    arms_by_vdi_2230,
    arms_from_nut_factor,
    bearing_diameter_of_uniform_pressure,
    heavy_hex_face,
    mean_bearing_diameter,
    nut_factor_from_friction,
)
from api.engineering.checks import Amount, Fault, Finding, NoAnswer, refuse
from api.engineering.provenance import Assumption, Source
from api.reference.bolt_friction import HEXAGON_HEADS, NUT_FACTORS, Bearing
from api.reference.bolt_threads import METRIC, UNIFIED, CatalogueThread
from schemas.bolts.request import BoltAsGiven
from schemas.core.units import unit_named

OUTSIDE, HOLE = FACE = "bearing_outside_diameter", "bearing_hole_diameter"

WIDEST = 4.0
"""Outside diameter of a bearing face over the nominal diameter, above which it is a slip (own judgement)."""

JUST_ABOVE = 1 + 1e-9
"""A size that is off its limit by less than this is at it: the same size in another unit."""


@dataclass(frozen=True)
class Face:
    """A bearing face, m, and what of it was assumed."""

    outside: float
    hole: float
    sources: tuple[Source, ...] = ()
    assumptions: tuple[Assumption, ...] = ()


def face_of(values: Mapping[str, Any], thread: CatalogueThread) -> Face:
    """The face of a request; where it gives neither diameter, that of VDI 2230, if that is held.

    Raises:
        NoAnswer: ``coefficient_required`` for each that is not held, ``impossible_geometry``.
    """
    usual = _usual(values, thread)
    if usual is None:
        face = Face(values[OUTSIDE], values[HOLE])
    else:
        assumed = (_assumed(OUTSIDE, usual.outside, usual), _assumed(HOLE, usual.hole, usual))
        face = Face(usual.outside, usual.hole, (usual.source,), assumed)
    _check(face, thread.geometry.d)
    return face


def _usual(values: Mapping[str, Any], thread: CatalogueThread) -> Bearing | None:
    """The face of VDI 2230 where the request gives neither diameter; None where it gives both."""
    missing = [name for name in FACE if values.get(name) is None]
    if not missing:
        return None
    face = HEXAGON_HEADS.get(thread.geometry.d) if thread.system == METRIC else None
    if face is None or len(missing) == 1:
        held = f"Dialset has no usual bearing face for {thread.designation}"
        if len(missing) == 1:
            held = "only one diameter of the bearing face is given: give both"
        accepted = "the diameter of the face under the head or nut that is turned, such as 28 mm"
        raise NoAnswer([Fault("coefficient_required", held, name, accepted=accepted) for name in missing])
    return face


def _assumed(name: str, size: float, usual: Bearing) -> Assumption:
    reason = f"not given; hexagon head as in the tables of VDI 2230: {usual.source.source}"
    return Assumption(name, f"{unit_named('mm').from_si(size):.10g} mm", reason)


def _check(face: Face, d: float) -> None:
    least, most = d / JUST_ABOVE, WIDEST * d * JUST_ABOVE
    if not least <= face.hole < face.outside <= most:
        raise refuse(
            "impossible_geometry",
            "a bearing face lies between a hole that is not smaller than the bolt, {d}, and an outside "
            f"diameter of at most {WIDEST:g} times that; here they are {{hole}} and {{outside}}",
            OUTSIDE if least <= face.hole else HOLE,
            d=Amount("length", d),
            hole=Amount("length", face.hole),
            outside=Amount("length", face.outside),
        )


FRICTION = ("thread_friction", "bearing_friction")
TAKES = {
    "nut_factor": ("nut_factor",),
    "exact_helix": (*FRICTION, *FACE),
    "simplified_helix": (*FRICTION, *FACE),
    "rounded_helix": (*FRICTION, *FACE),
    "heavy_hex_nut": ("thread_friction",),
}
"""The coefficients of each method; each is needed, and no other is taken."""
COEFFICIENTS = ("nut_factor", *FRICTION, *FACE)
ACCEPTED = {name: str(getattr(BoltAsGiven().fields[name], "accepted", "")) for name in COEFFICIENTS}

FORMULA = {
    "nut_factor": Source("T = K d F", "read", "Shigley, Mechanical Engineering Design, Eq. 8-27"),
    "exact_helix": Source("torque by the exact helix", "read", "Shigley, Eq. 8-26; ASME PCC-1 App. J"),
    "simplified_helix": Source("torque by the simplified form", "reprint", "ISO 16047; ASME PCC-1 App. J"),
    "rounded_helix": Source(
        "torque with rounded coefficients", "reprint", "VDI 2230 (2001); it gives its tables"
    ),
    "heavy_hex_nut": Source(
        "torque of flange bolts",
        "from memory",
        "API 6A (ISO 10423:2003), informative annex; its formula reproduces every value seen of its table",
    ),
}

STATED_K = Source("nut factor", "stated", "the caller")
STATED_FRICTION = Source("coefficients of friction", "stated", "the caller")

_BY_FACE: dict[str, Callable[[BoltThread, float, float, float], TorqueArms]] = {
    "exact_helix": arms_by_exact_helix,
    "simplified_helix": arms_by_iso_16047,
    "rounded_helix": arms_by_vdi_2230,
}

API_6A_COARSE = ("1/2-13 UNC", "5/8-11 UNC", "3/4-10 UNC", "7/8-9 UNC")
"""The threads of the table of API 6A below 1 in; from there on it has 8 threads per inch."""
API_6A_FRICTION = (0.07, 0.13)


@dataclass(frozen=True)
class Method:
    """Torque and preload of one bolt.

    Attributes:
        name: of the method.
        arms: torque per preload and its parts.
        jis_nut_factor: K by JIS B 1083 from the same friction and face; None for a nut factor.
        bearing_diameter: mean diameter of the bearing face, m; None for a nut factor.
        sources: of formula and face.
        assumptions: of the face.
        findings: of the method.
    """

    name: str
    arms: TorqueArms
    jis_nut_factor: float | None
    bearing_diameter: float | None
    sources: tuple[Source, ...]
    assumptions: tuple[Assumption, ...] = ()
    findings: tuple[Finding, ...] = ()


def method_faults(values: Mapping[str, Any]) -> Iterator[Fault]:
    """Coefficients that the method needs and does not have, or does not take."""
    method = values["method"]
    for name in COEFFICIENTS:
        given, taken = values.get(name) is not None, name in TAKES[method]
        if given and not taken:
            text = f"method {method} does not use this: leave it out"
            accepted = f"with {method}: {', '.join(TAKES[method])}"
            yield Fault("coefficient_not_taken", text, name, accepted=accepted)
        if taken and not given and not (method == "rounded_helix" and name in FACE):
            text = f"method {method} needs this; Dialset assumes none"
            yield Fault("coefficient_required", text, name, accepted=ACCEPTED[name])


def method_of(values: Mapping[str, Any], thread: CatalogueThread) -> Method:
    """The method of a request that has its coefficients.

    Raises:
        NoAnswer: ``thread_not_of_method``, ``impossible_geometry``, or ``coefficient_required`` where the
            face of a bolt of VDI 2230 is not held.
    """
    if values["method"] == "nut_factor":
        return _by_nut_factor(values["nut_factor"], thread)
    if values["method"] == "heavy_hex_nut":
        return _by_api_6a(values["thread_friction"], thread)
    return _by_face(values, thread)


def _by_nut_factor(K: float, thread: CatalogueThread) -> Method:
    arms = arms_from_nut_factor(thread.geometry, K)
    findings = tuple(_unusual_nut_factor(K))
    return Method("nut_factor", arms, None, None, (FORMULA["nut_factor"], STATED_K), (), findings)


def _unusual_nut_factor(K: float) -> Iterator[Finding]:
    low, high = min(each.low for each in NUT_FACTORS), max(each.high for each in NUT_FACTORS)
    if not low <= K <= high:
        yield Finding(
            level="look",
            code="nut_factor_not_published",
            text=f"The nut factor {K:.10g} is outside {low} to {high}, the range of all published ones.",
            remedy="Check it against a measurement with this lubricant and finish.",
            step="dope_and_mark",
            value=Amount("number", K),
            limit=Amount("number", low if low > K else high),
        )


def _by_api_6a(f: float, thread: CatalogueThread) -> Method:
    _check_api_6a(thread)
    geometry = thread.geometry
    face = heavy_hex_face(geometry.d)
    mean = mean_bearing_diameter(*face)
    jis = nut_factor_from_friction(geometry, f, f, bearing_diameter_of_uniform_pressure(*face))
    return Method(
        "heavy_hex_nut",
        arms_by_api_6a(geometry, f),
        jis,
        mean,
        (FORMULA["heavy_hex_nut"], STATED_FRICTION),
        (),
        tuple(_unprinted_friction(f)),
    )


def _unprinted_friction(f: float) -> Iterator[Finding]:
    if f not in API_6A_FRICTION:
        yield Finding(
            level="note",
            code="friction_not_printed",
            text=f"API 6A prints torques for friction 0.13 and 0.07. This is its formula at {f:.10g}.",
            step="dope_and_mark",
            value=Amount("number", f),
        )


def _check_api_6a(thread: CatalogueThread) -> None:
    eight = thread.system == UNIFIED and thread.step == 8
    if not (eight or thread.designation in API_6A_COARSE):
        raise refuse(
            "thread_not_of_method",
            f"API 6A gives flange-bolt torques for its own threads only, not for {thread.designation}",
            "thread",
            f"{', '.join(API_6A_COARSE)}, and 8UN from 1 in; or another method",
        )


def _by_face(values: Mapping[str, Any], thread: CatalogueThread) -> Method:
    name, geometry, face = values["method"], thread.geometry, face_of(values, thread)
    mu_t, mu_b = values["thread_friction"], values["bearing_friction"]
    mean = mean_bearing_diameter(face.outside, face.hole)
    arms = _BY_FACE[name](geometry, mu_t, mu_b, mean)
    uniform = bearing_diameter_of_uniform_pressure(face.outside, face.hole)
    jis = nut_factor_from_friction(geometry, mu_t, mu_b, uniform)
    return Method(name, arms, jis, mean, (FORMULA[name], STATED_FRICTION, *face.sources), face.assumptions)
