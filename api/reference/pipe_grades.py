"""The grades of API casing and tubing: minimum yield and tensile strength."""

import re
from difflib import get_close_matches
from functools import lru_cache
from typing import Any, NamedTuple

from api.engineering.provenance import Source
from api.reference.table import Row, read_table


class PipeGrade(NamedTuple):
    """A grade of pipe; SI. ``products`` says whether casing, tubing or both are made of it."""

    name: str
    products: tuple[str, ...]
    yield_strength: float
    tensile_strength: float
    note: str
    source: Source


def _grade(row: Row) -> PipeGrade:
    text = row.text
    return PipeGrade(
        name=text["grade"],
        products=tuple(text["products"].split(";")),
        yield_strength=row.number("yield_strength"),
        tensile_strength=row.number("tensile_strength"),
        note=text["note"],
        source=Source(f"strengths of pipe grade {text['grade']}", text["status"], text["source"]),
    )


PIPE_GRADES = tuple(_grade(row) for row in read_table("pipe_grades.csv"))


def _key(name: str) -> str:
    """A grade without case, spaces and hyphens: ``j-55`` and ``J55`` are one."""
    return re.sub(r"[\s\-‐‑–]", "", name).upper()


_BY_KEY = {_key(grade.name): grade for grade in PIPE_GRADES}


@lru_cache(maxsize=1024)
def find_pipe_grade(name: str) -> PipeGrade | None:
    """The grade of this name, in any usual way of writing it.

    >>> found = find_pipe_grade("p-110")
    >>> found.name if found else None
    'P110'
    """
    return _BY_KEY.get(_key(name))


def pipe_grade_names(product: str | None = None) -> list[str]:
    """The names of the grades of a product, ``casing`` or ``tubing``, or of all."""
    return [grade.name for grade in PIPE_GRADES if product is None or product in grade.products]


def near_pipe_grades(name: str, product: str | None = None) -> list[str]:
    """The grades of a product that are spelt nearly like this name, or all of them where none is."""
    names = pipe_grade_names(product)
    return get_close_matches(_key(name), names, 5, 0.5) or names


def pipe_grade_entries() -> list[dict[str, Any]]:
    """Every pipe grade as the listing of grades shows it; stresses in Pa."""
    return [
        {
            "name": grade.name,
            "product": "pipe",
            "used_for": list(grade.products),
            "yield_strength": grade.yield_strength,
            "tensile_strength": grade.tensile_strength,
            "status": grade.source.status,
            "source": grade.source.source,
            "note": grade.note,
        }
        for grade in PIPE_GRADES
    ]
