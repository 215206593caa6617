"""The command ``dialset``, in this process and against a real service."""

import csv
import io
import json
import re
import subprocess
import sys
from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest
from dialset_client._methods import CALCULATIONS
from dialset_client._transport import TriesAgain
from dialset_client.command._progress import Bar
from dialset_client.command.main import main
from flask.testing import FlaskClient
from raw_http import free_port, running

from api.registry.calculations import CALCULATIONS as DECLARED

ROOT = Path(__file__).parents[2]
MACHINES = str(ROOT / "deploy" / "demo" / "machines")
WORDS = [
    "family=rotary_shouldered", "connection=NC50", "component=drill_collar", "box_outside_diameter=6 1/2 in",
    "pin_bore=2-13/16 in", "machine=north-bay-2", "operation=make_up", "thread_hand=right",
    "arm_position=square",
]  # fmt: skip
INCH = ["conversion", "quantity=1 in", "to=mm"]
PROGRAM = "import sys; from dialset_client.command.main import main; sys.exit(main())"


@pytest.fixture(autouse=True)
def no_service_named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("DIALSET_MACHINES", MACHINES)
    monkeypatch.setenv("DIALSET_TABLES", str(ROOT / "deploy" / "demo" / "tables"))
    monkeypatch.delenv("DIALSET_SERVICE", raising=False)


@pytest.fixture(scope="module")
def address() -> Iterator[str]:
    """A service that the command itself serves."""
    port = free_port()
    address = f"127.0.0.1:{port}"
    arguments = ["serve", "--machines", MACHINES, "--address", address, "--workers", "1"]
    path = f"{ROOT}:{ROOT / 'clients/python/src'}"
    with running([sys.executable, "-c", PROGRAM, *arguments], port, {"PYTHONPATH": path}):
        yield f"http://{address}"


def test_what_can_be_asked_is_what_is_declared() -> None:
    assert tuple(calculation.name for calculation in DECLARED) == CALCULATIONS


@pytest.mark.parametrize("place", ["in this process", "a running service"])
def test_main_job(place: str, address: str, capsys: pytest.CaptureFixture[str]) -> None:
    """750 psi on the rod side: worked by hand in the tests of the service."""
    service = [] if place == "in this process" else ["--service", address]
    assert main(["ask", "pressure", *WORDS, *service]) == 0
    told = capsys.readouterr().out.splitlines()
    assert "gauge_setting: 750 psi" in told
    assert "cylinder_side: rod" in told
    assert told.index("findings:") > 0


HOW_MUCH = [{}, {"detail": "short"}, {"detail": "full"}, {"answers": "torque.target,gauge_setting"}]


def options(portion: Mapping[str, str]) -> list[str]:
    return [word for name, value in portion.items() for word in (f"--{name}", value)]


@pytest.mark.parametrize("portion", HOW_MUCH, ids=str)
def test_words_and_json_are_the_answer_of_the_service(
    plain: FlaskClient,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
    portion: dict[str, str],
) -> None:
    """Short, full, or the members that are named."""
    question = dict(word.split("=", 1) for word in WORDS)
    told = plain.post("/v1/pressure", json=question, query_string=portion).get_json()
    file = tmp_path / "question.json"
    file.write_text(json.dumps(question), "utf-8")
    answers = []
    for arguments in (WORDS, ["--question", str(file)], ["--question", "-"]):
        monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(file.read_bytes())))
        assert main(["ask", "pressure", "--json", *arguments, *options(portion)]) == 0
        answers.append(json.loads(capsys.readouterr().out))
    assert answers == [told] * 3


@pytest.mark.parametrize("portion", HOW_MUCH, ids=str)
def test_a_file_is_the_answer_of_the_service(
    plain: FlaskClient, tmp_path: Path, portion: dict[str, str]
) -> None:
    source, target = tmp_path / "orders.csv", tmp_path / "answers.csv"
    question = dict(word.split("=", 1) for word in WORDS)
    source.write_text(f"{','.join(question)}\r\n{','.join(question.values())}\r\n", "utf-8")
    assert main(["batch", str(source), str(target), *options(portion)]) == 0
    given = {"data": source.read_bytes(), "content_type": "text/csv", "query_string": portion}
    assert target.read_bytes() == plain.post("/v1/pressure/batch", **given).data


