"""Bolt threads, metric and unified, found by their designation."""

import re
from difflib import get_close_matches
from fractions import Fraction
from functools import lru_cache
from typing import NamedTuple

from api.engineering.bolts.thread import BoltThread, Standard
from api.engineering.checks import refuse
from api.engineering.provenance import Source
from api.reference.table import Row, read_table
from schemas.core.units import unit_named

VULGAR = str.maketrans(
    {"½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8", "⁄": "/"}
)


def inches(text: str) -> float | None:
    """The number of ``1+1/2``, ``3/4`` or ``1.5``; None for a fraction that is none, such as 11/8.

    >>> inches("1+1/2"), inches("3/4"), inches("4.5"), inches("11/8")
    (1.5, 0.75, 4.5, None)
    """
    whole, _, part = text.rpartition("+")
    over, _, under = part.partition("/")
    if not under:
        return float(part)
    if not 0 < int(over) < int(under):
        return None
    return int(whole or 0) + int(over) / int(under)


def as_mixed_number(size: float) -> str:
    """A size in inches as a mixed number where it is a multiple of 1/16, else as a decimal.

    >>> as_mixed_number(2.5), as_mixed_number(0.75), as_mixed_number(0.06)
    ('2-1/2', '3/4', '0.06')
    """
    if not (16 * size).is_integer():
        return f"{size:g}"
    whole, part = divmod(Fraction(size), 1)
    return "-".join([*([str(whole)] if whole else []), *([str(part)] if part else [])])


METRIC, UNIFIED = "metric", "unified"


class CatalogueThread(NamedTuple):
    """A thread by its designation; SI.

    Attributes:
        designation: as usually written.
        system: ``metric`` or ``unified``.
        series: ``coarse``, ``fine``, ``UNC``, ``UNF`` or ``8UN``.
        geometry: what follows from diameter and pitch by the standard.
        size: nominal diameter as a number of its own system, mm or in.
        step: pitch in mm, or threads per inch.
        published_stress_area: as printed; the geometry computes with its formula.
        area_status: how sure the printed area is.
        note: how sure the row is, in words.
        source: of diameter and pitch.
    """

    designation: str
    system: str
    series: str
    geometry: BoltThread
    size: float
    step: float
    published_stress_area: float | None
    area_status: str | None
    note: str
    source: Source


def _metric(row: Row) -> CatalogueThread:
    geometry = BoltThread(row.number("diameter"), row.number("pitch"), "ISO 898-1")
    in_mm = unit_named("mm").from_si
    return _thread(row, METRIC, geometry, in_mm(geometry.d), in_mm(geometry.P))


def _unified(row: Row) -> CatalogueThread:
    per_inch = float(row.text["threads_per_inch"])
    inch = unit_named("in")
    geometry = BoltThread(row.number("diameter"), inch.to_si(1.0) / per_inch, "ASME B1.1")
    return _thread(row, UNIFIED, geometry, inch.from_si(geometry.d), per_inch)


def _thread(row: Row, system: str, geometry: BoltThread, size: float, step: float) -> CatalogueThread:
    text = row.text
    return CatalogueThread(
        designation=text["designation"],
        system=system,
        series=text["series"],
        geometry=geometry,
        size=round(size, 6),
        step=round(step, 6),
        published_stress_area=row.si["stress_area"],
        area_status=text["area_status"] or None,
        note=text["note"],
        source=Source(f"thread {text['designation']}", text["status"], text["source"]),
    )


THREADS = (
    *(_metric(row) for row in read_table("bolt_threads_metric.csv")),
    *(_unified(row) for row in read_table("bolt_threads_unified.csv")),
)

STRESS_AREA: dict[Standard, Source] = {
    "ISO 898-1": Source(
        "stress area, metric", "read", "ISO 898-1: pi/4 (d - 0.938194 P)^2; geometry of ISO 68-1 and ISO 724"
    ),
    "ASME B1.1": Source(
        "stress area, unified", "read", "ASME B1.1: pi/4 (D - 0.9743/n)^2, and root pi/4 (D - 1.299038/n)^2"
    ),
}

HOW_TO_WRITE = "a thread listed at /v1/threads, such as M20, M20x1.5, 3/4-16 UNF or 1-1/2-8 UN"

