"""The file of a shop's own table: its text, or why it is none that is separated by commas."""

import re

from schemas.shop_table_parts import LONGEST_SHOWN, Faults
from schemas.shop_table_text import BLANKS

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
        detail = "a NUL character stands in the table, as in UTF-16 text"
        faults.add(None, None, "malformed_table", detail, None, f"UTF-8: {SAVE_AS}")
    faults.refuse()
    _check_separator(text, faults)
    return text


def _check_separator(text: str, faults: Faults) -> None:
    """Before the cells are parted: quotes beside another separator would be a fault nobody understands."""
    line = re.split(r"[\r\n]", text, maxsplit=1)[0]
    detail = ""
    if _SEPARATOR_LINE.fullmatch(line.strip(" ")):
        detail = "line 1 tells a spreadsheet the separator and is no header: delete the line sep="
    elif any(mark in cell.strip(BLANKS) for cell in line.split(",") for mark in ";\t"):
        detail = "a semicolon or a tab stands in the header"
    if detail:
        accepted = f"commas, and the decimal point: {SAVE_AS}"
        faults.add(None, None, "wrong_separator", detail, line[: LONGEST_SHOWN + 1], accepted)
    faults.refuse()
