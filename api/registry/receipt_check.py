"""Whether a stored answer is as it was given, and whether this service gives its figures again.

The answer is asked again from its ``asked`` and ``inputs``, as anyone asks it, and compared exactly. Nothing
is stored. Which edition answers is no figure: ``service_edition`` and ``version`` tell what changed, not
whether it made a difference.
"""

import hmac
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache, partial
from itertools import islice
from typing import Any

from api.answers.receipt.changes import causes, changed_since
from api.answers.receipt.differences import ABSENT, Difference, differences
from api.answers.receipt.held import shop_of
from api.answers.receipt.stored import Stored, stored_from
from api.answers.record import HELD, marks, seal
from api.answers.shop import Shop
from api.engineering.checks import NoAnswer
from api.refusals.errors import errors_of, in_words
from api.registry.calculation import Calculation
from api.registry.calculations import CALCULATIONS
from api.registry.file_check import ANYTHING, FileCheck
from api.registry.tags import RUN_THE_SERVICE
from schemas.core.faults import InputFault, InvalidInput, load, pointer
from schemas.core.quantity_fields import PORTION, Nothing, apart
from schemas.receipt import PARTS, AskedAgain, ReceiptCheckAnswer

MOST = 1000
"""Differences that are told."""
BY_PATH: Mapping[str, Calculation] = {each.path: each for each in CALCULATIONS}
ASKED = AskedAgain()
NOT_HERE = {
    "unknown_machine": "machine",
    "no_machines": "machine",
    "unknown_table": "table",
    "table_not_served": "table",
}
"""Codes of refusal that say that this service does not have what is asked of, and what that is."""


@dataclass(frozen=True)
class Again:
    """What came of asking again: an answer, or the errors that refused it."""

    answer: dict[str, Any] | None
    errors: tuple[Mapping[str, Any], ...] = ()

    @property
    def lacking(self) -> tuple[str, ...]:
        """What this service does not have and would need."""
        return tuple(
            dict.fromkeys(NOT_HERE[each["code"]] for each in self.errors if each["code"] in NOT_HERE)
        )


def check_receipt(shop: Shop, given: Any, system: str) -> dict[str, Any]:
    """What ``/v1/receipt-check`` finds.

    Raises:
        InvalidInput: for what is no stored answer, or is of no calculation.
        Malformed: for what is nested too deep.
    """
    stored = stored_from(given)
    sealed = _judged_seal(stored, shop.receipt_key)
    found = _of_row(stored, shop, system) if stored.is_row else _of_answer(stored, shop, system)
    if sealed == "wrong":
        text = "The seal does not fit: whoever wrote this had not the key of this shop."
        found |= {"state": "altered", "text": text, "needs": []}
    return {
        "differences": [],
        "differences_left_out": 0,
        "changed": [],
        "needs": [],
        **found,
        "text": found["text"] + _SEAL_TEXTS.get((sealed, shop.receipt_key is not None), ""),
        "seal_state": sealed,
        "service_edition": shop.edition,
    }


_SEAL_TEXTS = {
    ("cannot_judge", False): " It has a seal, which this service cannot judge: it has no key.",
    ("none", True): " It has no seal, so that anyone can have written it.",
}


def _judged_seal(stored: Stored, key: bytes | None) -> str:
    if stored.seal is None:
        return "none"
    if key is None:
        return "cannot_judge"
    fits = hmac.compare_digest(seal(stored.fingerprint, key).encode(), stored.seal.encode())
    return "right" if fits else "wrong"


def _of_answer(stored: Stored, shop: Shop, system: str) -> dict[str, Any]:
    """What is found of a whole answer."""
    assert stored.answer is not None
    intact = hmac.compare_digest(
        marks(stored.answer, None)["fingerprint"].encode(), stored.fingerprint.encode()
    )
    if not intact:
        return {**_compared(stored, shop, system, strict=False), "fingerprint_fits": False, **ALTERED}
    return {"fingerprint_fits": True, **_compared(stored, shop, system, strict=True)}


ALTERED = {
    "state": "altered",
    "text": "The answer is not as it was given: its fingerprint does not fit it.",
    "needs": [],
}


def _compared(stored: Stored, shop: Shop, system: str, *, strict: bool) -> dict[str, Any]:
    """What comes of asking again and comparing.

    Args:
        stored: the answer.
        shop: of this service.
        system: of units, for the amounts in a refusal.
        strict: whether what cannot be asked again is refused; that of an altered answer is passed over.
    """
    if stored.inputs is None:
        return {"state": "cannot_tell", "text": f"{AS_GIVEN} {NO_INPUTS['text']}", "needs": [NO_INPUTS]}
    try:
        again = _asked_again(stored, shop, system)
    except InvalidInput:
        if strict:
            raise
        return {}
    changed = changed_since(stored, shop)
    if again.answer is None:
        return {"changed": changed, **_not_again(stored, again, changed, shop)}
    assert stored.answer is not None
    other = again.answer.get("question") != stored.answer.get("question")
    if stored.beside and other and "program" not in changed:
        return {"state": "cannot_tell", "text": f"{AS_GIVEN} {OTHER_INPUTS['text']}", "needs": [OTHER_INPUTS]}
    if strict and _contradicts(stored, again.answer, shop):
        return {"state": "altered", "text": CONTRADICTS, "changed": changed}
    shown = _figures if strict else _unmarked
    found = [*differences(shown(stored.answer), shown(again.answer))]
    reasons = causes(stored, shop) if found else []
    changed = _both(changed, reasons)
    return {**_state(found, reasons, _since(stored, changed)), **_listed(found, reasons), "changed": changed}