_NUMBER = r"[0-9]{1,3}(?:\.[0-9]{1,4})?"
_METRIC = re.compile(rf"M(?P<size>{_NUMBER})(?:[X*-](?P<step>{_NUMBER}))?(?:-[4-9][GH](?:[4-9][GH])?)?")
_INCHES = r"(?:[0-9]\+)?[0-9]{1,2}/[0-9]{1,2}|[0-9]{1,2}(?:\.[0-9]{1,4})?|\.[0-9]{1,4}"
_STEP = r"[0-9]{1,2}(?:\.5|\+1/2)?"
_UNIFIED = re.compile(
    rf"(?P<size>{_INCHES})(?:[- X]+(?P<step>{_STEP}))?"
    r"[- ]*(?P<series>(?:8[ -]?)?UNR?|UNR?[CF])?(?:[- ]*[123]A)?"
)


@lru_cache(maxsize=1024)
def threads_named(written: str) -> tuple[CatalogueThread, ...]:
    """Every thread that a designation may mean: none, one, or more where a word is missing.

    >>> [each.designation for each in threads_named("m20 × 1.5")]
    ['M20x1.5']
    >>> [each.designation for each in threads_named('1½"-8 UN-2A')]
    ['1-1/2-8 8UN']
    >>> [each.designation for each in threads_named("3/4")]
    ['3/4-10 UNC', '3/4-16 UNF']
    """
    text = _tidied(written)
    if match := _METRIC.fullmatch(re.sub(" *([X*]) *|^M +", lambda found: found[1] or "M", text)):
        return _metric_named(match)
    match = _UNIFIED.fullmatch(text)
    return _unified_named(match) if match else ()


def _tidied(written: str) -> str:
    """Capitals, one kind of hyphen, no inch marks; the gap of a mixed number as a plus."""
    text = written.translate(VULGAR).upper().replace("×", "X")
    text = re.sub("[‐‑–]", "-", text)
    text = re.sub("[\"”″]|''|\\bIN(?:CH)?\\b\\.?", " ", text)
    text = re.sub(r"(?<![0-9.])([0-9])(?: *- *| +)([0-9]{1,2}/[0-9])", r"\1+\2", text)
    return re.sub(r"\s+", " ", re.sub(r"\s*-\s*", "-", text)).strip()


def _metric_named(match: re.Match[str]) -> tuple[CatalogueThread, ...]:
    size, step = float(match["size"]), match["step"]
    found = [each for each in THREADS if each.system == METRIC and each.size == size]
    if step is None:
        return tuple(each for each in found if each.series == "coarse")
    return tuple(each for each in found if each.step == float(step))


def _unified_named(match: re.Match[str]) -> tuple[CatalogueThread, ...]:
    size = inches(match["size"])
    step = inches(match["step"]) if match["step"] else None
    found = [each for each in THREADS if each.system == UNIFIED and each.size == size]
    found = [each for each in found if step is None or each.step == step]
    found = [each for each in found if _is_series(each.series, match["series"])]
    # 1-8 stands twice, as UNC and as 8UN: one thread
    return tuple({each.step: each for each in reversed(found)}.values())[::-1]


def _is_series(series: str, written: str | None) -> bool:
    """Whether a series is meant: UNR is UN with a rounded root, and UN any series of its pitch."""
    meant = re.sub("[ -]", "", written or "UN").replace("R", "")
    return meant in ("UN", series)


def find_thread(written: str) -> CatalogueThread:
    """The one thread that a designation means.

    Raises:
        NoAnswer: ``unknown_thread`` with those near it, ``ambiguous_thread`` with the choices.
    """
    found = threads_named(written)
    if len(found) == 1:
        return found[0]
    if found:
        names = " or ".join(each.designation for each in found)
        raise refuse("ambiguous_thread", "more than one thread has this size", "thread", names)
    near = ", ".join(near_threads(written))
    raise refuse(
        "unknown_thread", "Dialset has no thread of this name", "thread", f"{HOW_TO_WRITE}; near: {near}"
    )


def near_threads(written: str) -> list[str]:
    """Threads of the same or the next sizes, or else of nearly the same spelling: five at most."""
    text = _tidied(written)
    system = METRIC if text.startswith("M") else UNIFIED
    if match := re.match(rf"M *({_NUMBER})" if system == METRIC else f"({_INCHES})", text):
        size = inches(match[1])
        if size is not None:
            among = [each for each in THREADS if each.system == system]
            nearest = sorted(among, key=lambda each: abs(each.size - size))[:5]
            return [each.designation for each in nearest]
    names = [each.designation for each in THREADS]
    return get_close_matches(written.upper()[:40], names, 5, 0.3) or ["M20", "3/4-10 UNC", "1-1/2-8 8UN"]
