"""``dialset batch``: a file of questions answered into another."""

import argparse
import sys
from pathlib import Path

from dialset_client._table import Summary, rows_of
from dialset_client.command import _shared
from dialset_client.command._progress import Bar

HELP = "answer every line of a CSV file"
DESCRIPTION = """\
Asks every line of a CSV file (or .tsv) and writes the same columns again with the status
of the line, its result, or the reason why there is none. Units stand in the header,
pin_bore [in], or in the cells. field=value holds for every line. Columns that are no
fields are carried along; one that is nearly a field is refused, unless carry=NAME says
that it is meant. However long the file is, it goes through in windows.
"""
EPILOG = """\
examples:
  dialset batch orders.csv answers.csv operation=make_up thread_hand=right arm_position=square
  dialset batch --calculation torque/rotary-shouldered joints.csv torques.csv units=metric
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
    command.add_argument("--window", type=int, default=1000, help="lines sent at once; 1000 if left out")
    _shared.service_argument(command)


def run(asked: argparse.Namespace) -> int:
    """Answer the file; 1 where a line was refused.

    Raises:
        ValueError: for a window without lines, or a target that is the source.
    """
    if asked.window < 1:
        raise ValueError(f"--window is {asked.window}; at least 1 is accepted")
    if asked.target.exists() and asked.target.samefile(asked.source):
        raise ValueError("the answers would replace the questions: name another file")
    shop = _shared.shop_of(asked)
    lines = max(sum(1 for _ in rows_of(asked.source)) - 1, 0)
    with Bar(lines, sys.stderr) as bar:
        summary = shop.batch_file(
            asked.calculation,
            asked.source,
            asked.target,
            window=asked.window,
            progress=bar.show,
            **_shared.fields(asked.fields),
        )
    print("\n".join(_told(summary)))
    return 1 if summary.refused else 0


def _told(summary: Summary) -> list[str]:
    head = f"{summary.lines} lines: {summary.answered} answered, {summary.refused} refused"
    return [head, *(f"  {count} {code}" for code, count in summary.codes.items())]
