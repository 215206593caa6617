"""The findings and standing notices in the code, and those of an answer."""

import ast
import re
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any, NamedTuple

from api.engineering.checks import WORDS

ROOT = Path(__file__).parents[2]
API = ROOT / "api"
MOST_WORDS = 20
"""Words of a sentence: whoever stands at the valve reads it once."""
OF_CHECKS = {
    "profile_status": {"profile_is_draft"},
    "profile_dates": {"profile_not_in_force"},
    "calibration": {"calibration_missing", "calibration_overdue"},
}
"""Codes of the findings that a check makes, where they are not its name."""
OF_FAULTS = {"tolerance_too_wide"}
"""Codes of refusals that the check of a profile tells as findings."""


class Written(NamedTuple):
    """A finding as it is written: where, its level where it is a word, its codes, and its sentences."""

    place: str
    level: str | None
    codes: frozenset[str]
    texts: tuple[str, ...]
    remedy: bool


def sentences(text: str) -> list[str]:
    """The sentences of a text; a full stop inside a number or a name ends none."""
    return re.split(r"(?<=[.!?])\s+(?=[A-Z0-9])", text)


def words_in(sentence: str) -> int:
    """How many words it has; a sign alone, such as %, is none."""
    return sum(any(letter.isalnum() for letter in word) for word in sentence.split())


def too_long(text: str) -> list[str]:
    """The sentences that have too many words."""
    return [f"{words_in(each)}: {each}" for each in sentences(text) if words_in(each) > MOST_WORDS]


def findings_written() -> Iterator[Written]:
    """Every call of ``Finding`` in the service."""
    for path in sorted(API.rglob("*.py")):
        tree = ast.parse(path.read_text("utf-8"))
        for call in ast.walk(tree):
            if isinstance(call, ast.Call) and ast.unparse(call.func) == "Finding":
                given = {word.arg: word.value for word in call.keywords if word.arg}
                level = given["level"]
                yield Written(
                    path.relative_to(ROOT).as_posix(),
                    str(level.value) if isinstance(level, ast.Constant) else None,
                    frozenset(_codes(given["code"], tree)),
                    tuple(_texts(given["text"], given.get("remedy"))),
                    "remedy" in given,
                )


def _codes(code: ast.expr, tree: ast.Module) -> Iterator[str]:
    """The codes that a call may have: a word, what its function is called with, or what it goes through."""
    if isinstance(code, ast.Constant):
        yield str(code.value)
        return
    if not isinstance(code, ast.Name):
        return
    for function in ast.walk(tree):
        if not isinstance(function, ast.FunctionDef) or code not in ast.walk(function):
            continue
        if function.args.args and function.args.args[0].arg == code.id:
            given = [node.args[0] for node in ast.walk(tree) if _calls(node, function.name)]  # type: ignore[attr-defined]
        else:
            given = [node.elts[0] for node in ast.walk(function) if isinstance(node, ast.Tuple) and node.elts]
        yield from (str(each.value) for each in given if isinstance(each, ast.Constant))


def _calls(node: ast.AST, name: str) -> bool:
    return isinstance(node, ast.Call) and ast.unparse(node.func) == name


def _texts(*given: ast.expr | None) -> Iterator[str]:
    for each in given:
        if isinstance(each, ast.Constant):
            yield str(each.value)
        elif isinstance(each, ast.JoinedStr):
            parts = (part.value if isinstance(part, ast.Constant) else "x" for part in each.values)
            yield "".join(map(str, parts))


def codes_written() -> frozenset[str]:
    """The code of every finding that an answer can have."""
    of_checks = (OF_CHECKS.get(name, {name}) for name in WORDS)
    return frozenset(OF_FAULTS).union(*of_checks, *(each.codes for each in findings_written()))


def findings_in(answer: Any) -> Iterator[Mapping[str, Any]]:
    """Every finding of an answer, wherever it stands."""
    if isinstance(answer, Mapping):
        for name, value in answer.items():
            if name == "findings":
                yield from value
            else:
                yield from findings_in(value)
    elif isinstance(answer, list):
        for each in answer:
            yield from findings_in(each)
