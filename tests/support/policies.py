"""Policies for tests, all invented: as a file holds them, as a file, and as a shop has them."""

import atexit
import json
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

APPROVED = {
    "revision": "1",
    "status": "approved",
    "approved_by": "workshop manager",
    "approved_on": "2026-01-10",
}
_FOLDER = TemporaryDirectory()
atexit.register(_FOLDER.cleanup)


def policy(**rules: Any) -> dict[str, Any]:
    """An approved policy with these rules; None takes a member out."""
    return {name: value for name, value in {**APPROVED, **rules}.items() if value is not None}


def policy_file(**rules: Any) -> Path:
    """A file that holds it."""
    text = json.dumps(policy(**rules))
    path = Path(_FOLDER.name) / f"{abs(hash(text))}.json"
    path.write_text(text)
    return path


REFUSING = policy_file(unfit_profiles="refuse")
"""A shop that refuses a profile which is a draft, not in force or not calibrated on the day of the job."""
