"""The bearing face under the head or nut that is turned: as given, or that of the tables of VDI 2230."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from api.engineering.faults import Amount, Fault, NoAnswer, refuse
from api.engineering.provenance import Assumption, Source
from api.reference.bolt_bearing import HEXAGON_HEADS, Bearing
from api.reference.bolt_threads import METRIC, CatalogueThread
from schemas.units import unit_named

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
        held = f"no usual bearing face is held for {thread.designation}"
        if len(missing) == 1:
            held = "one diameter of the bearing face is given, and no half of it is assumed"
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
