"""What the listings of bolt threads and of grades show, by their filters; SI."""

from collections.abc import Iterator, Mapping
from typing import Any

from api.engineering.checks import refuse
from api.reference.bolt_grades import GRADES
from api.reference.bolt_threads import METRIC, THREADS, UNIFIED, CatalogueThread
from api.reference.pipe_grades import pipe_grade_entries

_NOT_OF_PIPE = dict.fromkeys(
    ("standard", "sizes", "size_over", "size_from", "size_through", "proof_stress")
) | {"editions": ""}
_USED_FOR = {METRIC: "metric threads", UNIFIED: "inch threads"}


def threads_listed(filters: Mapping[str, Any]) -> list[dict[str, Any]]:
    """The bolt threads of a system, a series or a status."""
    entries = (_thread(each) for each in THREADS)
    return [each for each in entries if _passes(each, filters, ("system", "series", "status"))]


def grades_listed(filters: Mapping[str, Any]) -> list[dict[str, Any]]:
    """The grades of bolts and pipe of a product, a standard or a status.

    Raises:
        NoAnswer: ``not_a_choice`` for a standard that names no grade here.
    """
    standards = list(dict.fromkeys(each.standard for each in GRADES))
    if filters.get("standard", standards[0]) not in standards:
        accepted = f"one of: {', '.join(standards)}"
        raise refuse("not_a_choice", "no grade of this standard is held", "standard", accepted)
    entries = (*_bolt_grades(), *({**_NOT_OF_PIPE, **each} for each in pipe_grade_entries()))
    return [each for each in entries if _passes(each, filters, ("product", "standard", "status"))]


def _passes(entry: Mapping[str, Any], filters: Mapping[str, Any], names: tuple[str, ...]) -> bool:
    return all(filters.get(name, entry[name]) == entry[name] for name in names)


def _thread(each: CatalogueThread) -> dict[str, Any]:
    geometry = each.geometry
    return {
        "designation": each.designation,
        "system": each.system,
        "series": each.series,
        "diameter": geometry.d,
        "pitch": geometry.P,
        "threads_per_inch": each.step if each.system == UNIFIED else None,
        "pitch_diameter": geometry.d2,
        "root_diameter": geometry.d3,
        "internal_minor_diameter": geometry.D1,
        "stress_area": geometry.stress_area,
        "root_area": geometry.root_area,
        "area_standard": geometry.standard,
        "published_stress_area": each.published_stress_area,
        "published_stress_area_status": each.area_status,
        "lead_angle": geometry.phi,
        "status": each.source.status,
        "source": each.source.source,
        "note": each.note,
    }


def _bolt_grades() -> Iterator[dict[str, Any]]:
    for each in GRADES:
        yield {
            "product": "bolt",
            "name": each.grade,
            "standard": each.standard,
            "used_for": [_USED_FOR[each.system]],
            "sizes": each.sizes,
            "size_over": each.over,
            "size_from": each.start,
            "size_through": each.through,
            "proof_stress": each.proof,
            "yield_strength": each.yield_strength,
            "tensile_strength": each.tensile,
            "editions": each.editions,
            "status": each.source.status,
            "source": each.source.source,
            "note": each.note,
        }
