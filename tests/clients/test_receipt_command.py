"""``dialset receipt``: what a clerk is told of a stored answer, and the exit codes."""

import json
from pathlib import Path
from typing import Any

import pytest
from dialset_client import Dialset
from dialset_client._methods import CALCULATIONS
from dialset_client.command.main import main
from dialset_client.command.receipt import CAUSES, HEADS
from flask import Flask

from schemas.receipt import PARTS, STATES

ROOT = Path(__file__).parents[2]
DEMO = ROOT / "deploy" / "demo"
COLLAR = {
    "connection": "NC50",
    "component": "drill_collar",
    "box_outside_diameter": "6 1/2 in",
    "pin_bore": "2-13/16 in",
}
JOB: dict[str, Any] = {
    "family": "rotary_shouldered", **COLLAR, "machine": "north-bay-2", "operation": "make_up",
    "thread_hand": "right", "arm_position": "square", "as_of": "2026-11-24",
}  # fmt: skip
Told = tuple[int, list[str], str]


@pytest.fixture(autouse=True)
def no_service_named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("DIALSET_MACHINES", str(DEMO / "machines"))
    for name in ("DIALSET_SERVICE", "DIALSET_POLICY", "DIALSET_TABLES"):
        monkeypatch.setenv(name, "")  # so that what the command sets is taken back
        monkeypatch.delenv(name)


@pytest.fixture
def stored(tmp_path: Path) -> Path:
    """A full answer, as ``dialset ask --json`` prints it."""
    answer = Dialset.in_process().pressure(**JOB, detail="full")
    file = tmp_path / "stored.json"
    file.write_text(json.dumps(answer, indent=2))
    return file


def told(capsys: pytest.CaptureFixture[str], *words: str) -> Told:
    code = main(["receipt", *words])
    said = capsys.readouterr()
    return code, said.out.splitlines(), said.err


def test_words_for_every_state_and_cause() -> None:
    assert HEADS.keys() == set(STATES)
    assert CAUSES.keys() == set(PARTS)
    assert "receipt-check" not in CALCULATIONS


def test_unchanged(stored: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, lines, _ = told(capsys, str(stored))
    assert (code, lines[0]) == (0, "UNCHANGED")
    assert lines[1].startswith("The answer is as it was given. This service gives the same figures today.")


def test_altered(stored: Path, capsys: pytest.CaptureFixture[str]) -> None:
    answer = json.loads(stored.read_text())
    answer["gauge_setting"]["value"] = 800.0
    stored.write_text(json.dumps(answer))
    code, lines, _ = told(capsys, str(stored))
    assert (code, lines[0]) == (1, "ALTERED: do not use it")
    assert lines[2:] == ["  gauge_setting.value: stored 800, today 750"]


def test_other_figures(stored: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, lines, _ = told(capsys, str(stored), "--policy", str(DEMO / "policy.json"))
    assert (code, lines[0]) == (1, "OTHER FIGURES TODAY")
    assert lines[1].endswith("Changed since: policy.")
    assert all(line.endswith(" (changed: the policy of the shop)") for line in lines[2:])
    assert any(line.startswith("  assumptions.") for line in lines[2:])


def test_a_short_answer_asks_for_its_question(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    short, question = tmp_path / "short.json", tmp_path / "question.json"
    short.write_text(json.dumps(Dialset.in_process().pressure(**JOB)))
    question.write_text(json.dumps({**JOB, "units": "si"}))
    code, lines, _ = told(capsys, str(short))
    assert (code, lines[0], lines[-1]) == (1, "CANNOT TELL", "Name the file of its question with --question.")
    code, lines, _ = told(capsys, str(short), "--question", str(question))
    assert (code, lines[0]) == (0, "UNCHANGED")


def test_a_machine_that_is_not_here(
    stored: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("DIALSET_MACHINES")
    code, lines, _ = told(capsys, str(stored))
    assert (code, lines[0]) == (1, "CANNOT TELL")
    assert "does not have the machine north-bay-2, revision 3, hash " in lines[1]


def test_as_json(stored: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, lines, _ = told(capsys, str(stored), "--json")
    assert code == 0
    assert json.loads("\n".join(lines))["state"] == "unchanged"


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (None, "No such file"),
        ("not JSON", "is no stored JSON"),
        ("[" * 10_000, "is no stored JSON"),
        ("{}", "missing_field"),
        ('{"quantity": "1 in", "to": "mm"}', "fingerprint: this field is required"),
        ('{"fingerprint": "a", "asked": {"path": "/v1/x", "units": "us"}, "inputs": {}}', "asked/path"),
    ],
)
def test_a_file_that_is_no_stored_answer(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], content: str | None, said: str
) -> None:
    file = tmp_path / "stored.json"
    if content is not None:
        file.write_text(content)
    code, lines, error = told(capsys, str(file))
    assert (code, lines) == (2, [])
    assert said in error


def test_a_service_that_does_not_answer(stored: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert told(capsys, str(stored), "--service", "http://127.0.0.1:9")[0] == 3


def test_the_client_takes_what_was_read_and_what_was_stored(app: Flask, stored: Path) -> None:
    shop = Dialset.in_process(app)
    answer = shop.pressure(**JOB, detail="full", self_contained=True)
    assert shop.receipt_check(answer)["state"] == "unchanged"
    assert shop.receipt_check(json.dumps(answer).encode())["state"] == "unchanged"
    short = shop.pressure(**JOB, detail="short")
    assert shop.receipt_check(short)["state"] == "cannot_tell"
    assert shop.receipt_check(short, inputs=JOB)["state"] == "unchanged"
    (line,) = shop.batch("pressure", [JOB], detail="full")
    assert shop.receipt_check(line["result"])["state"] == "unchanged"