def _contradicts(stored: Stored, again: Mapping[str, Any], shop: Shop) -> bool:
    """Whether the version of an answer is not that of this very edition, or of the profile that it holds."""
    then, now = stored.version, again.get("version")
    if not then or not now:
        return False
    if HELD in (stored.inputs or {}):
        return any(then.get(name) != now.get(name) for name in OF_PROFILE)
    return stored.edition == shop.edition and then != now


OF_PROFILE = ("profile_id", "profile_revision", "profile_hash")
CONTRADICTS = (
    "The fingerprint fits, but the answer does not rest on what its version says: both were written anew."
)
AS_GIVEN = "The answer is as it was given."
NO_INPUTS = {
    "needed": "inputs",
    "text": 'It does not hold its inputs: send {"answer": …, "inputs": …} with the fields of the question.',
}
OTHER_INPUTS = {
    "needed": "inputs",
    "text": "These inputs are another question: send those with which this one was asked.",
}


def _since(stored: Stored, changed: list[str]) -> str:
    """What changed since, as a sentence; of an answer without its version that is not known."""
    if not changed:
        return ""
    if not stored.version:
        return " Another edition of the service gave it."
    return f" Changed since: {', '.join(changed)}."


def _both(changed: list[str], reasons: list[str]) -> list[str]:
    """What changed, and what else must have, in the order in which parts are told."""
    return [each for each in PARTS if each in (*changed, *reasons)]


def _state(found: list[Difference], reasons: list[str], since: str) -> dict[str, str]:
    if not found:
        return {"state": "unchanged", "text": f"{AS_GIVEN} This service gives the same figures today.{since}"}
    if reasons:
        values = "another value" if len(found) == 1 else f"{len(found)} other values"
        return {"state": "other_figures", "text": f"{AS_GIVEN} This service gives {values} today.{since}"}
    text = "The fingerprint fits, but this service gives other values though nothing of theirs has changed: "
    return {"state": "altered", "text": f"{text}both were written anew."}


def _unmarked(answer: Mapping[str, Any]) -> dict[str, Any]:
    """An answer without its marks."""
    return {name: value for name, value in answer.items() if name not in ("fingerprint", "seal")}


def _figures(answer: Mapping[str, Any]) -> dict[str, Any]:
    """An answer without its marks and without what says which edition gave it."""
    told = ("service_edition", "version")
    return {name: value for name, value in _unmarked(answer).items() if name not in told}


def _listed(found: list[Difference], reasons: list[str]) -> dict[str, Any]:
    shown = [
        {
            "pointer": pointer(each.place),
            **({} if each.stored is ABSENT else {"stored": each.stored}),
            **({} if each.now is ABSENT else {"now": each.now}),
            "reason": reasons,
        }
        for each in islice(found, MOST)
    ]
    return {"differences": shown, "differences_left_out": len(found) - len(shown)}


def _not_again(stored: Stored, again: Again, changed: list[str], shop: Shop) -> dict[str, Any]:
    """What is found of an answer to a question that is refused today."""
    if again.lacking:
        needs = [_need(what, stored) for what in again.lacking]
        return {
            "state": "cannot_tell",
            "text": " ".join([AS_GIVEN, *(str(each["text"]) for each in needs)]),
            "needs": needs,
        }
    why, reasons = in_words(again.errors), causes(stored, shop)
    changed = _both(changed, reasons)
    found = _listed([Difference((), "answered", f"refused: {why}")], reasons)
    if not reasons and (stored.beside or stored.answer is None):
        text = f"This service refuses these inputs: {why}. {OTHER_INPUTS['text']}"
        return {"state": "cannot_tell", "text": text, "needs": [OTHER_INPUTS]}
    if not reasons:
        text = f"The fingerprint fits, but this service refuses the question, and nothing has changed: {why}."
        return {"state": "altered", "text": text, **found}
    text = f"{AS_GIVEN} This service refuses the question today: {why}.{_since(stored, changed)}"
    return {"state": "other_figures", "text": text, "changed": changed, **found}


def _need(what: str, stored: Stored) -> dict[str, Any]:
    """A machine or table that this service does not have, as far as the answer tells which it was."""
    prefix = "profile" if what == "machine" else what
    told = {name: value for name in ("revision", "hash") if (value := stored.version.get(f"{prefix}_{name}"))}
    named = (stored.inputs or {}).get(what)
    if not isinstance(named, str):
        return {"needed": what, "text": f"This service has no such {what}: ask where it is."}
    which = ", ".join([named, *(f"{name} {value}" for name, value in told.items())])
    text = f"This service does not have the {what} {which}: ask where it is, or keep self-contained answers."
    return {"needed": what, "id": named, **told, "text": text}


