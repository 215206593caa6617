"""Text of a shop's own table: what is refused in it, and when two texts are the same."""

import re
import unicodedata
from typing import Any

from marshmallow import ValidationError

from schemas.faults import MESSAGE_CODES, FieldFault, fault
from schemas.fields import Text

BLANKS = " \t\u00a0"
"""What may stand around the text of a cell and is no part of it."""

_UNSEEN = re.compile(
    "[\u034f\u115f\u1160\u17b4\u17b5\u180b-\u180f\u2800\u3164\ufe00-\ufe0f\uffa0\U000e0100-\U000e01ef]"
)
"""Fillers, joiners and selectors that Unicode counts as letters or marks, but nobody sees."""
_ERROR = re.compile(r"#(?:N/A|N/D|NV|#+|[¡¿]?[^\W\d][\w/]*[!?])|Err:[0-9]{3}", re.IGNORECASE)
"""What a spreadsheet writes in place of a value, in the languages it speaks."""
_PLAIN = {
    code: chr(int(mapping.split()[1], 16))
    for code in (0xA0, 0xF0C, 0x2007, 0x2011, 0x202F, 0x3000, *range(0xFF01, 0xFFEF))
    if (mapping := unicodedata.decomposition(chr(code))).startswith(("<wide>", "<narrow>", "<noBreak>"))
}
"""The plain sign of each that differs from it only in width or in where a line may break."""


def folded(text: str) -> str:
    """Text by which keys are compared: without capitals, other widths and more than single blanks.

    Raised, lowered, circled and fraction signs stay what they are: a footnote mark makes no other number of
    ``17¹``. The capital of ß is SS, so that ß and ss are one.

    >>> folded("  Long   TAPER １７¹ ")
    'long taper 17¹'
    """
    plain = unicodedata.normalize("NFC", text.translate(_PLAIN)).casefold()
    return " ".join(unicodedata.normalize("NFC", plain).split())


def unseen(text: str) -> bool:
    """Whether a character stands in the text that cannot be seen: it would make another key of it."""
    if text.isascii():
        return not text.isprintable()
    hidden = any(not sign.isprintable() and unicodedata.category(sign) != "Zs" for sign in text)
    return hidden or _UNSEEN.search(text) is not None


def check_cell(text: str, number: bool) -> None:
    """Refuse what no cell may hold.

    Args:
        text: the cell, not empty, without blanks around it.
        number: whether it is to be read as a number, which may be negative.

    Raises:
        ValidationError: ``not_text``, ``error_cell``, ``formula_text``.
    """
    if unseen(text):
        raise fault("not_text", "a line break or a character that cannot be seen stands in the cell")
    if text[0] in "#Ee" and _ERROR.fullmatch(text):
        raise fault("error_cell", "the spreadsheet wrote an error instead of a value")
    first = text[0] if text.isascii() else unicodedata.normalize("NFKC", text[0])[0].replace("\u2212", "-")
    if first in ("=+@" if number else "=+@-"):
        raise fault("formula_text", f"a spreadsheet would take what begins with {first} for a formula")


class KeyText(Text):
    """Text by which a row is found, in a cell or in a request."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> str:
        text = value.strip(BLANKS) if isinstance(value, str) else value
        if isinstance(text, str) and unseen(text):
            raise fault("not_text", "a character that cannot be seen stands in the text", self.accepted)
        return super()._deserialize(text, attr, data, **kwargs)


def found_in(error: ValidationError) -> FieldFault:
    """The fault that a single field raised."""
    message = error.messages[0]
    return message if isinstance(message, FieldFault) else FieldFault(*MESSAGE_CODES[message])
