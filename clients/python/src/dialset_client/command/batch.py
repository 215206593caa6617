"""``dialset batch``: a file of questions answered into another."""

import argparse
import sys
from pathlib import Path

from dialset_client._beside import part_of
from dialset_client._errors import DialsetError
from dialset_client._table import Summary, rows_of
from dialset_client.command import _shared
from dialset_client.command._progress import Bar

HELP = "answer every line of a CSV file"
DESCRIPTION = """\
Asks every line of a CSV file (or .tsv) and writes the same columns again with the status
of the line, its result, or the reason why there is none. Units stand in the header,
pin_bore [in], or in the cells. field=value holds for every line. Columns that are no
fields are carried along; one that is nearly a field is refused, unless carry=NAME says
that it is meant. However long the file is, it goes through in windows. Until all lines
are answered they stand in out.csv.part, and what was asked in out.csv.part.asked;
--go-on goes on with what is there, if the same is asked of the same lines.
"""
EPILOG = """\
examples:
  dialset batch orders.csv answers.csv operation=make_up thread_hand=right arm_position=square
  dialset batch --calculation torque/rotary-shouldered joints.csv torques.csv units=metric
  dialset batch orders.csv answers.csv --at-once 4
  dialset batch orders.csv answers.csv --answers gauge_setting,gauge,cylinder_side,torque.target
"""


def arguments(command: argparse.ArgumentParser) -> None:
    """The arguments of the command."""
    command.add_argument("source", type=Path, metavar="in.csv", help="the questions, one a line")
    command.add_argument(
        "target", type=Path, metavar="out.csv", help="the answers; an older file is replaced"
    )
    command.add_argument("fields", nargs="*", metavar="field=value", help="what holds for every line")
    command.add_argument(
        "--calculation", type=_shared.calculation, default="pressure", help="pressure if left out"
    )
    command.add_argument("--window", type=int, help="lines in one request; 1000 if left out")
    command.add_argument(
        "--at-once",
        type=int,
        default=1,
        help="requests at the same time; 1 if left out, so that others are served",
    )
    _shared.portion_arguments(command)
    command.add_argument(
        "--go-on",
        action="store_true",
        help="keep the lines in out.csv.part, and go on after them; refused where other things are asked",
    )
    command.add_argument(
        "--any-edition", action="store_true", help="let services that differ answer, as while one is replaced"
    )
    _shared.service_argument(command)


def run(asked: argparse.Namespace) -> int:
    """Answer the file; 1 where a line was refused."""
    shop, fields = _shared.shop_of(asked), _shared.fields(asked.fields)
    if taken := set(_shared.PORTION) & set(fields):
        raise ValueError(f"{' and '.join(sorted(taken))} is no field; use --detail and --answers")
    # a pipe can be read once only
    rows = sum(1 for _ in rows_of(asked.source)) if asked.source.is_file() else 0
    with Bar(max(rows - 1, 0), sys.stderr) as bar:
        try:
            summary = shop.batch_file(
                asked.calculation,
                asked.source,
                asked.target,
                window=asked.window,
                at_once=asked.at_once,
                progress=bar.show,
                defaults=fields,
                any_edition=asked.any_edition,
                go_on=asked.go_on,
                **_shared.portion(asked),
            )
        except (DialsetError, OSError, KeyboardInterrupt):
            part = part_of(asked.target)
            if part.is_file():
                print(f"{part} keeps the lines so far: --go-on goes on after them", file=sys.stderr)
            raise
    print("\n".join(_told(summary)))
    return 1 if summary.refused else 0


def _told(summary: Summary) -> list[str]:
    head = f"{summary.lines} lines: {summary.answered} answered, {summary.refused} refused"
    return [head, *(f"  {count} {code}" for code, count in summary.codes.items())]
