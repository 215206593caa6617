"""Every environment variable of the service, once."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from api.engineering.provenance import STATUSES
from schemas.output_units import SYSTEMS


class BadSetting(ValueError):
    """An environment variable has a value that the service cannot run with."""


@dataclass(frozen=True)
class Settings:
    """How a service runs.

    Attributes:
        units: ``DIALSET_UNITS``, system of units where a request names none: us, si or metric.
        machines: ``DIALSET_MACHINES``, folder of machine profiles; none if empty.
        largest_body: ``DIALSET_LARGEST_BODY``, bytes of a body, more is refused.
        accepted_statuses: ``DIALSET_ACCEPTED_STATUSES``, comma list of the statuses of figures that may
            decide an answer; all if empty. What a caller states is always accepted.
        refuse_unfit: ``DIALSET_UNFIT_PROFILES``, what to do with a profile that is a draft, not in force or
            not calibrated on the day of the job: ``caution`` (default) or ``refuse``.
    """

    units: str = "us"
    machines: Path | None = None
    largest_body: int = 1024 * 1024
    accepted_statuses: frozenset[str] = frozenset({*STATUSES, "stated"})
    refuse_unfit: bool = False


def from_environment(environment: Mapping[str, str]) -> Settings:
    """The settings of an environment.

    Raises:
        BadSetting: naming the variable, its value and what is accepted.
    """
    return Settings(
        units=_units(environment.get("DIALSET_UNITS", "us")),
        machines=_folder(environment.get("DIALSET_MACHINES", "")),
        largest_body=_bytes(environment.get("DIALSET_LARGEST_BODY", str(Settings.largest_body))),
        accepted_statuses=_statuses(environment.get("DIALSET_ACCEPTED_STATUSES", "")),
        refuse_unfit=_refuse_unfit(environment.get("DIALSET_UNFIT_PROFILES", "caution")),
    )


def _units(text: str) -> str:
    if text not in SYSTEMS:
        raise BadSetting(f"DIALSET_UNITS is {text!r}; accepted: {', '.join(SYSTEMS)}")
    return text


def _folder(text: str) -> Path | None:
    if not text:
        return None
    if not Path(text).is_dir():
        raise BadSetting(f"DIALSET_MACHINES is {text!r}, which is not a folder")
    return Path(text)


def _bytes(text: str) -> int:
    if not text.isascii() or not text.isdigit() or not 1024 <= int(text) <= 2**30:
        raise BadSetting(f"DIALSET_LARGEST_BODY is {text!r}; accepted: 1024 to {2**30}")
    return int(text)


def _statuses(text: str) -> frozenset[str]:
    if not text:
        return Settings.accepted_statuses
    found = {part.strip() for part in text.split(",")}
    if not found <= set(STATUSES):
        raise BadSetting(f"DIALSET_ACCEPTED_STATUSES is {text!r}; accepted: {', '.join(STATUSES)}")
    return frozenset({*found, "stated"})


def _refuse_unfit(text: str) -> bool:
    if text not in ("caution", "refuse"):
        raise BadSetting(f"DIALSET_UNFIT_PROFILES is {text!r}; accepted: caution, refuse")
    return text == "refuse"
