"""A docstring is a sentence or a noun: none begins with a preposition, as "Of a machine with an arm" does."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parents[1]
FOLDERS = ("api", "schemas", "clients/python/src", "deploy")
PREPOSITIONS = re.compile(
    "(about|above|after|against|among|as|at|before|behind|below|beneath|beside|besides|between|beyond|but|by|for|from"
    "|in|into|of|on|over|through|to|under|until|up|upon|with|within|without)\\b",
    re.IGNORECASE,
)


def docstrings(source: str) -> Iterator[tuple[str, str]]:
    """Name and first line of every docstring."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef) and (
            text := ast.get_docstring(node)
        ):
            yield getattr(node, "name", "module"), text.partition("\n")[0]


def begins_oddly(text: str) -> bool:
    """Whether its first word is a preposition."""
    return PREPOSITIONS.match(text) is not None


def test_prepositions_are_told() -> None:
    assert begins_oddly("Of a machine with an arm.")
    assert not begins_oddly("Offsets of a line.")


def test_no_docstring_begins_with_a_preposition() -> None:
    found = [
        (path.relative_to(ROOT).as_posix(), *each)
        for folder in FOLDERS
        for path in sorted((ROOT / folder).rglob("*.py"))
        for each in docstrings(path.read_text("utf-8"))
    ]
    assert len(found) > 1000
    assert [each for each in found if begins_oddly(each[2])] == []
