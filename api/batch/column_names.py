"""Names that lines of a batch have: which are fields, and which are in doubt because they nearly are."""

import re
import unicodedata
from collections.abc import Iterable, Mapping, Sequence
from difflib import get_close_matches
from functools import lru_cache
from typing import Any

from schemas.core.faults import InputFault, InvalidInput

MOST_COLUMNS = 500
LONGEST_NAME = 100
NEARLY = 0.8
"""Likeness of the letters from which a name is rather a slip than something to carry."""
BRACKETED = re.compile(r"\[[^\]]*\]+|\([^)]*\)+")
SHORT_FORMS = {"od": ("outside", "diameter")}
CARRIED = frozenset({"order"})
"""Names of the shop's own that begin a word of a field, as ``ordered_setting``: each export has orders."""
SEAL = "seal"
STAMP = ("service_edition", "question", "fingerprint")
"""What a row says of itself. A shop with a key has the column `SEAL` after them."""
STATUS_COLUMNS = ("line_number", "line_status", "problem_code", "problem_detail", *STAMP)
RESULT = "result."
"""What the columns of a result begin with, so that none is called like a column of the caller."""


def check_names(
    names: Iterable[str], known: Mapping[str, Any], carry: Sequence[str], brackets: str = ""
) -> None:
    """Refuse names that are nearly those of fields: carried along, they would be silent defaults.

    Args:
        names: those that are no fields.
        known: the fields.
        carry: names that the caller declares to be carried along.
        brackets: what to say of a unit in brackets.

    Raises:
        InvalidInput: ``column_in_doubt`` for each.
    """
    faults = []
    for name in names:
        near = None if name in carry else nearly(name, tuple(known))
        if near:
            hint = brackets if BRACKETED.search(name) else ""
            detail = f"is no field, but its name is close to {near}{hint}: correct it, or name it in carry"
            faults.append(InputFault((name,), "column_in_doubt", detail, name, near))
    if faults:
        raise InvalidInput(faults)


def check_header(names: Sequence[str]) -> None:
    """Refuse names that an answer as a table could not hold beside its own.

    Raises:
        InvalidInput: ``too_many_columns``, ``reserved_column``, ``not_text`` for a name too long.
    """
    if len(names) > MOST_COLUMNS:
        detail = f"{len(names)} columns; at most {MOST_COLUMNS} are accepted"
        raise InvalidInput([InputFault((), "too_many_columns", detail)])
    faults = [
        InputFault((name,), "reserved_column", "is a column of the answer", name, "another name")
        for name in names
        if name in (*STATUS_COLUMNS, SEAL) or name.startswith(RESULT)
    ]
    accepted = f"at most {LONGEST_NAME} characters"
    faults += [
        InputFault((), "not_text", "the name is too long", name, accepted)
        for name in names
        if len(name) > LONGEST_NAME
    ]
    if faults:
        raise InvalidInput(faults)


@lru_cache(4096)
def nearly(name: str, known: tuple[str, ...]) -> str | None:
    """The field whose name ``name`` resembles: other capitals, signs, brackets, short forms or letters."""
    if name.strip().casefold() in CARRIED:
        return None
    own = words(name)
    letters = "".join(own)
    for field in known:
        theirs = field.split("_")
        joined = "".join(theirs)
        if letters == joined or _shortened(own, theirs) or (len(theirs) > 1 and joined in letters):
            return field
    by_letters = {field.replace("_", ""): field for field in known}
    near = get_close_matches(letters, by_letters, 1, NEARLY)
    return by_letters[near[0]] if near else None


def words(name: str) -> list[str]:
    """The words of a name in small letters, without signs and without what stands in brackets."""
    plain = unicodedata.normalize("NFKC", name)
    plain = "".join(sign for sign in plain if unicodedata.category(sign) != "Cf")
    plain = re.sub(r"(?<=[a-z])(?=[A-Z])", " ", BRACKETED.sub(" ", plain)).casefold()
    found = re.findall(r"[^\W_]+", plain)
    return [word for each in found for word in SHORT_FORMS.get(each, (each,))]


def _shortened(own: Sequence[str], theirs: Sequence[str]) -> bool:
    """Whether every word of a name begins one of a field's, as ``torque tol`` does, or is one."""
    return bool(own) and all(
        any(word == other or (len(word) > 2 and other.startswith(word)) for other in theirs) for word in own
    )
