"""A question as it was understood, as a short hash: how it was written does not count.

Quantities count in SI, so that ``6 1/2 in`` and ``165.1 mm`` are one; names as the tables have them, so that
``nc50`` and ``4-1/2 IF`` are NC50; a field left out as the value that it then has. How an answer is shown is
no part of it. The path and the family are, and a profile in the request by its hash. A machine or table of
the shop counts by its id alone: `api.answers.shop.Shop.edition` holds what it is.

A number counts to 12 significant digits. Two units of one length may differ in the last bit of the float; no
two sizes that anybody measures differ in the thirteenth digit. Ten would be too few: 7679/128 in has eleven
digits in metres and would lie on the very edge of rounding.
"""

import hashlib
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from functools import cache, partial
from typing import Any, NamedTuple

from api.answers.shop_file import hash_of
from api.engineering.checks import NoAnswer
from api.reference.bolt_grades import find_grade
from api.reference.bolt_threads import find_thread
from api.reference.connections import find_connection
from api.reference.nominal_size import size_key
from api.reference.pipe_grades import find_pipe_grade
from api.reference.sucker_rods import rod_grade
from api.shop_tables.text import folded
from schemas.conversion import AnyQuantity
from schemas.core.fields import LEFT_OUT, Members
from schemas.core.quantity import NotAQuantity, Quantity, given_quantity
from schemas.core.units import Unit
from schemas.machines.request import Machine

Writer = Callable[[Any], str]


class Unanswered(NoAnswer):
    """A refusal by engineering of a question that was understood; ``question`` is its hash."""

    def __init__(self, refusal: NoAnswer, question: str) -> None:
        self.question = question
        super().__init__(refusal.faults)


@contextmanager
def asking(question: str) -> Iterator[None]:
    """Whatever has no answer inside is this question."""
    try:
        yield
    except NoAnswer as refusal:
        raise Unanswered(refusal, question) from refusal


def question_of(path: str, schema: Any, values: Mapping[str, Any]) -> str:
    """The hash of a question.

    Args:
        path: where it is asked.
        schema: that of the request.
        values: the request, loaded by it.
    """
    written = [path]
    for name, write, left_out in _plan(schema):
        if name in values:
            written.append(f"{name}={write(values[name])}")
        elif left_out is not None and (meant := left_out(values)) is not None:
            written.append(f"{name}={write(meant)}")
    return hashlib.sha256("\n".join(written).encode()).hexdigest()[:12]


class _Way(NamedTuple):
    """How a field enters a question: its name, its writer, and what a request means that leaves it out."""

    name: str
    write: Writer
    left_out: Callable[[Mapping[str, Any]], Any] | None


@cache  # the schemas of requests are made once, and are few
def _plan(schema: Any) -> list[_Way]:
    return [_Way(name, _writer(name, field), _left_out(field)) for name, field in schema.fields.items()]


def _left_out(field: Any) -> Callable[[Mapping[str, Any]], Any] | None:
    meant = field.metadata.get(LEFT_OUT)
    return meant if meant is None or callable(meant) else lambda _: meant


def _writer(name: str, field: Any) -> Writer:
    if name in NAMES:
        return partial(_name, NAMES[name])
    match field:
        case Machine():
            return _machine
        case AnyQuantity():
            return _amount
        case Members():
            return _members
    return _value


def _connection(written: str) -> str | None:
    found = find_connection(written)
    return found.designation if found else None


def _pipe_grade(written: str) -> str | None:
    found = find_pipe_grade(written)
    return found.name if found else None


NAMES: Mapping[str, Callable[[str], str | None]] = {
    "connection": _connection,
    "size": size_key,
    "pipe_grade": _pipe_grade,
    "thread": lambda written: find_thread(written).designation,
    "bolt_grade": lambda written: find_grade(written)[0].name,
    "rod_grade": rod_grade,
}
"""The name in the tables of what a field names: None, or a refusal, for what is in no table."""


def _name(find: Callable[[str], str | None], written: str) -> str:
    try:
        found = find(written)
    except NoAnswer:
        found = None
    return repr(found or folded(written))


def _machine(given: Any) -> str:
    return repr(given) if isinstance(given, str) else hash_of(given["given"])


def _amount(given: Quantity) -> str:
    return f"{given.si:.12g} {given.unit.kinds[0]}"


def _members(given: Mapping[str, Any]) -> str:
    return "; ".join(f"{name!r}: {_member(value)}" for name, value in sorted(given.items()))


def _member(value: Any) -> str:
    """A value of a key: a quantity, or text as keys are compared."""
    try:
        return _amount(given_quantity(value, None))
    except NotAQuantity:
        return repr(folded(value)) if isinstance(value, str) else repr(value)


def _number(value: float) -> str:
    return f"{value:.12g}"


_PLAIN: Mapping[type, Writer] = {float: _number, int: _number, str: repr, bool: repr}


def _value(value: Any) -> str:
    if write := _PLAIN.get(type(value)):
        return write(value)
    match value:
        case float():  # the weight of a pipe, however it came
            return _number(value)
        case Unit():
            return value.code
        case Quantity():  # the reading of a dial, whose unit is part of it
            return f"{value.value:.12g} {value.unit.code}"
        case Mapping():
            return "; ".join(f"{name}: {_value(each)}" for name, each in sorted(value.items()))
        case list() | tuple():
            return f"[{', '.join(map(_value, value))}]"
    return str(value)