def test_every_value_of_an_answer_is_told(client: FlaskClient, capsys: pytest.CaptureFixture[str]) -> None:
    """Each number and each sentence of the JSON stands in the lines, and nothing is rounded."""
    question = dict(word.split("=", 1) for word in WORDS)
    whole = client.get("/v1/pressure", query_string=question).get_json()
    main(["ask", "pressure", *WORDS, "--detail", "full"])
    told = capsys.readouterr().out
    for check in whole["checks"]:
        assert f"  - name: {check['name']}\n    verdict: {check['verdict']}\n" in told
        assert f"    text: {check['text']}\n" in told
    assert whole["findings"]
    for finding in whole["findings"]:
        assert f"  - level: {finding['level']}\n    code: {finding['code']}\n" in told
        assert f"    text: {finding['text']}\n" in told
    assert f"pressure: {whole['pressure']['value']} {whole['pressure']['unit']}\n" in told


@pytest.mark.parametrize(
    ("arguments", "printed"),
    [
        ([*INCH, "--answer", "result", "--unit", "mm"], "25.4\n"),
        (["pressure", *WORDS, "--answer", "gauge_setting", "--unit", "psi"], "750\n"),
        (["pressure", *WORDS, "--answer", "cylinder_side"], "rod\n"),
        (["pressure", *WORDS, "--answer", "refusal"], "none\n"),
    ],
)
def test_one_value_alone(arguments: list[str], printed: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["ask", *arguments]) == 0
    assert capsys.readouterr().out == printed


