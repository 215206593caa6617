"""Names of columns: those that a shop's own table reserves, those nearly so, and what would do instead."""

import re
import unicodedata
from difflib import SequenceMatcher

from api.shop_tables.parts import LONGEST_SHOWN, MEMBER
from schemas.core.quantity import BLANKS
from schemas.core.units import UnknownUnit, unit_named

TORQUES = ("minimum", "target", "maximum", "torsional_yield")
PLAIN = ("source", "revision", "status", "effective_from", "effective_to", "note")
RESERVED = TORQUES + PLAIN
REQUIRED = ("target", "source", "revision")
NAME = re.compile("[a-z][a-z0-9_]{0,39}")
"""What a key column may be called."""

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

_FIRST_BRACKET = re.compile(r"(?P<name>[^\[(]*)(?:[\[(](?P<inside>[^\])]*))?.*", re.DOTALL)
_BRACKETED = re.compile(r"\[[^\]]*\]?|\([^)]*\)?")
_CAPITAL = re.compile("(?<=[a-z])(?=[A-Z])")
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


def header_of(reserved: str) -> str:
    """The header of a reserved column in full."""
    return f"{reserved} [unit]" if reserved in TORQUES else reserved


def unit_and_option(inside: str) -> tuple[str, str | None]:
    """The unit in the brackets of a header, and the word after it, with a comma or without.

    >>> unit_and_option("in, linear"), unit_and_option("US gal linear"), unit_and_option("US gal")
    (('in', 'linear'), ('US gal', 'linear'), ('US gal', None))
    """
    spelling, comma, option = (part.strip(BLANKS) for part in inside.partition(","))
    if comma:
        return spelling, option
    before, _, last = spelling.replace("\u00a0", " ").rpartition(" ")
    return (before.strip(BLANKS), last) if before and last.lower() == "linear" else (spelling, None)


def suggested(header: str) -> str | None:
    """A header for a key column made of one that cannot be; None where none can be made of it.

    >>> suggested("Box OD (in)"), suggested("Grade/Type"), suggested("table_key.bore"), suggested("1st")
    ('box_od [in]', 'grade_type', 'bore', None)
    """
    match = _FIRST_BRACKET.fullmatch(header.removeprefix(f"{MEMBER}."))
    if not match or len(header) > LONGEST_SHOWN:
        return None
    plain = unicodedata.normalize("NFKD", _CAPITAL.sub(" ", match["name"])).casefold()
    plain = "".join(sign for sign in plain if unicodedata.category(sign) not in ("Mn", "Cf"))
    name = "_".join(re.findall("[a-z0-9]+", plain))
    if not NAME.fullmatch(name) or nearly(name):
        return None
    spelling, option = unit_and_option(match["inside"] or "")
    try:
        unit_named(spelling)
    except UnknownUnit:
        return name
    return f"{name} [{spelling}{' linear' if option else ''}]"


def _words(name: str) -> list[str]:
    """The words of a name in small letters, short forms written out, without what stands in brackets."""
    plain = unicodedata.normalize("NFKC", _BRACKETED.sub(" ", name))
    plain = "".join(sign for sign in plain if unicodedata.category(sign) != "Cf")
    plain = _CAPITAL.sub(" ", plain).casefold()
    return [SHORT_FORMS.get(word, word) for word in re.findall(r"[^\W_]+", plain)]


def _alike(word: str, other: str) -> bool:
    return sorted(word) == sorted(other) or SequenceMatcher(None, word, other).ratio() >= ALIKE
