"""Names of columns that a shop's own table reserves, and names that are nearly one of them."""

import re
import unicodedata
from difflib import SequenceMatcher

TORQUES = ("minimum", "target", "maximum", "torsional_yield")
PLAIN = ("source", "revision", "status", "effective_from", "effective_to", "note")
RESERVED = TORQUES + PLAIN
REQUIRED = ("target", "source", "revision")

ALIKE = 0.8
"""Likeness of the letters from which a word is rather a slip than another word."""
SHORT_FORMS = {
    "min": "minimum", "max": "maximum", "tgt": "target", "opt": "optimum", "tq": "torque", "trq": "torque",
    "rev": "revision", "src": "source", "eff": "effective", "valid": "effective", "since": "from",
    "till": "to", "until": "to",
}  # fmt: skip
ALONE = {
    "": "target", "optimum": "target", "yield": "torsional_yield", "torsional": "torsional_yield",
    "effective": "effective_from", "from": "effective_from", "to": "effective_to",
}  # fmt: skip
"""What a word alone would most likely mean; "" is a torque without further word."""

_BRACKETED = re.compile(r"\[[^\]]*\]?|\([^)]*\)?")
_OF_TORQUE = re.compile("torque|value|make_?up")


def nearly(name: str) -> str | None:
    """The reserved name that another name resembles: as a key column it would be a value lost.

    >>> nearly("Max. Torque (ft-lb)"), nearly("yield"), nearly("yield_strength")
    ('maximum', 'torsional_yield', None)
    """
    words = _words(name)
    own = [word for word in _OF_TORQUE.sub("_", "_".join(words)).split("_") if word]
    if words and (alone := ALONE.get("".join(own))):
        return alone
    for reserved in RESERVED:
        theirs = reserved.split("_")
        if "".join(own) == "".join(theirs) or sorted(own) == sorted(theirs):
            return reserved
        if len(own) == len(theirs) and all(map(_alike, own, theirs)):
            return reserved
    return None


def _words(name: str) -> list[str]:
    """The words of a name in small letters, short forms written out, without what stands in brackets."""
    plain = unicodedata.normalize("NFKC", _BRACKETED.sub(" ", name))
    plain = "".join(sign for sign in plain if unicodedata.category(sign) != "Cf")
    plain = re.sub(r"(?<=[a-z])(?=[A-Z])", " ", plain).casefold()
    return [SHORT_FORMS.get(word, word) for word in re.findall(r"[^\W_]+", plain)]


def _alike(word: str, other: str) -> bool:
    return sorted(word) == sorted(other) or SequenceMatcher(None, word, other).ratio() >= ALIKE
