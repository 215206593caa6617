"""How a number with a comma is read: by the rule of the shop, and every use of it is noted."""

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from typing import Literal, get_args

NumberRule = Literal["strict", "comma_thousands", "comma_decimal"]
"""*strict*: a comma that could be a decimal sign or part thousands is refused; *comma_thousands*: it parts
thousands; *comma_decimal*: it is the decimal sign."""
NUMBER_RULES: tuple[NumberRule, ...] = get_args(NumberRule)

_rule: ContextVar[NumberRule] = ContextVar("number_rule", default="strict")
_noted: ContextVar[dict[str, None] | None] = ContextVar("noted_commas", default=None)


def number_rule() -> NumberRule:
    """The rule for text of a user that is being read; text of our own is always read strictly."""
    return _rule.get()


@contextmanager
def numbers_read(rule: NumberRule) -> Iterator[dict[str, None]]:
    """Text that is read inside follows this rule; yields what is noted, each reading once, in order."""
    noted: dict[str, None] = {}
    rule_before, noted_before = _rule.set(rule), _noted.set(noted)
    try:
        yield noted
    finally:
        _rule.reset(rule_before)
        _noted.reset(noted_before)


def note_comma(text: str, value: float, unit: str = "") -> None:
    """Note how text with a comma was read: ``10,000 psi read as 10000 psi``."""
    noted = _noted.get()
    if noted is not None and "," in text and number_rule() != "strict":
        noted[f"{text.strip()} read as {value:.10g} {unit}".rstrip()] = None
