"""A JSON file of the shop: read strictly, and told apart by its hash."""

import hashlib
from pathlib import Path
from typing import Any

from api.answers.record import canonical
from schemas.core.faults import read_json

LARGEST_FILE = 64 * 1024
"""Bytes of a file; more is none of a shop."""


def read_json_file(path: Path) -> Any:
    """What a regular file of strict JSON holds.

    Raises:
        OSError: for anything but a regular file of at most 64 KiB.
        Malformed: for anything but strict JSON.
    """
    if path.is_symlink() or not path.is_file():
        raise OSError("not a regular file")
    if path.stat().st_size > LARGEST_FILE:
        raise OSError(f"larger than {LARGEST_FILE} bytes")
    return read_json(path.read_bytes())


def hash_of(given: Any) -> str:
    """A short hash of what a file says; spaces, the order of members and ``1.0`` for ``1`` do not count."""
    return hashlib.sha256(canonical(given)).hexdigest()[:12]
