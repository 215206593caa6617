"""Listings of casing and tubing, sucker rods, bolt threads and grades."""

from typing import Any

from api.answers.bolt_listings import grades_listed, threads_listed
from api.answers.rod_catalogue import rods_listed
from api.answers.shop import Shop
from api.engineering.faults import refuse
from api.engineering.provenance import Source
from api.listing import NO_FILTERS, Filters, Listing, written
from api.reference.bolt_grades import GRADES
from api.reference.bolt_threads import THREADS
from api.reference.buttress import BUTTRESS
from api.reference.nominal_size import size_key
from api.reference.nut_factors import NUT_FACTORS
from api.reference.preload_scatter import SCATTER
from api.reference.sucker_rods import SUCKER_RODS
from api.reference.tubulars import TUBULARS, near_sizes, tubulars_of
from schemas.bolt_catalogue import GradeFilters, GradePart, NutFactorPart, ThreadFilters, ThreadPart
from schemas.rod_catalogue import SuckerRodFilters, SuckerRodPart
from schemas.tubular_catalogue import TubularFilters, TubularPart


def _tubulars(filters: Filters, shop: Shop, system: str) -> list[Any]:
    key = size_key(filters["size"]) if "size" in filters else None
    if not tubulars_of(key):
        accepted = f"near it: {', '.join(near_sizes(key or ''))}"
        raise refuse("unknown_size", "no casing or tubing of this size is known", "size", accepted)
    found = tubulars_of(key, filters.get("thread_type"))
    return list(written(TubularPart(), found, filters, system))


def _sucker_rods(filters: Filters, shop: Shop, system: str) -> list[Any]:
    return list(written(SuckerRodPart(), rods_listed(filters), filters, system))


def _threads(filters: Filters, shop: Shop, system: str) -> list[Any]:
    return list(written(ThreadPart(), threads_listed(filters), filters, system))


def _grades(filters: Filters, shop: Shop, system: str) -> list[Any]:
    return list(written(GradePart(), grades_listed(filters), filters, system))


def _nut_factors(filters: Filters, shop: Shop, system: str) -> list[Any]:
    return list(written(NutFactorPart(), NUT_FACTORS, filters, system))


JOINT_LISTINGS = (
    Listing("tubulars", "Casing and tubing with round threads", TubularFilters(), TubularPart(), _tubulars),
    Listing(
        "sucker-rods",
        "Sucker rods and their circumferential displacement",
        SuckerRodFilters(),
        SuckerRodPart(),
        _sucker_rods,
    ),
    Listing("threads", "Bolt threads", ThreadFilters(), ThreadPart(), _threads),
    Listing("grades", "Strength of bolt and pipe grades", GradeFilters(), GradePart(), _grades),
    Listing(
        "nut-factors",
        "Nut factors as published, to compare with",
        NO_FILTERS,
        NutFactorPart(),
        _nut_factors,
    ),
)


def _sources() -> tuple[Source, ...]:
    return (
        *(each.source for each in TUBULARS),
        *(each.source for each in BUTTRESS.values()),
        *(each.source for each in SUCKER_RODS.values()),
        *(each.source for each in THREADS),
        *(each.source for each in GRADES),
        *(each.source for each in SCATTER.values()),
        *(each.source for each in NUT_FACTORS),
    )


JOINT_SOURCES = _sources()
"""Where every row of these tables comes from."""