def _of_row(stored: Stored, shop: Shop, system: str) -> dict[str, Any]:
    """What is found of the row of an answer in a table, whose values are not sent."""
    again, changed = _asked_again(stored, shop, system), changed_since(stored, shop)
    if again.answer is None:
        return {"fingerprint_fits": None, "changed": changed, **_not_again(stored, again, changed, shop)}
    if stored.question not in (None, again.answer["question"]) and "program" not in changed:
        return {
            "state": "cannot_tell",
            "text": OTHER_INPUTS["text"],
            "needs": [OTHER_INPUTS],
            "fingerprint_fits": None,
        }
    edition = stored.edition or again.answer["service_edition"]
    theirs = {**_unmarked(again.answer), "service_edition": edition}
    if marks(theirs, None)["fingerprint"] == stored.fingerprint:
        same = _state([], [], _since(stored, changed))
        return {"fingerprint_fits": True, **same, "changed": changed}
    if stored.edition == shop.edition:
        return {"fingerprint_fits": False, **ALTERED_ROW}
    need = NEEDS_EDITION if stored.edition is None else NEEDS_ANSWER
    return {
        "state": "cannot_tell",
        "text": need["text"],
        "needs": [need],
        "changed": changed,
        "fingerprint_fits": None,
    }


ALTERED_ROW = {
    "state": "altered",
    "text": "The fingerprint is not that of the answer to these inputs, which this very edition gives.",
}
NEEDS_EDITION = {
    "needed": "service_edition",
    "text": "Another edition may have answered: send the service_edition of the row too.",
}
NEEDS_ANSWER = {
    "needed": "answer",
    "text": "Another edition answered, and this one gives another answer, or the row was altered: only the "
    "whole answer tells which.",
}


def _asked_again(stored: Stored, shop: Shop, system: str) -> Again:
    """Ask the question of a stored answer again, of the machines and tables that it holds, if it does.

    Raises:
        InvalidInput: for an ``asked`` that is none.
    """
    calculation, shown, portion, units = _asked(stored)
    inputs = dict(stored.inputs or {})
    held = inputs.pop(HELD, None)
    question = {name: each for name, each in inputs.items() if name not in ASKED.fields}
    raw = {**question, **shown}
    try:
        theirs = shop if held is None else replace(shop_of(held, shop), receipt_key=None)
        answer = calculation.answer(raw, theirs, units, calculation.pick(portion))
    except (InvalidInput, NoAnswer) as refusal:
        return Again(None, tuple(errors_of(refusal, raw, system, shop.number_rule)))
    return Again({**answer, "service_edition": shop.edition} if "service_edition" in answer else answer)


def _asked(stored: Stored) -> tuple[Calculation, dict[str, Any], dict[str, Any], str]:
    """The calculation that was asked, how its answer was to be shown, which part of it, and its units."""
    try:
        load(ASKED, stored.asked)
        shown, portion = apart({name: each for name, each in stored.asked.items() if name != "path"}, PORTION)
        path = stored.asked["path"]
        calculation = BY_PATH.get(path)
        if calculation is None:
            accepted = f"one of: {', '.join(BY_PATH)}"
            raise InvalidInput(
                [InputFault(("path",), "not_a_choice", "no calculation is asked there", path, accepted)]
            )
        calculation.pick(portion)
    except InvalidInput as refusal:
        raise InvalidInput(
            [replace(each, path=(*stored.place, "asked", *each.path)) for each in refusal.faults]
        ) from None
    return calculation, shown, portion, stored.asked["units"]


@cache
def _example() -> dict[str, Any]:
    """A stored answer of a service without machines."""
    conversion = BY_PATH["/v1/conversion"]
    return conversion.answer(dict(conversion.example), Shop(), "us", "full")


def receipt_check(shop: Shop) -> FileCheck:
    """The check of receipts by a shop."""
    return FileCheck(
        name="receipt-check",
        tag=RUN_THE_SERVICE,
        title="Check a stored answer",
        description="Tells by its fingerprint and seal whether a stored answer is as it was given. Asks it "
        "again, compares exactly, and tells whether this service gives the same figures today. Send the "
        'answer as it is stored. For one without inputs, such as a short one, send {"answer", "inputs"}; for '
        'its row in a table {"fingerprint", "asked", "inputs"}, with service_edition and seal of the row. '
        "Ask with self_contained=true where the machine or table may be gone by then. A chart is no "
        "calculation, and is refused. Nothing is stored.",
        operation="checkReceipt",
        media_type="application/json",
        body={
            "description": "A stored answer, one with its inputs beside, or its row in a table.",
            "anyOf": [
                {"$ref": "#/components/schemas/AnswerWithInputs"},
                {"$ref": "#/components/schemas/ReceiptRow"},
                {**ANYTHING, "description": "A stored answer, member for member."},
            ],
        },
        query=Nothing(),
        check=partial(check_receipt, shop),
        response=ReceiptCheckAnswer(),
        example=_example(),
    )
