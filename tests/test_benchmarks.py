"""The benchmarks run, and print what they promise; what they measure is nowhere asserted."""

import subprocess
import sys
from pathlib import Path

import pytest

pytestmark = pytest.mark.evidence

ROOT = Path(__file__).parents[1]


def printed(script: str, *arguments: str) -> str:
    command = [sys.executable, f"tests/bench/{script}.py", *arguments]
    return subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True).stdout


ROWS = (
    "| torque, short",
    "| the rest of the application",
    "| pressures, full",
    "| JSON Lines",
    "| 2 and 4",
)
"""A row of a table of every part."""


def test_every_part_prints_its_table() -> None:
    told = printed("speed", "--quick")
    assert [each for each in ROWS if each not in told] == []


def test_a_checkout_answers_as_itself() -> None:
    assert "60 answered alike, 0 not" in printed("equal", ".", "--questions", "60")
