"""A stored answer as it was sent to be checked: whole, with its inputs beside, or as its row in a table."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import isfinite
from typing import Any

from api.answers.record import canonical
from schemas.core.faults import InputFault, InvalidInput, Malformed, load
from schemas.receipt import LONGEST_MARK, AnswerWithInputs, ReceiptRow

ROW, BESIDE = ReceiptRow(), AnswerWithInputs()
MARKS = ("fingerprint", "seal")


@dataclass(frozen=True)
class Stored:
    """A stored answer.

    Attributes:
        answer: it, without its marks; None for a row.
        fingerprint, seal: its marks; a seal may not be there.
        asked: what it says was asked.
        inputs: the question; None where neither it nor the body has them.
        beside: whether the inputs came beside it.
        edition, question: what it or its row says of them.
        place: where it stands in the body.
    """

    answer: Mapping[str, Any] | None
    fingerprint: str
    seal: str | None
    asked: Mapping[str, Any]
    inputs: Mapping[str, Any] | None
    beside: bool
    edition: str | None
    question: str | None
    place: tuple[str, ...] = ()

    @property
    def is_row(self) -> bool:
        """Whether its values were not sent."""
        return self.answer is None

    @property
    def version(self) -> Mapping[str, Any]:
        """Its versions, as far as it tells them."""
        found = (self.answer or {}).get("version")
        return found if isinstance(found, Mapping) else {}


def stored_from(given: Any) -> Stored:
    """The stored answer that a body is.

    Raises:
        InvalidInput: for what is none.
        Malformed: ``nested_too_deep``.
    """
    if not isinstance(given, Mapping):
        raise _refuse((), "not_an_object", "a stored answer is an object", given)
    _check_numbers(given)
    if given.keys() <= ROW.fields.keys():
        return _row(given)
    if given.keys() <= BESIDE.fields.keys():
        both = load(BESIDE, given)
        stored = _answer(both["answer"], both["inputs"], ("answer",))
        if isinstance(both["answer"].get("inputs"), Mapping):
            raise _refuse(("inputs",), "contradiction", "the answer holds its inputs; send it alone", None)
        return stored
    return _answer(given, None, ())


def _row(given: Mapping[str, Any]) -> Stored:
    row = load(ROW, given)
    seal, edition, question = (row.get(name) for name in ("seal", "service_edition", "question"))
    return Stored(None, row["fingerprint"], seal, row["asked"], row["inputs"], False, edition, question)


def _answer(answer: Mapping[str, Any], inputs: Mapping[str, Any] | None, place: tuple[str, ...]) -> Stored:
    faults = [_missing((*place, name)) for name in ("fingerprint", "asked") if name not in answer]
    for name in MARKS:
        value = answer.get(name)
        if name in answer and not (isinstance(value, str) and 0 < len(value) <= LONGEST_MARK):
            accepted = "64 hex digits, as the answer had them"
            faults.append(InputFault((*place, name), "not_text", "no such mark", value, accepted))
    if "asked" in answer and not isinstance(answer["asked"], Mapping):
        faults.append(
            InputFault((*place, "asked"), "not_an_object", "a JSON object is expected", answer["asked"])
        )
    if faults:
        raise InvalidInput(faults)
    own, edition, question = (answer.get(name) for name in ("inputs", "service_edition", "question"))
    return Stored(
        answer={name: value for name, value in answer.items() if name not in MARKS},
        fingerprint=answer["fingerprint"],
        seal=answer.get("seal"),
        asked=answer["asked"],
        inputs=own if isinstance(own, Mapping) else inputs,
        beside=inputs is not None,
        edition=edition if isinstance(edition, str) else None,
        question=question if isinstance(question, str) else None,
        place=place,
    )


def _missing(path: tuple[str, ...]) -> InputFault:
    accepted = "a stored answer as Dialset gave it, with fingerprint and asked"
    return InputFault(path, "missing_field", "this field is required", None, accepted)


def _check_numbers(given: Any) -> None:
    """Refuse what has no canonical form."""
    try:
        canonical(given)
    except (RecursionError, TypeError):
        raise Malformed("nested_too_deep", "lists and objects are nested too deep") from None
    except (ValueError, OverflowError):
        place = next(_not_finite(given, ()), ())
        raise _refuse(place, "not_finite", "JSON cannot carry this number back", None) from None


def _not_finite(value: Any, place: tuple[Any, ...]) -> Iterator[tuple[Any, ...]]:
    """The places of numbers that are beyond every float."""
    if isinstance(value, Mapping):
        for name, each in value.items():
            yield from _not_finite(each, (*place, name))
    elif isinstance(value, list):
        for number, each in enumerate(value):
            yield from _not_finite(each, (*place, number))
    elif isinstance(value, (int, float)):
        try:
            finite = isfinite(value)
        except OverflowError:
            finite = False
        if not finite:
            yield place


def _refuse(path: tuple[Any, ...], code: str, detail: str, value: Any) -> InvalidInput:
    return InvalidInput([InputFault(path, code, detail, value)])
