"""The demonstrations: how they wait for their service, and what they print of one joint."""

import re
import subprocess
import sys
from importlib.util import module_from_spec, spec_from_file_location
from io import BytesIO
from pathlib import Path
from tempfile import TemporaryFile
from typing import Any

import pytest

from api.app import create_app
from api.settings import Settings

ROOT = Path(__file__).parents[2]
DEMO = ROOT / "deploy" / "demo"
SERVICE = "import os, sys, time\nif any('gunicorn' in word for word in sys.orig_argv):\n    "
"""A ``sitecustomize``, which Python runs before all else, that does something to the service alone."""
NOT_OURS = "http://127.0.0.1:9"


def run(program: str, folder: Path, to_the_service: str) -> subprocess.CompletedProcess[str]:
    """A demonstration whose service starts in a way of its own, where a proxy is set that answers nothing."""
    (folder / "sitecustomize.py").write_text(SERVICE + to_the_service + "\n")
    command = [sys.executable, str(DEMO / program)]
    environment = {"PYTHONPATH": str(folder), "http_proxy": NOT_OURS, "PATH": "/usr/bin:/bin"}
    return subprocess.run(command, env=environment, capture_output=True, text=True, check=False)


@pytest.fixture(scope="module")
def printed(tmp_path_factory: pytest.TempPathFactory) -> str:
    """What is printed of one joint, by a service that starts slowly."""
    ran = run("one_joint.py", tmp_path_factory.mktemp("slow"), "time.sleep(2)")
    assert (ran.returncode, ran.stderr) == (0, "")
    return ran.stdout


@pytest.fixture(scope="module")
def answer() -> dict[str, Any]:
    """The answer to the question of ``one_joint.py``."""
    question = loaded("one_joint").QUESTION
    shop = create_app(Settings(machines=DEMO / "machines", policy=DEMO / "policy.json")).test_client()
    return dict(shop.get("/v1/machine-choice", query_string=question).get_json())


def loaded(name: str) -> Any:
    """A program of the demonstration as a module; its neighbours are found as when it runs."""
    spec = spec_from_file_location(name, DEMO / f"{name}.py")
    assert spec
    assert spec.loader
    module = module_from_spec(spec)
    with pytest.MonkeyPatch.context() as patch:
        patch.syspath_prepend(str(DEMO))
        spec.loader.exec_module(module)
    return module


# the wait


def test_a_service_that_starts_slowly_is_waited_for(printed: str) -> None:
    assert printed.startswith("starting the service ...")
    assert "SET 860 psi" in printed


def test_a_service_that_dies_says_the_end_of_its_log_and_what_to_do(tmp_path: Path) -> None:
    say = "sys.stderr.write(''.join(f'line {number}\\n' for number in range(30)) + 'no paper\\n')"
    ran = run("one_joint.py", tmp_path, f"{say}; os._exit(7)")
    assert ran.returncode == 1
    assert ran.stdout.startswith("starting the service ...")
    lines = ran.stderr.splitlines()
    assert lines[0] == "The service did not start: it ended with exit code 7. The last lines of its log:"
    assert lines[1:21] == [*(f"    line {number}" for number in range(11, 30)), "    no paper"]
    assert lines[21].startswith("What to do: ")
    assert lines[-1] == "Then: sh deploy/demo/main-job.sh"


def test_a_service_that_dies_while_it_is_asked_is_told_too(tmp_path: Path) -> None:
    """The socket listens from the beginning, so the question waits already when the process ends."""
    ran = run("one_joint.py", tmp_path, "time.sleep(1); os._exit(0)")
    assert ran.returncode == 1
    assert "ended with exit code 0. The last lines of its log:\n    (nothing)\n" in ran.stderr


def test_a_service_that_is_not_up_in_two_minutes_is_given_up(monkeypatch: pytest.MonkeyPatch) -> None:
    shop = loaded("shop")
    assert shop.LONGEST_START == 120
    monkeypatch.setattr(shop, "LONGEST_START", 0.0)
    sleeper = subprocess.Popen([sys.executable, "-c", "import time; time.sleep(600)"])
    with TemporaryFile() as log:
        log.write(b"Booting\n")
        try:
            with pytest.raises(SystemExit) as given_up:
                shop.wait_until_ready(NOT_OURS, sleeper, log)
        finally:
            sleeper.kill()
            sleeper.wait()
    told = str(given_up.value)
    assert "has not answered within 0 s" in told
    assert "    Booting\n" in told
    assert "What to do: end what else keeps this machine busy." in told


# what is printed


def rows(printed: str) -> list[list[str]]:
    """The cells of each machine that can."""
    return [re.split(" {2,}", line) for line in printed.splitlines() if "  SET " in line]


def test_one_joint_is_at_most_100_characters_wide(printed: str) -> None:
    assert max(len(line) for line in printed.splitlines()) <= 100


def test_each_machine_that_can_has_one_line(printed: str, answer: dict[str, Any]) -> None:
    told = [tuple(row[:7]) for row in rows(printed)]
    assert told == [
        (
            each["machine"],
            f"SET {each['gauge_setting']['value']:g} {each['gauge_setting']['unit']}",
            each["gauge"],
            each.get("cylinder_side", "-"),
            f"{each['torque_at_gauge_setting']['value']:,.0f}",
            f"{100 * each['probability_in_window']:.0f}",
            "yes" if each["can_both"] else "no",
        )
        for each in answer["able"]
    ]
    assert {row[0]: row[3] for row in rows(printed)}.items() >= {("yard-2", "-"), ("north-bay-2", "rod")}


def test_every_finding_stands_below_its_machine_with_its_level(printed: str, answer: dict[str, Any]) -> None:
    """Those of the joint stand once, below all machines."""
    able = printed.partition("can, the surest first")[2].partition("Machines that cannot")[0]
    blocks = re.split(r"\n(?=[a-z])", able.partition("out too\n")[2])
    for block, machine in zip(blocks, answer["able"], strict=True):
        levels = re.findall(r"^    (STOP|LOOK|NOTE) ", block, re.MULTILINE)
        assert levels == [each["level"].upper() for each in machine["findings"]]
    assert ("Of the joint itself" in printed) == bool(answer["findings"])
    joint = printed.partition("Of the joint itself")[2]
    levels = re.findall(r"^(STOP|LOOK|NOTE) ", joint, re.MULTILINE)
    assert levels == [each["level"].upper() for each in answer["findings"]]


def test_a_weak_box_is_told_of_the_joint_itself(capsys: pytest.CaptureFixture[str]) -> None:
    """NC50 on a 6-1/2 in collar: 2.03, and 2.25 is the least from 6 in on."""
    module = loaded("one_joint")
    shop = create_app(Settings(machines=DEMO / "machines", policy=DEMO / "policy.json")).test_client()
    module.QUESTION["box_outside_diameter"] = "6 1/2 in"
    module.ask = lambda url: BytesIO(shop.get(url).data)
    module.show("")
    joint = capsys.readouterr().out.partition("Of the joint itself, on every machine:\n\n")[2]
    assert joint.startswith("LOOK The bending strength ratio is 2.03.")


def test_each_machine_that_cannot_has_its_block(printed: str, answer: dict[str, Any]) -> None:
    lines = printed.partition("Machines that cannot, and why:\n\n")[2].partition("\n\n")[0]
    blocks = re.split(r"\n(?! )", lines)
    assert [block.partition(" ")[0] for block in blocks] == [each["machine"] for each in answer["unable"]]
    assert "south-bay-6  The profile is a draft" in blocks
