"""The command ``dialset``: serve, ask one question, answer a whole file, check a stored answer."""

import argparse
import os
import sys
from collections.abc import Sequence
from importlib.metadata import version

from dialset_client._errors import DialsetError, EditionChanged, NotReachable, NotUnderstood, Refused
from dialset_client.command import ask, batch, receipt, serve

ANSWERED, REFUSED, MISUSED, NOT_REACHABLE = 0, 1, 2, 3
INTERRUPTED = 130
SHAPED = argparse.RawDescriptionHelpFormatter

DESCRIPTION = """\
From a threaded joint to the gauge setting of a hydraulic torque machine.

ask, batch and receipt go to a running service (--service, or the variable
DIALSET_SERVICE), or, where none is named, to one inside this very process, which must
be installed here and finds its machines in --machines or DIALSET_MACHINES, its torque
tables in --tables or DIALSET_TABLES, its policy in --policy or DIALSET_POLICY.
"""
EPILOG = """\
examples:
  dialset serve --machines deploy/demo/machines
  dialset ask torque/rotary-shouldered connection=NC50 component=drill_collar \\
      box_outside_diameter="6 3/4 in" pin_bore="2-13/16 in"
  dialset batch orders.csv answers.csv operation=make_up
  dialset receipt stored.json

exit codes:
  0  everything was answered; the stored answer is unchanged
  1  the question was refused; or some line of the file was, and the answers are written;
     the stored answer is not unchanged
  2  the command was not understood, or a file cannot be read or written, or was refused
     whole: then no answers are written, and an older file is left as it was
  3  the service does not answer, fails, changed meanwhile, or cannot run here

A computed figure does not replace the machine maker's manual, the standard in force,
local codes or the judgement of a qualified person.
"""


COMMANDS = {"serve": serve, "ask": ask, "batch": batch, "receipt": receipt}


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command; returns its exit code."""
    given = sys.argv[1:] if arguments is None else list(arguments)
    if not given or given[0] not in COMMANDS:
        _overview().parse_args(given)
    # options may stand before, among and after field=value words, which sub-parsers do not allow
    asked = _parser(given[0]).parse_intermixed_args(given[1:])
    for part in ("machines", "tables", "policy"):
        if getattr(asked, part):
            os.environ[f"DIALSET_{part.upper()}"] = getattr(asked, part)
    try:
        return _run(given[0], asked)
    except Refused as refusal:
        print(f"refused: {refusal}", file=sys.stderr)
        if refusal.status >= 500:
            return NOT_REACHABLE
        return REFUSED if given[0] == "ask" else MISUSED
    except (NotReachable, NotUnderstood, EditionChanged) as error:
        print(f"dialset: {error}", file=sys.stderr)
        return NOT_REACHABLE
    except BrokenPipeError:  # whoever read the answer has read enough, as head does
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return ANSWERED
    except (DialsetError, OSError, ValueError) as error:
        print(f"dialset: {error}", file=sys.stderr)
        return MISUSED
    except KeyboardInterrupt:
        return INTERRUPTED


def _run(name: str, asked: argparse.Namespace) -> int:
    """Run one command; a pipe that a short answer breaks breaks here, not as the interpreter ends."""
    code = int(COMMANDS[name].run(asked))
    sys.stdout.flush()
    return code


def _overview() -> argparse.ArgumentParser:
    """The text where no command is given: help, the version, or an error."""
    parser = argparse.ArgumentParser(
        "dialset", description=DESCRIPTION, epilog=EPILOG, formatter_class=SHAPED
    )
    parser.add_argument("--version", action="version", version=version("dialset-client"))
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    for name, module in COMMANDS.items():
        commands.add_parser(name, help=module.HELP)
    return parser


def _parser(name: str) -> argparse.ArgumentParser:
    module = COMMANDS[name]
    parser = argparse.ArgumentParser(
        f"dialset {name}", description=module.DESCRIPTION, epilog=module.EPILOG, formatter_class=SHAPED
    )
    parser.add_argument("--machines", metavar="FOLDER", help="folder of machine profiles, one JSON file each")
    parser.add_argument("--tables", metavar="FOLDER", help="folder of the shop's torque tables, CSV files")
    parser.add_argument("--policy", metavar="FILE", help="the shop's policy, a JSON file")
    module.arguments(parser)
    return parser