@pytest.mark.parametrize(
    ("arguments", "code", "told"),
    [
        (["ask", "conversion", "quantity=1", "to=mm"], 1, "quantity '1': a number alone has no unit"),
        (["ask", *INCH, "--answer", "result"], 1, "unit_required"),
        (["ask", "conversion"], 2, "field=value words or as --question"),
        (["ask", *INCH, "--question", "x.json"], 2, "field=value words or as --question"),
        (["ask", "conversion", "--question", "nowhere.json"], 2, "nowhere.json"),
        (["ask", "conversion", "1 in"], 2, "'1 in' is no field"),
        (["ask", *INCH, "to=cm"], 2, "to stands twice"),
        (["ask", *INCH, "--unit", "mm"], 2, "--unit is for --answer"),
        (["ask", *INCH, "--json", "--answer", "result"], 2, "prints one value alone"),
        (["ask", *INCH, "--service", "http://h", "--machines", "m"], 2, "has its own machines"),
        (["ask", *INCH, "--service", "http://h", "--tables", "t"], 2, "has its own tables"),
        (["ask", *INCH, "--tables", "nowhere"], 2, "DIALSET_TABLES is 'nowhere', which is not a folder"),
        (["ask", *INCH, "--machines", "nowhere"], 2, "DIALSET_MACHINES is 'nowhere', which is not a folder"),
        (["ask", *INCH, "--answers", "result", "--answer", "result"], 2, "prints one value alone"),
        (["ask", *INCH, "--detail", "full", "--answer", "result"], 2, "prints one value alone"),
        (["ask", *INCH, "--answers", "resalt"], 1, "did you mean result?"),
        (["ask", *INCH, "format=text"], 2, "format is no field"),
        (["ask", *INCH, "detail=full"], 2, "detail is no field"),
        (["batch", "nowhere.csv", "out.csv", "answers=gauge"], 2, "answers is no field"),
        (["ask", *INCH, "--service", "shop:8000"], 2, "write http://host:port"),
        (["serve", "--machines", "nowhere"], 2, "DIALSET_MACHINES is 'nowhere', which is not a folder"),
        (["batch", "nowhere.csv", "out.csv"], 2, "nowhere.csv"),
        (["batch", "nowhere.csv", "out.csv", "window=5", "source=a"], 2, "nowhere.csv"),
        (
            ["batch", "nowhere.csv", "out.csv", "--window", "0"],
            2,
            "a window of 0 lines; at least 1",
        ),
    ],
)
def test_what_goes_wrong_is_told_and_has_its_code(
    arguments: list[str], code: int, told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(arguments) == code
    out, error = capsys.readouterr()
    assert out == ""
    assert told in error


@pytest.mark.parametrize("arguments", [[], ["ask"], ["ask", "pressur"], ["batch", "in.csv"], ["brew"]])
def test_a_command_not_understood_is_2(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        main(arguments)
    assert ended.value.code == 2
    assert "usage: dialset" in capsys.readouterr().err


def test_a_service_that_does_not_answer_is_3(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """It is asked five times; the waits between them are left out here."""
    monkeypatch.setattr(TriesAgain, "sleep", lambda *_: None)
    assert main(["ask", *INCH, "--service", f"http://127.0.0.1:{free_port()}"]) == 3
    assert "does not answer" in capsys.readouterr().err


@pytest.mark.parametrize("command", [["ask", *INCH], ["serve"]])
def test_without_the_service_installed_is_3(
    command: list[str], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setitem(sys.modules, "api.app", None)
    monkeypatch.setattr("dialset_client.command.serve.find_spec", lambda name: name == "fcntl" or None)
    assert main(command) == 3
    assert "not installed here" in capsys.readouterr().err


ORDERS = "order,quantity\nW-1,1 in\nW-2,1 psi\nW-3,1 ft\nW-4,1\nW-5,2 psi\n"


@pytest.mark.parametrize("place", ["in this process", "a running service"])
def test_a_file(place: str, address: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    source, target = tmp_path / "orders.csv", tmp_path / "answers.csv"
    source.write_text(ORDERS, "utf-8")
    service = [] if place == "in this process" else ["--service", address]
    command = ["batch", "--calculation", "conversion", str(source), str(target), "to=mm", *service]
    assert main([*command, "--window", "2"]) == 1
    out, error = capsys.readouterr()
    assert out.splitlines() == ["5 lines: 2 answered, 3 refused", "  2 wrong_kind", "  1 bare_number"]
    assert error == ""
    rows = list(csv.DictReader(target.read_text("utf-8").splitlines()))
    assert [(row["order"], row["line_number"], row["result.result"]) for row in rows] == [
        ("W-1", "1", "25.4"),
        ("W-2", "2", ""),
        ("W-3", "3", "304.8"),
        ("W-4", "4", ""),
        ("W-5", "5", ""),
    ]


def test_a_file_without_a_refused_line_is_0(tmp_path: Path) -> None:
    source = tmp_path / "orders.csv"
    source.write_text("quantity,to\n1 in,mm\n", "utf-8")
    assert main(["batch", "--calculation", "conversion", str(source), str(tmp_path / "out.csv")]) == 0


def test_the_questions_are_never_replaced(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    source = tmp_path / "orders.csv"
    source.write_text(ORDERS, "utf-8")
    assert main(["batch", str(source), str(source)]) == 2
    assert source.read_text("utf-8") == ORDERS
    assert "would replace the questions" in capsys.readouterr().err


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_a_bar_for_a_person_and_none_for_a_script() -> None:
    seen, log = Terminal(), io.StringIO()
    for out in (seen, log):
        with Bar(4000, out) as bar:
            bar.show(1000)
            bar.show(4000)
    assert log.getvalue() == ""
    first, last = seen.getvalue().split("\r")[1:]
    assert first == f"[{'#' * 10}{'.' * 30}] 1,000 of 4,000 lines"
    assert last == f"[{'#' * 40}] 4,000 of 4,000 lines\n"


@pytest.mark.parametrize("command", ["", "serve", "ask", "batch"])
def test_help_teaches_by_examples(command: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        main([*command.split(), "--help"])
    assert ended.value.code == 0
    told = capsys.readouterr().out
    assert len(re.findall(rf"^  (?:[A-Z_]+=\w+ )?dialset {command}", told, re.MULTILINE)) >= 2


def test_an_answer_read_no_further_is_no_failure() -> None:
    """As with ``dialset ask … | head -1``."""
    reader = subprocess.Popen(["head", "-c", "1"], stdin=subprocess.PIPE, stdout=subprocess.DEVNULL)
    asked = subprocess.run(
        [sys.executable, "-c", PROGRAM, "ask", "pressure", *WORDS],
        stdout=reader.stdin,
        stderr=subprocess.PIPE,
        cwd=ROOT,
        env={"PYTHONPATH": f"{ROOT}:{ROOT / 'clients/python/src'}", "DIALSET_MACHINES": MACHINES},
        check=False,
    )
    reader.communicate()
    assert (asked.returncode, asked.stderr) == (0, b"")
