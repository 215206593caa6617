"""``dialset ask``: one question, from words or from JSON."""

import argparse
import json
import sys
from pathlib import Path
from typing import Any

from dialset_client._client import Dialset
from dialset_client._methods import CALCULATIONS
from dialset_client.command import _shared
from dialset_client.command._wording import lines_of

HELP = "ask one question"
DESCRIPTION = f"""\
Asks one question and prints the answer: what to do and what to know of it; with --detail full
besides it the checks that passed, the uncertainty term by term, sources and inputs.
What can be asked: {", ".join(CALCULATIONS)}.
A quantity has its unit: pin_bore="2-13/16 in". What is missing or wrong is told, with
what would be accepted.
"""
EPILOG = """\
examples:
  dialset ask conversion quantity="20000 ft-lb" to=kN.m
  dialset ask pressure family=rotary_shouldered connection=NC50 component=drill_collar \\
      box_outside_diameter="6 3/4 in" pin_bore="2-13/16 in" machine=south-bay-9 \\
      operation=make_up thread_hand=right arm_position=square
  dialset ask pressure --question question.json --json > answer.json
  dialset ask conversion quantity="1 in" to=mm --answer result --unit mm
  dialset ask pressure --question question.json --answers gauge_setting,cylinder_side,torque.target
"""


def arguments(command: argparse.ArgumentParser) -> None:
    """The arguments of the command."""
    command.add_argument("calculation", type=_shared.calculation, help="such as pressure")
    command.add_argument("fields", nargs="*", metavar="field=value", help="the question in words")
    command.add_argument("--question", metavar="FILE", help="the question as JSON; - is the standard input")
    command.add_argument("--json", action="store_true", help="print the answer as JSON")
    command.add_argument("--answer", metavar="NAME", help="print this value alone, such as torque.target")
    command.add_argument("--unit", metavar="UNIT", help="with --answer: the unit of the value")
    _shared.portion_arguments(command)
    _shared.service_argument(command)


def run(asked: argparse.Namespace) -> int:
    """Ask and print.

    Raises:
        ValueError: for a question that is given twice or not at all.
    """
    if bool(asked.fields) == bool(asked.question):
        raise ValueError("give the question as field=value words or as --question FILE, not both")
    if asked.unit and not asked.answer:
        raise ValueError("--unit is for --answer")
    if asked.answer and (asked.question or asked.json or _shared.portion(asked)):
        raise ValueError("--answer is for a question in words, and prints one value alone")
    fields = _shared.fields(asked.fields)
    if taken := {"format", "answer", "unit", *_shared.PORTION} & set(fields):
        names = " and ".join(sorted(taken))
        raise ValueError(f"{names} is no field; there are --answer, --unit, --json, --detail and --answers")
    shop = _shared.shop_of(asked)
    if asked.answer:
        print(shop.value(asked.calculation, asked.answer, asked.unit, fields))
        return 0
    answer = _answer(shop, asked)
    if asked.json:
        print(json.dumps(answer, ensure_ascii=False, indent=2))
    else:
        print("\n".join(lines_of(answer)))
    return 0


def _answer(shop: Dialset, asked: argparse.Namespace) -> dict[str, Any]:
    if asked.fields:
        return shop.in_words(asked.calculation, {**_shared.fields(asked.fields), **_shared.portion(asked)})
    text = sys.stdin.buffer.read() if asked.question == "-" else Path(asked.question).read_bytes()
    return shop.in_json(asked.calculation, text, **_shared.portion(asked))
