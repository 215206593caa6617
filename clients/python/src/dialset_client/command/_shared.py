"""What ask and batch have in common: where the service is, and fields in words."""

import argparse
import os

from dialset_client._client import Dialset
from dialset_client._methods import CALCULATIONS

PORTION = ("detail", "answers")


def service_argument(command: argparse.ArgumentParser) -> None:
    """``--service``."""
    command.add_argument(
        "--service",
        metavar="ADDRESS",
        default=os.environ.get("DIALSET_SERVICE", ""),
        help="a running service, such as http://127.0.0.1:8000; without it one inside this process",
    )


def portion_arguments(command: argparse.ArgumentParser) -> None:
    """``--detail`` and ``--answers``."""
    command.add_argument(
        "--detail", choices=("short", "full"), help="how much of an answer; short if left out"
    )
    command.add_argument(
        "--answers",
        metavar="NAMES",
        help="these members alone, by comma, such as gauge_setting,torque.target",
    )


def portion(asked: argparse.Namespace) -> dict[str, str]:
    """How much of an answer the command asks for, as fields."""
    return {name: value for name in PORTION if (value := getattr(asked, name)) is not None}


def shop_of(asked: argparse.Namespace) -> Dialset:
    """The service that the command names.

    Raises:
        ValueError: where machines, tables or a policy are named for a service that has its own.
    """
    if not asked.service:
        return Dialset.in_process()
    for part in ("machines", "tables", "policy"):
        if getattr(asked, part):
            raise ValueError(f"a running service has its own {part}: leave out --{part} or --service")
    return Dialset(asked.service)


def calculation(name: str) -> str:
    """A calculation that there is.

    Raises:
        argparse.ArgumentTypeError: naming those that there are.
    """
    if name not in CALCULATIONS:
        raise argparse.ArgumentTypeError(f"there is no {name!r}; there are {', '.join(CALCULATIONS)}")
    return name


def fields(words: list[str]) -> dict[str, str]:
    """Fields in words: ``pin_bore=2.5 in``.

    Raises:
        ValueError: for a word that is no field, or a field that stands twice.
    """
    found: dict[str, str] = {}
    for word in words:
        name, sign, value = word.partition("=")
        if not sign or not name:
            raise ValueError(f"{word!r} is no field: write field=value, in quotes where a space is in it")
        if name in found:
            raise ValueError(f"{name} stands twice")
        found[name] = value
    return found
