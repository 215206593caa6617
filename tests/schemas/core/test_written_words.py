"""What answers write besides quantities: a word of a closed list, a count, an object as it is."""

from typing import Any

import pytest
from marshmallow import fields

from schemas.core.parts import AsGiven, Count, OneOf, Part, knowable


class Answer(Part):
    """An answer with each of them."""

    side = OneOf(("cap", "rod"))
    second = OneOf(("cap", "rod"), allow_none=True)
    strokes = Count()
    profile = AsGiven("MachineProfile")
    sides = fields.List(OneOf(("cap", "rod")))


GOOD: dict[str, Any] = {
    "side": "cap",
    "second": None,
    "strokes": 4.0,
    "profile": {"id": "a"},
    "sides": ["rod", "cap"],
}


def test_what_is_right_is_written_and_a_count_is_an_integer() -> None:
    written = Answer().dump(GOOD)
    assert written == {**GOOD, "strokes": 4}
    assert type(written["strokes"]) is int


@pytest.mark.parametrize(
    ("member", "value"),
    [
        ("side", "Cap"),
        ("side", None),
        ("second", ""),
        ("sides", ["cap", "both"]),
        ("strokes", 2.5),
        ("strokes", -1),
    ],
)
def test_another_word_and_part_of_a_whole_are_bugs(member: str, value: Any) -> None:
    with pytest.raises(ValueError, match="is written"):
        Answer().dump({**GOOD, member: value})


def test_the_words_may_be_filled_later() -> None:
    kinds: dict[str, int] = {}
    field = OneOf(kinds)
    with pytest.raises(ValueError, match="none of"):
        field.serialize("kind", {"kind": "line_pull"})
    kinds["line_pull"] = 1
    assert field.serialize("kind", {"kind": "line_pull"}) == "line_pull"


def test_a_word_that_may_not_be_known_is_null_there() -> None:
    assert knowable(OneOf(("cap",))).serialize("side", {"side": None}) is None
