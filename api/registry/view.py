"""What a view of a machine is: an answer that is shown in several forms, declared once."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from marshmallow import Schema

from api.answers.answer import Answer
from api.answers.machines.profile import Profile
from api.answers.question import asking, question_of
from api.answers.record import Shown, with_record
from api.answers.shop import Shop
from api.answers.standing_notices import StandingNotice
from api.registry.tags import Tag
from schemas.core.parts import Part
from schemas.core.quantity_fields import OutputUnits


@dataclass(frozen=True, kw_only=True)
class View:
    """A view of one machine, below ``/v1/machines/{machine}/``.

    Attributes:
        name: the end of its path.
        tag: the subject of the document that it belongs to.
        title: what it shows.
        description: what a reader of the API must know.
        request: schema of its query.
        compute: the machine, the loaded query and the shop to an `Answer`; raises NoAnswer.
        response: schema of the result.
        document: schema of the whole answer, with its record.
        notices: what holds whoever reads it, whatever the machine.
        example: a query.
    """

    name: str
    tag: Tag
    title: str
    description: str
    request: Schema
    compute: Callable[[Profile, Mapping[str, Any], Shop], Answer]
    response: Part
    document: Schema
    notices: tuple[StandingNotice, ...]
    example: Mapping[str, str]

    def answer(
        self,
        profile: Profile,
        values: Mapping[str, Any],
        given: Mapping[str, Any],
        shop: Shop,
        system: str,
        commas: Iterable[str] = (),
    ) -> dict[str, Any]:
        """The whole answer, ready to be written in any form.

        Args:
            profile: the machine.
            values: the query, loaded.
            given: the query as it came, for the record.
            shop: its policy.
            system: units of amounts inside sentences; figures have units of their own.
            commas: how numbers with a comma were read.

        Raises:
            NoAnswer: with every reason why there is nothing to show.
        """
        path = f"/v1/machines/{profile.version.id}/{self.name}"
        question = question_of(path, self.request, values)
        with asking(question):
            computed = self.compute(profile, values, shop)
            answer = shop.by_policy(computed, values.get("as_of"), commas, of_machines=True)
        shown = Shown(OutputUnits(system), key=shop.receipt_key)
        stamped = shop.stamp(path, question, "full", {"units": system})
        return with_record(answer, self.response, shown, given, shop.policy.version, stamped)
