"""The text of a table's file: decoded, split into cells, hostile text refused."""

import re
import unicodedata
from typing import Any

from marshmallow import ValidationError

from api.shop_tables.parts import LONGEST_SHOWN, Faults
from schemas.core.faults import MESSAGE_CODES, FieldFault, fault
from schemas.core.fields import Text
from schemas.core.quantity import BLANKS, bare

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
        raise fault("not_text", "the cell contains a line break or an invisible character")
    if text[0] in "#Ee" and _ERROR.fullmatch(text):
        raise fault("error_cell", "the spreadsheet wrote an error instead of a value")
    first = text[0] if text.isascii() else unicodedata.normalize("NFKC", text[0])[0].replace("\u2212", "-")
    if first in ("=+@" if number else "=+@-"):
        raise fault("formula_text", f"a spreadsheet takes text that begins with {first} for a formula")


class KeyText(Text):
    """Text by which a row is found, in a cell or in a request."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> str:
        text = bare(value)
        if isinstance(text, str) and unseen(text):
            raise fault("not_text", "the text contains an invisible character", self.accepted)
        return super()._deserialize(text, attr, data, **kwargs)


def found_in(error: ValidationError) -> FieldFault:
    """The fault that a single field raised."""
    message = error.messages[0]
    return message if isinstance(message, FieldFault) else FieldFault(*MESSAGE_CODES[message])


MOST_BYTES = 2 * 1024 * 1024
"""Bytes of a file; one that has more is refused unread."""
SAVE_AS = 'save it in the spreadsheet as "CSV UTF-8 (comma separated)"'

_OTHER_FILES = {
    b"PK\x03\x04": "the file is a workbook, not a CSV file",
    b"\xd0\xcf\x11\xe0": "the file is a workbook, not a CSV file",
    b"\xff\xfe": "the file is UTF-16 text, not UTF-8",
    b"\xfe\xff": "the file is UTF-16 text, not UTF-8",
}
"""What a file is by its first bytes."""
_SEPARATOR_LINE = re.compile(r'"?sep=."?[,;\t]*', re.IGNORECASE)
"""A first line by which spreadsheets tell each other the separator."""


def text_of(data: bytes, faults: Faults) -> str:
    """The text of a file, or the one fault for which it is not read.

    Raises:
        FaultyTable: ``table_too_large``, ``not_utf8``, ``malformed_table``, ``wrong_separator``.
    """
    text = ""
    if len(data) > MOST_BYTES:
        detail = f"the file has {len(data)} bytes"
        faults.add(None, None, "table_too_large", detail, None, f"at most {MOST_BYTES} bytes")
    elif other := _OTHER_FILES.get(data[:4]) or _OTHER_FILES.get(data[:2]):
        faults.add(None, None, "not_utf8", other, None, f"UTF-8: {SAVE_AS}")
    else:
        try:
            text = data.decode("utf-8-sig")
        except UnicodeDecodeError as error:
            line = data.count(b"\n", 0, error.start) + 1
            faults.add(None, None, "not_utf8", f"line {line} is not UTF-8", None, f"UTF-8: {SAVE_AS}")
    if "\0" in text:
        detail = "the table contains a NUL character, as in UTF-16 text"
        faults.add(None, None, "malformed_table", detail, None, f"UTF-8: {SAVE_AS}")
    faults.refuse()
    _check_separator(text, faults)
    return text


def _check_separator(text: str, faults: Faults) -> None:
    """Refuses another separator before the cells are parted: later faults would mislead."""
    line = re.split(r"[\r\n]", text, maxsplit=1)[0]
    detail = ""
    if _SEPARATOR_LINE.fullmatch(line.strip(" ")):
        detail = "line 1 tells a spreadsheet the separator and is no header: delete the line sep="
    elif any(mark in cell.strip(BLANKS) for cell in line.split(",") for mark in ";\t"):
        detail = "the header contains a semicolon or a tab"
    if detail:
        accepted = f"commas, and the decimal point: {SAVE_AS}"
        faults.add(None, None, "wrong_separator", detail, line[: LONGEST_SHOWN + 1], accepted)
    faults.refuse()
