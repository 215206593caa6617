"""Sizes of bolts in inches as their designations write them, and back."""

from fractions import Fraction

VULGAR = str.maketrans(
    {"½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8", "⁄": "/"}
)


def inches(text: str) -> float | None:
    """The number of ``1+1/2``, ``3/4`` or ``1.5``; None for a fraction that is none, such as 11/8.

    >>> inches("1+1/2"), inches("3/4"), inches("4.5"), inches("11/8")
    (1.5, 0.75, 4.5, None)
    """
    whole, _, part = text.rpartition("+")
    over, _, under = part.partition("/")
    if not under:
        return float(part)
    if not 0 < int(over) < int(under):
        return None
    return int(whole or 0) + int(over) / int(under)


def as_mixed_number(size: float) -> str:
    """A size in inches as a mixed number where it is a multiple of 1/16, else as a decimal.

    >>> as_mixed_number(2.5), as_mixed_number(0.75), as_mixed_number(0.06)
    ('2-1/2', '3/4', '0.06')
    """
    if not (16 * size).is_integer():
        return f"{size:g}"
    whole, part = divmod(Fraction(size), 1)
    return "-".join([*([str(whole)] if whole else []), *([str(part)] if part else [])])
