"""Every environment variable of the service, once."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from schemas.core.quantity_fields import SYSTEMS


class BadSetting(ValueError):
    """An environment variable has a value that the service cannot run with."""


@dataclass(frozen=True)
class Settings:
    """How a service runs.

    Attributes:
        units: ``DIALSET_UNITS``, system of units where a request names none: us, si or metric.
        machines: ``DIALSET_MACHINES``, folder of machine profiles; none if empty.
        tables: ``DIALSET_TABLES``, folder of the shop's own torque tables; none if empty.
        largest_body: ``DIALSET_LARGEST_BODY``, bytes of a body, more is refused.
        largest_batch: ``DIALSET_LARGEST_BATCH``, the same for a batch.
        most_lines: ``DIALSET_MOST_LINES``, lines of a batch, more is refused.
        policy: ``DIALSET_POLICY``, file of the shop's policy; none if empty.
        receipt_key_file: ``DIALSET_RECEIPT_KEY_FILE``, file of the key that seals answers; none if empty.
    """

    units: str = "us"
    machines: Path | None = None
    largest_body: int = 1024 * 1024
    largest_batch: int = 16 * 1024 * 1024
    most_lines: int = 10_000
    tables: Path | None = None
    policy: Path | None = None
    receipt_key_file: Path | None = None


def from_environment(environment: Mapping[str, str]) -> Settings:
    """The settings of an environment.

    Raises:
        BadSetting: naming the variable, its value and what is accepted.
    """
    return Settings(
        units=_units(environment.get("DIALSET_UNITS", "us")),
        machines=_folder(environment, "DIALSET_MACHINES"),
        tables=_folder(environment, "DIALSET_TABLES"),
        largest_body=_whole(environment, "DIALSET_LARGEST_BODY", Settings.largest_body, 1024, 2**30),
        largest_batch=_whole(environment, "DIALSET_LARGEST_BATCH", Settings.largest_batch, 1024, 2**30),
        most_lines=_whole(environment, "DIALSET_MOST_LINES", Settings.most_lines, 1, 100_000),
        policy=_file(environment, "DIALSET_POLICY"),
        receipt_key_file=_file(environment, "DIALSET_RECEIPT_KEY_FILE"),
    )


def _units(text: str) -> str:
    if text not in SYSTEMS:
        raise BadSetting(f"DIALSET_UNITS is {text!r}; accepted: {', '.join(SYSTEMS)}")
    return text


def _folder(environment: Mapping[str, str], name: str) -> Path | None:
    text = environment.get(name, "")
    if not text:
        return None
    if not Path(text).is_dir():
        raise BadSetting(f"{name} is {text!r}, which is not a folder")
    return Path(text)


def _file(environment: Mapping[str, str], name: str) -> Path | None:
    text = environment.get(name, "")
    if not text:
        return None
    if not Path(text).is_file():
        raise BadSetting(f"{name} is {text!r}, which is not a file")
    return Path(text)


def _whole(environment: Mapping[str, str], name: str, default: int, least: int, most: int) -> int:
    text = environment.get(name, str(default))
    if not text.isascii() or not text.isdigit() or not least <= int(text) <= most:
        raise BadSetting(f"{name} is {text!r}; accepted: {least} to {most}")
    return int(text)


def read_key(file: Path | None) -> bytes | None:
    """The key that a file holds, without blanks around it; None where there is no file.

    Raises:
        BadSetting: for a file that cannot be read or holds no key.
    """
    if file is None:
        return None
    try:
        key = file.read_bytes().strip()
    except OSError as error:
        raise BadSetting(f"the key file {str(file)!r} cannot be read: {error.strerror}") from None
    if not key:
        raise BadSetting(f"the key file {str(file)!r} is empty; accepted: a file that holds a key")
    return key
