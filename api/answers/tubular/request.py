"""A loaded request becomes a round-thread joint, from the catalogue or from the dimensions given."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from api.engineering.checks import NOISE, Amount, Fault, NoAnswer, collecting, refuse
from api.engineering.provenance import Assumption, Source
from api.engineering.rotary.sizes import INCH
from api.engineering.tubular.round_thread import THREAD_HEIGHTS, RoundThread, check_geometry
from api.reference.nominal_size import size_key
from api.reference.pipe_grades import PipeGrade, find_pipe_grade, near_pipe_grades, pipe_grade_names
from api.reference.tubulars import Tubular, near_sizes, of_weight, tubulars_of
from schemas.tubular.weight import PipeWeight

CATALOGUE = ("size", "weight", "pipe_grade", "thread_type")
OUTLINE = ("pipe_outside_diameter", "pipe_inside_diameter", "engaged_length")
HEIGHT = ("thread_height", "threads_per_inch")
STRENGTHS = ("pipe_yield_strength", "pipe_tensile_strength")
DIMENSIONS = (*OUTLINE, *HEIGHT, *STRENGTHS)

EITHER_WAY = (
    "all of size, weight, pipe_grade and thread_type; or instead all of pipe_outside_diameter, "
    "pipe_inside_diameter, engaged_length, pipe_yield_strength, pipe_tensile_strength and either of "
    "thread_height and threads_per_inch"
)
PRODUCTS = {"STC": "casing", "LTC": "casing", "NUE": "tubing", "EUE": "tubing", "IJ": "tubing"}

LARGEST_TUBING = 5 * INCH
"""Tubing is of 4-1/2 in at most, and its upset is smaller than this (API 5CT)."""

AS_GIVEN = Source("dimensions and strengths of the pipe", "stated", "the request")
ROUND_HEIGHT = Source(
    "height of API round thread, 0.07125 in for 8 and 0.0556 in for 10 threads per inch",
    "reprint",
    "API Bul 5C3 cl. 4.1 and 4.4 (ISO/TR 10400)",
)
TUBING_EQUATION = Source(
    "pull-out equation with the tubing's own diameter, thread height and engaged length",
    "from memory",
    "API RP 5C1 Table 2, whose torques it reproduces",
)


@dataclass(frozen=True)
class Joint:
    """A round-thread joint, SI; ``tubular`` and ``grade`` where it is one of the catalogue."""

    thread: RoundThread
    threads_per_inch: float | None
    adjustment: str | None
    sources: tuple[Source, ...]
    tubular: Tubular | None = None
    grade: PipeGrade | None = None
    assumptions: tuple[Assumption, ...] = ()

    @property
    def product(self) -> str | None:
        """casing or tubing, where it is known."""
        return self.tubular.product if self.tubular else None


def joint_from(values: Mapping[str, Any]) -> Joint:
    """The joint that a request describes.

    Raises:
        NoAnswer: with all of ``no_torque_defined``, ``catalogue_or_dimensions``, ``missing_field``,
            ``contradiction``, ``unclear_size``, ``unknown_size``, ``no_such_tubular``,
            ``unknown_pipe_grade``, ``impossible_geometry`` and ``above_tensile_strength`` that apply.
    """
    if values.get("thread_type") == "BTC":
        raise _no_torque()
    named = [name for name in CATALOGUE if name in values]
    measured = [name for name in DIMENSIONS if name in values]
    if named and measured:
        text = (
            f"the joint is given by the catalogue ({', '.join(named)}) and by dimensions "
            f"({', '.join(measured)}): give one of the two"
        )
        raise refuse("catalogue_or_dimensions", text, measured[0], EITHER_WAY)
    return _of_dimensions(values) if measured else _of_catalogue(values)


def _no_torque() -> NoAnswer:
    return refuse(
        "no_torque_defined",
        "a buttress joint (BTC) is made up to a position, not to a torque. None is published, and 1 % of its "
        "joint strength is not one. For the position see /v1/make-up-position/buttress. For a torque "
        "established from trial joints see /v1/trial-make-up/buttress",
        "thread_type",
        f"one of: {', '.join(PRODUCTS)}",
    )


def _of_dimensions(values: Mapping[str, Any]) -> Joint:
    faults = list(_missing(values, (*OUTLINE, *STRENGTHS)))
    if all(name in values for name in HEIGHT):
        text = "thread_height and threads_per_inch both give the height of the thread"
        faults.append(Fault("contradiction", text, "thread_height", accepted="one of them"))
    elif not any(name in values for name in HEIGHT):
        text = "this field is required: thread_height, or threads_per_inch in its place"
        faults.append(Fault("missing_field", text, "thread_height", accepted=EITHER_WAY))
    if faults:
        raise NoAnswer(faults)
    pitch: float | None = values.get("threads_per_inch")
    thread = RoundThread(
        D=values["pipe_outside_diameter"],
        d=values["pipe_inside_diameter"],
        h=values["thread_height"] if pitch is None else THREAD_HEIGHTS[int(pitch)],
        L=values["engaged_length"],
        Yp=values["pipe_yield_strength"],
        Up=values["pipe_tensile_strength"],
    )
    check_geometry(thread)
    height = () if pitch is None else (ROUND_HEIGHT,)
    # Up to 5 in it may be tubing or its upset, for which the equation is known from memory alone.
    equation = (TUBING_EQUATION,) if thread.D <= LARGEST_TUBING * (1 + NOISE) else ()
    sources = (AS_GIVEN, *height, *equation)
    return Joint(thread, pitch, values.get("torque_adjustment"), sources)


def _of_catalogue(values: Mapping[str, Any]) -> Joint:
    faults = list(_missing(values, CATALOGUE))
    tubular, grade = None, None
    with collecting(faults):
        tubular = _tubular(values)
    with collecting(faults):
        grade = _grade(values)
    if values.get("thread_type") == "IJ" and values.get("torque_adjustment") == "tin_plated_coupling":
        text = "an integral joint has no coupling that could be tin plated"
        faults.append(Fault("contradiction", text, "torque_adjustment", accepted="no tin_plated_coupling"))
    if tubular is None or grade is None or faults:
        raise NoAnswer(faults)
    thread = RoundThread(
        D=tubular.thread_outside_diameter,
        d=tubular.inside_diameter,
        h=tubular.thread_height,
        L=tubular.engaged_length,
        Yp=grade.yield_strength,
        Up=grade.tensile_strength,
    )
    equation = (TUBING_EQUATION,) if tubular.product == "tubing" else ()
    sources = (tubular.source, grade.source, *equation)
    pitch = tubular.threads_per_inch
    read = weight_as_read(values)
    return Joint(thread, pitch, values.get("torque_adjustment"), sources, tubular, grade, read)


def weight_as_read(values: Mapping[str, Any]) -> tuple[Assumption, ...]:
    """What is listed where the weight came without a unit, as the trade calls pipe."""
    weight = values.get("weight")
    if not isinstance(weight, PipeWeight):
        return ()
    return (Assumption("weight", f"{weight.pounds_per_foot:.10g} lb/ft", "a label without a unit: lb/ft"),)


def _missing(values: Mapping[str, Any], names: Sequence[str]) -> Iterator[Fault]:
    for name in names:
        if name not in values:
            yield Fault("missing_field", "this field is required here", name, accepted=EITHER_WAY)


def _grade(values: Mapping[str, Any]) -> PipeGrade | None:
    """The grade, if one is given; of casing or of tubing where that is known."""
    if "pipe_grade" not in values:
        return None
    product = PRODUCTS.get(values.get("thread_type", ""))
    found = find_pipe_grade(values["pipe_grade"])
    if found is None:
        text = "no pipe grade of this name is known"
        near = ", ".join(near_pipe_grades(values["pipe_grade"], product))
        raise refuse(
            "unknown_pipe_grade", text, "pipe_grade", f"a grade listed at /v1/grades, near it: {near}"
        )
    if product is not None and product not in found.products:
        thread = values["thread_type"]
        text = f"{found.name} is a grade of {found.products[0]}; {thread} is a thread of {product}"
        raise refuse("no_such_tubular", text, "pipe_grade", f"one of: {', '.join(pipe_grade_names(product))}")
    return found


def _tubular(values: Mapping[str, Any]) -> Tubular | None:
    """The row of size, thread type and weight, as far as they are given."""
    if "size" not in values:
        return None
    size, thread_type = size_key(values["size"]), values.get("thread_type")
    of_size = tubulars_of(size)
    if not of_size:
        near = ", ".join(near_sizes(size, thread_type))
        text = "Dialset has no round-thread casing or tubing of this size"
        raise refuse("unknown_size", text, "size", f"a size listed at /v1/tubulars, near it: {near}")
    if thread_type is None:
        return None
    rows = tubulars_of(size, thread_type)
    if not rows:
        held = ", ".join(dict.fromkeys(each.thread_type for each in of_size))
        near = ", ".join(near_sizes(size, thread_type))
        raise refuse(
            "no_such_tubular",
            f"Dialset has no {of_size[0].size} in with {thread_type}",
            "thread_type",
            f"for {of_size[0].size} in: {held}; with {thread_type} near it: {near}",
        )
    return _row_of_weight(rows, of_size, values["weight"]) if "weight" in values else None


def _row_of_weight(rows: Sequence[Tubular], of_size: Sequence[Tubular], weight: float) -> Tubular:
    found = of_weight(rows, weight)
    if found is not None:
        return found
    size, thread_type = rows[0].size, rows[0].thread_type
    others = [each.thread_type for each in of_size if of_weight([each], weight)]
    hint = f"; it is one of {size} in {' and '.join(others)}" if others else ""
    raise refuse(
        "no_such_tubular",
        f"Dialset has no nominal weight {{weight}} for {size} in {thread_type}{hint}",
        "weight",
        f"for {size} in {thread_type}: {', '.join(each.printed_weight for each in rows)} lb/ft",
        weight=Amount("linear_mass", weight),
    )
