"""The edition of a service: everything that decides an answer, each by its hash, and one hash over all.

A release has one revision, but what runs between two releases has it too; so the program counts by its files.
"""

import hashlib
import os
from collections.abc import Iterator
from pathlib import Path

from api.reference.table import data_edition

PROGRAM = "0.1.0"
TOP = Path(__file__).parents[2]
PACKAGES = ("api", "schemas")


def _files() -> Iterator[str]:
    for package in PACKAGES:
        for folder, folders, names in os.walk(TOP / package):
            folders[:] = sorted(each for each in folders if each != "__pycache__")
            yield from (os.path.join(folder, name) for name in sorted(names))  # noqa: PTH118 - half the time


def program_hash() -> str:
    """A short hash of the files of the program."""
    digest = hashlib.sha256()
    for file in _files():
        with open(file, "rb") as content:  # noqa: PTH123
            digest.update(file.removeprefix(str(TOP)).encode() + b"\0" + content.read())
    return digest.hexdigest()[:12]


PROGRAM_HASH = program_hash()
DATA_EDITION = data_edition()
