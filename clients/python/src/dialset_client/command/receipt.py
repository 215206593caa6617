"""``dialset receipt``: whether a stored answer is as it was given, in words."""

import argparse
import json
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from dialset_client.command import _shared
from dialset_client.command._wording import shown

HELP = "check a stored answer"
DESCRIPTION = """\
Tells whether a stored answer is as it was given, and whether the service gives the same
figures today. The file holds the answer as JSON, as dialset ask --json prints it. A full
answer has all that is needed. For a short one name its question too.
"""
EPILOG = """\
examples:
  dialset receipt stored.json
  dialset receipt short.json --question question.json

exit codes:
  0  unchanged
  1  altered, or other figures today, or nobody can tell
  2  the file cannot be read, or is no stored answer
  3  the service does not answer
"""
HEADS = {
    "unchanged": "UNCHANGED",
    "other_figures": "OTHER FIGURES TODAY",
    "altered": "ALTERED: do not use it",
    "cannot_tell": "CANNOT TELL",
}
CAUSES = {
    "program": "the program",
    "data": "a published table",
    "policy": "the policy of the shop",
    "profile": "the profile of the machine",
    "table": "the table of the shop",
}


def arguments(command: argparse.ArgumentParser) -> None:
    """The arguments of the command."""
    command.add_argument("stored", metavar="FILE", help="the stored answer, JSON")
    command.add_argument("--question", metavar="FILE", help="its question as JSON, for a short answer")
    command.add_argument("--json", action="store_true", help="print what is found as JSON")
    _shared.service_argument(command)


def run(asked: argparse.Namespace) -> int:
    """Ask and print; returns the exit code.

    Raises:
        ValueError: for a file that is no JSON.
    """
    stored = Path(asked.stored).read_bytes().removeprefix(b"\xef\xbb\xbf")  # which some editors write
    answer = _json(asked.stored, stored)
    question = _json(asked.question, Path(asked.question).read_bytes()) if asked.question else None
    shop = _shared.shop_of(asked)
    found = shop.receipt_check(stored) if question is None else shop.receipt_check(answer, inputs=question)
    if asked.json:
        print(json.dumps(found, ensure_ascii=False, indent=2))
    else:
        print("\n".join(lines_of(found)))
    return int(found["state"] != "unchanged")


def _json(name: str, data: bytes) -> Any:
    try:
        return json.loads(data)
    except (ValueError, RecursionError) as error:
        raise ValueError(f"{name} is no stored JSON: {error}") from None


def lines_of(found: Mapping[str, Any]) -> Iterator[str]:
    """What was found, in words: the state, why, and every value that differs."""
    yield HEADS.get(found["state"], found["state"])
    yield found["text"]
    if "inputs" in [each["needed"] for each in found["needs"]]:
        yield "Name the file of its question with --question."
    for each in found["differences"]:
        place = each["pointer"].removeprefix("/").replace("/", ".") or "the answer"
        causes = " or ".join(CAUSES.get(cause, cause) for cause in each["reason"])
        why = f" (changed: {causes})" if causes else ""
        yield f"  {place}: stored {_told(each, 'stored')}, today {_told(each, 'now')}{why}"
    if found["differences_left_out"]:
        yield f"  and {found['differences_left_out']} more"


def _told(difference: Mapping[str, Any], side: str) -> str:
    if side not in difference:
        return "nothing"
    value = difference[side]
    return json.dumps(value, ensure_ascii=False) if _is_large(value) else shown(value)


def _is_large(value: Any) -> bool:
    return isinstance(value, (list, dict)) and set(value) != {"value", "unit"}
