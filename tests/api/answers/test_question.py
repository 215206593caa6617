"""The hash of a question, below HTTP; what is asked over HTTP is in `tests.api.http.test_question`."""

import pytest

from api.answers.question import Unanswered, asking, question_of
from api.engineering.checks import NoAnswer, refuse
from schemas.core.faults import load
from schemas.core.fields import Request, Text
from schemas.core.quantity_fields import Quantity


class Length(Request):
    """A length, and a word."""

    length = Quantity("length")
    word = Text()


ASKED = Length()


def hashed(**given: str) -> str:
    return question_of("/v1/x", ASKED, load(ASKED, given))


def test_every_fraction_of_an_inch_is_one_with_its_millimetres() -> None:
    """One in four of them is another float; ten digits would part one in 26."""
    sizes = [part / 128 for part in range(1, 60 * 128)]
    apart = [each for each in sizes if hashed(length=f"{each!r} in") != hashed(length=f"{each * 25.4!r} mm")]
    assert apart == []
    assert len({hashed(length=f"{each!r} in") for each in sizes}) == len(sizes)


def test_no_text_is_another_field() -> None:
    texts = ("a", "a'", "a\nlength=0.0254", "length=0.0254", "")
    asked = [{"word": text} for text in texts] + [{"word": text, "length": 0.0254} for text in texts]
    assert len({question_of("/v1/x", ASKED, each) for each in asked}) == len(asked)


def test_what_has_no_answer_keeps_its_faults_and_says_what_was_asked() -> None:
    with pytest.raises(NoAnswer) as refusal, asking("abc"):
        raise refuse("unknown_machine", "none", "machine")
    assert isinstance(refusal.value, Unanswered)
    assert refusal.value.question == "abc"
    assert [fault.code for fault in refusal.value.faults] == ["unknown_machine"]
