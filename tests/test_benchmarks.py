"""The benchmarks run, and print what they promise; what they measure is nowhere asserted."""

import subprocess
import sys
from pathlib import Path

import pytest
from rows import every_row

pytestmark = pytest.mark.evidence

ROOT = Path(__file__).parents[1]


def printed(script: str, *arguments: str) -> str:
    command = [sys.executable, f"tests/bench/{script}.py", *arguments]
    return subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True).stdout


@every_row(
    "part, row",
    [
        ("single", "| break-out, full"),
        ("stages", "| the rest of the application"),
        ("batch", "| pressures, full"),
        ("memory", "| JSON Lines"),
        ("growth", "| 2 and 4"),
    ],
)
def test_every_part_prints_its_table(part: str, row: str) -> None:
    assert row in printed("speed", "--quick", part)


def test_a_checkout_answers_as_itself() -> None:
    assert "60 answered alike, 0 not" in printed("equal", ".", "--questions", "60")
