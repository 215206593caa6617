"""What a calculation is: declared once, asked from a query, a body or a row, answered as one mapping.

A question about machines takes a joint of any family.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any, Protocol

from marshmallow import Schema, fields

from api.answers.answer import Answer
from api.answers.question import asking, question_of
from api.answers.record import ALWAYS, HELD, Shown, with_record
from api.answers.shop import Shop
from api.answers.standing_notices import StandingNotice
from api.engineering.checks import Fault, NoAnswer, collecting
from api.engineering.torque_window import TorqueWindow
from api.registry.tags import Tag
from schemas.core.faults import InputFault, InvalidInput, chosen, load
from schemas.core.fields import Choice, Request, as_read, gathered
from schemas.core.parts import Detail, Part, Pick, picked
from schemas.core.quantity import numbers_read
from schemas.core.quantity_fields import PORTION, PRESENTATION, apart, units_of
from schemas.core.units import Unit
from schemas.record import Record
from schemas.rotary.joint import WindowChoice

Computing = Callable[[Mapping[str, Any], Shop], Answer]


class Log(Protocol):
    """What the summary of a batch says of its answered lines, beside how many there are."""

    def count(self, line: int, answer: Answer) -> None:
        """Add an answered line by its number."""

    def shown(self) -> dict[str, Any]:
        """Its members of the summary, ready to be written."""


@dataclass(frozen=True)
class Logged:
    """A log that a batch keeps: how one begins, and the schema of what it comes to."""

    begin: Callable[[], Log]
    response: Part


@dataclass(frozen=True)
class Calculation:
    """A calculation, from its request to its answer.

    Attributes:
        name: its path below ``/v1/``.
        tag: the subject of the document that it belongs to.
        title: what it computes, in a few words.
        description: what a reader of the API must know: formula, limits, rules.
        requests: request schemas by family; a single one under ``""``.
        compute: plain loaded values and the shop to an `Answer`; raises NoAnswer.
        response: schema of the result.
        notices: what holds for every job of it, told at ``/v1/standing-notices``.
        example: a request that works everywhere.
        query_example: a request for a query, where that differs.
        needs_machines: whether it is asked of every machine of the shop, so that its example needs some.
        needs_tables: whether its example names one of the shop's own tables.
        body_only: whether it is asked with a body alone, since its request is a list that no query can hold;
            it has no batch either.
        of_work_done: whether it judges work that is done: an unfit machine is then told, never refused.
        log: what the summary of its batch says besides.
    """

    name: str
    tag: Tag
    title: str
    description: str
    requests: Mapping[str, Schema]
    compute: Computing
    response: Part
    notices: tuple[StandingNotice, ...]
    example: Mapping[str, Any]
    query_example: Mapping[str, str] | None = None
    needs_machines: bool = False
    needs_tables: bool = False
    body_only: bool = False
    of_work_done: bool = False
    log: Logged | None = None

    @property
    def path(self) -> str:
        """Where it is asked."""
        return f"/v1/{self.name}"

    @cached_property
    def members(self) -> Mapping[str, "fields.Field[Any]"]:
        """The fields that write an answer: those of its result and those of the record."""
        return {**self.response.fields, **Record().fields}

    def request_for(self, raw: Any) -> Schema:
        """The request schema that ``raw`` is to be read with.

        Raises:
            InvalidInput: where the family is missing or unknown.
        """
        if "" in self.requests:
            return self.requests[""]
        return chosen(self.requests, raw, "family")

    def pick(self, raw: Mapping[str, Any], always: tuple[str, ...] = ALWAYS) -> Pick:
        """Which members of an answer a `Portion` asks for: the short answer where it says nothing.

        With members that are picked by name some are told always, such as what was found.

        Raises:
            InvalidInput: for a detail or a member that there is not.
        """
        asked = load(PORTION, raw)
        if "answers" not in asked:
            detail: Detail = asked.get("detail", "short")
            return detail
        return {**picked(asked["answers"], self.members), **dict.fromkeys(always, "full")}

    def answer(self, raw: Any, shop: Shop, system: str, pick: Pick = "full") -> dict[str, Any]:
        """The answer to one request, ready to be written; see `answered`."""
        return self.answered(raw, shop, system, pick)[0]

    def answered(self, raw: Any, shop: Shop, system: str, pick: Pick) -> tuple[dict[str, Any], Answer]:
        """The answer to one request, ready to be written, and as it was computed.

        Args:
            raw: the request: field values and, mixed among them, those of `Presentation`.
            shop: machines and policy.
            system: system of units where the request names none.
            pick: which of its members.

        Raises:
            InvalidInput: with every fault of the request.
            NoAnswer: where engineering or the policy of the shop says no.
        """
        schema = self.request_for(raw)
        given, shown = apart(gathered(schema.fields, raw), PRESENTATION)
        with numbers_read(shop.number_rule) as commas:
            values, presentation = _load_both(schema, given, shown)
            given = as_read(schema.fields, given)
            question = question_of(self.path, schema, values)
            with asking(question):
                computed = self.compute(values, shop)
                judged = (computed.profile is not None or self.needs_machines) and not self.of_work_done
                answer = shop.by_policy(computed, values.get("as_of"), commas, of_machines=judged)
            held = self._held(values, answer, shop) if presentation.get(HELD) else None
        steps = presentation.get("steps", False)
        how = Shown(units_of(presentation, system), pick, steps, shop.receipt_key, held)
        stamped = shop.stamp(self.path, question, pick, _as_asked(presentation, system))
        return with_record(answer, self.response, how, given, shop.policy.version, stamped), answer

    def _held(self, values: Mapping[str, Any], answer: Answer, shop: Shop) -> dict[str, Any]:
        """The profiles and rows that entered an answer, which its request only names."""
        from api.answers.receipt.held import held_by  # noqa: PLC0415 - few answers hold them

        return held_by(values, answer, shop, of_every_machine=self.needs_machines)


def _as_asked(presentation: Mapping[str, Any], system: str) -> dict[str, Any]:
    """How an answer is shown, as it tells it: the system of units always, else what was asked for."""
    asked = {
        name: each.code if isinstance(each, Unit) else each for name, each in presentation.items() if each
    }
    return {"units": system, **asked}


def _load_both(schema: Schema, given: Any, shown: Any) -> tuple[dict[str, Any], dict[str, Any]]:
    """Load request and presentation, so that the faults of both are told at once."""
    faults: list[InputFault] = []
    loaded = []
    for each, raw in ((schema, given), (PRESENTATION, shown)):
        try:
            loaded.append(load(each, raw))
        except InvalidInput as error:
            faults += error.faults
    if faults:
        raise InvalidInput(faults)
    return loaded[0], loaded[1]


@dataclass(frozen=True)
class Family:
    """A joint family: its key, its title, its flat request fields, and the window of torque they give.

    ``diameter_field`` names the outside diameter the machine grips, where the family has one; ``of_pipe``
    is for joints of pipe, which a machine must grip, ``of_nut`` for those whose nut is turned.
    """

    key: str
    title: str
    fields: type[Schema]
    window: Callable[[Mapping[str, Any], Shop], TorqueWindow]
    example: Mapping[str, Any]
    diameter_field: str | None = None
    of_pipe: bool = False
    of_nut: bool = False


Checking = Callable[[Mapping[str, Any], Shop], Iterable[Fault]]
Answering = Callable[[TorqueWindow, float | None, Mapping[str, Any], Shop], Answer]


FAMILY_FIELD = "Family of the joint: it decides which other fields there are."


def requests_for(families: Mapping[str, Family], task: type[Schema], name: str) -> dict[str, Schema]:
    """One request for each family: its fields joined with a task on machines."""
    requests = {}
    for family in families.values():
        kind = Choice((family.key,), required=True, metadata={"description": FAMILY_FIELD})
        members = {"__doc__": f"{task.__doc__} The joint: {family.fields.__doc__}"}
        bases = (task, WindowChoice, family.fields, type("JointFamily", (Request,), {"family": kind}))
        requests[family.key] = type(f"{name}{family.fields.__name__}", bases, members)()
    return requests


def for_family(families: Mapping[str, Family], answering: Answering, check: Checking) -> Computing:
    """Compute the window of the family that a request names, and answer for it.

    The faults of the joint and those that ``check`` finds on the side of the machines are told together.
    """

    def compute(values: Mapping[str, Any], shop: Shop) -> Answer:
        family = families[values["family"]]
        diameter = values[family.diameter_field] if family.diameter_field else None
        faults = list(check(values, shop))
        window = None
        with collecting(faults):
            window = replace(family.window(values, shop), of_pipe=family.of_pipe, of_nut=family.of_nut)
        if window is None or faults:
            raise NoAnswer(faults)
        return answering(window, diameter, values, shop)

    return compute
