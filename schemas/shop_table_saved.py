"""What a spreadsheet makes of a number or a day when it saves it: refused, since the cell was another."""

import re
from datetime import date
from typing import Any

from schemas.faults import fault
from schemas.fields import Day

_MADE_A_DATE = (
    "the spreadsheet made a date of a fraction or a decimal: format the column as text and type it again"
)
_DAY_OF_A_LOCALE = (
    "a spreadsheet saves a day in the form of its locale: format the column as text or as YYYY-MM-DD"
)
_SURE = re.compile(r"[0-9]+(?:\.(?:[0-9]{1,2}|[0-9]{4,}))?")
_EXPONENT = re.compile(r"[0-9.,]+[eE][-+]?[0-9]+")
_THOUSANDS = re.compile(r"(?!0+\.)0*[0-9]{1,3}(?:\.[0-9]{3})+")
_MONTH = (
    "(?:jan|ene|gen|feb|fev|fév|mar|mär|mrt|apr|avr|abr|may|mai|maj|mei|mag|jun|jui|giu|jul|lug|aug|ago|aoû|"
    r"sep|set|oct|okt|out|ott|nov|dec|déc|dez|dic|des)[^\W\d_]*\.?"
)
"""A month or its short form, as spreadsheets write it in some languages of Europe (from memory)."""
_DATE = re.compile(
    rf"(?:[0-9]{{1,2}}(?P<sign>[-./])[0-9]{{1,2}}(?P=sign)(?:[0-9]{{2}}|[0-9]{{4}})"
    rf"|[0-9]{{4}}(?P<mark>[-./])[0-9]{{1,2}}(?P=mark)[0-9]{{1,2}}"
    rf"|[0-9]{{1,2}}[-./ ]{{1,2}}{_MONTH}(?:[-./ ][0-9]{{2,4}})?"
    rf"|{_MONTH}[-./ ][0-9]{{1,4}})(?:[ T][0-9:.]+)?",
    re.IGNORECASE,
)


def check_number(text: str, thousands: bool) -> None:
    """Refuse what may be another number than was typed.

    Args:
        text: the cell.
        thousands: whether a point may part thousands in it: a torque of 20.000 N.m is rather 20000.

    Raises:
        ValidationError: ``thousands_in_doubt``; ``not_a_number`` for an exponent, which stands for a number
            that a spreadsheet rounded to show it, and for a date, which it makes of ``11/2``.
    """
    if _SURE.fullmatch(text):  # most cells: the rest takes longer
        return
    number = text.strip().lstrip("+-").lstrip()
    if thousands and _THOUSANDS.fullmatch(number):
        whole = number.replace(".", "")
        decimal = number[:-1] if number.endswith("0") else f"{number}0"
        accepted = whole if number.count(".") > 1 else f"{whole} or {decimal}"
        detail = "a point before exactly three digits could part thousands"
        raise fault("thousands_in_doubt", detail, accepted)
    if _EXPONENT.fullmatch(number):
        detail = "a spreadsheet shows a number rounded this way; format the column as a number and save again"
        raise fault("not_a_number", detail)
    if _DATE.fullmatch(number):
        raise fault("not_a_number", _MADE_A_DATE)


class SavedDay(Day):
    """A day in a cell; one in the form of a locale is never guessed, since 1/2 is two days."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> date:
        if _DATE.fullmatch(value) and not re.fullmatch("[0-9]{4}-[0-9]{2}-[0-9]{2}", value):
            raise fault("not_a_date", _DAY_OF_A_LOCALE, self.accepted)
        return super()._deserialize(value, attr, data, **kwargs)
