"""Clients that others generate from the OpenAPI document, against a real service."""

import json
import re
import subprocess
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path
from types import ModuleType
from typing import Any, NamedTuple

import pytest
from openapi_python_client import generate
from openapi_python_client.config import Config, ConfigFile, MetaType
from programs import needed
from raw_http import ROOT, Server, serving

from api.answers.record import ALWAYS
from api.http.openapi.document import build
from api.registry.calculations import CALCULATIONS
from api.registry.tags import RUN_THE_SERVICE, Tag

JOINT = {
    "connection": "NC50",
    "component": "drill_collar",
    "box_outside_diameter": "6 1/2 in",
    "pin_bore": "2-13/16 in",
}
JOB = {"machine": "north-bay-2", "operation": "make_up", "thread_hand": "right", "arm_position": "square"}
DOCUMENT = build()

pytestmark = pytest.mark.evidence


@pytest.fixture(scope="module")
def service() -> Iterator[Server]:
    with serving() as running_service:
        yield running_service


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the document."""
    made = tmp_path_factory.mktemp("generated")
    (made / "openapi.json").write_text(json.dumps(DOCUMENT), "utf-8")
    return made


def run(*command: str, at: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(command, cwd=at, capture_output=True, text=True, check=False)


# openapi-python-client


class Generated(NamedTuple):
    """A generated Python package, and each thing its generator warned of."""

    package: str
    warnings: list[tuple[str, str | None]]

    def module(self, name: str) -> ModuleType:
        return import_module(f"{self.package}.{name}")


@pytest.fixture(scope="module")
def generated(folder: Path) -> Iterator[Generated]:
    package = "generated_dialset"
    config = Config.from_sources(
        ConfigFile(post_hooks=[]),  # none tidies up what was generated
        meta_type=MetaType.NONE,
        document_source=folder / "openapi.json",
        file_encoding="utf-8",
        overwrite=False,
        output_path=folder / package,
    )
    warnings = [(each.header, each.detail) for each in generate(config=config)]
    with pytest.MonkeyPatch.context() as patch:
        patch.syspath_prepend(str(folder))
        yield Generated(package, warnings)


@pytest.fixture
def client(generated: Generated, service: Server) -> Iterator[Any]:
    address = f"http://127.0.0.1:{service.port}"
    with generated.module("client").Client(base_url=address, raise_on_unexpected_status=True) as client:
        yield client


def _module(tag: Tag) -> str:
    """The module that the generator makes of a subject."""
    return tag.name.replace(" ", "_").lower()


def test_the_generator_leaves_out_what_is_sent_as_a_table_and_nothing_else(generated: Generated) -> None:
    left_out = [
        (
            f"WARNING parsing POST /v1/{calculation.name}/batch within {_module(calculation.tag)}.",
            f"Unsupported content type text/{table}",
        )
        for calculation in CALCULATIONS
        if not calculation.body_only
        for table in ("csv", "tab-separated-values")
    ]
    within = f"POST /v1/table-check within {_module(RUN_THE_SERVICE)}"
    check = f"WARNING parsing {within}. Endpoint will not be generated."
    assert sorted(generated.warnings) == sorted([*left_out, (check, "Unsupported content type text/csv")])


def test_every_operation_is_a_function(generated: Generated, folder: Path) -> None:
    made = {file.stem for file in (folder / generated.package / "api").glob("*/*.py")} - {"__init__"}
    operations = {each["operationId"] for path in DOCUMENT["paths"].values() for each in path.values()}
    assert made == {re.sub("(?=[A-Z])", "_", name).lower() for name in operations - {"checkTable"}}


def main_job(models: ModuleType, **more: Any) -> Any:
    """The body of the main job, of the types of the generated package."""
    body = "PressureRotaryShoulderedJointBody"
    chosen = {
        "family": getattr(models, f"{body}Family").ROTARY_SHOULDERED,
        "component": getattr(models, f"{body}Component").DRILL_COLLAR,
        "operation": getattr(models, f"{body}Operation").MAKE_UP,
        "thread_hand": getattr(models, f"{body}ThreadHand").RIGHT,
        "arm_position": getattr(models, f"{body}ArmPositionType0").SQUARE,
        "box_outside_diameter": models.QuantityObject(value=6.5, unit="in"),
    }
    return getattr(models, body)(**{**JOINT, **JOB, **chosen, **more})


def test_the_main_job(generated: Generated, client: Any) -> None:
    """750 psi on the rod side: worked by hand in the tests of the service."""
    models = generated.module("models")
    compute = generated.module("api.set_the_machine.compute_pressure")
    answer = compute.sync(client=client, body=main_job(models))
    assert isinstance(answer, models.PressureAnswer)
    assert isinstance(answer.gauge_setting, models.ReadingShown)
    assert (answer.gauge_setting.value, answer.gauge_setting.unit) == (750, "psi")
    assert answer.cylinder_side == models.PressureAnswerCylinderSide.ROD
    assert isinstance(answer.torque, models.TorqueWindowPart)
    assert answer.torque.minimum.value < answer.torque_at_gauge_setting.value < answer.torque.maximum.value


PICKED = "gauge_setting,torque.target"


def test_the_main_job_of_which_two_members_are_picked(generated: Generated, client: Any) -> None:
    models, unset = generated.module("models"), generated.module("types").Unset
    compute = generated.module("api.set_the_machine.compute_pressure")
    answer = compute.sync(client=client, body=main_job(models, answers=PICKED))
    assert isinstance(answer, models.PressureAnswer)
    assert (answer.gauge_setting.value, answer.torque.target.unit) == (750, models.TorqueShownUnit.LBF_FT)
    left_out = (answer.status, answer.assumptions, answer.gauge, answer.torque.minimum)
    assert all(isinstance(each, unset) for each in left_out)
    assert answer.to_dict().keys() == {"gauge_setting", "torque", *ALWAYS} - {"seal"}
    assert models.PressureAnswer.from_dict(answer.to_dict()) == answer
    assert answer.asked.answers == PICKED


def test_a_refusal_is_a_problem(generated: Generated, client: Any) -> None:
    models = generated.module("models")
    asked = models.PressureRotaryShoulderedJointBody.from_dict(
        {**JOINT, **JOB, "family": "rotary_shouldered", "machine": "nowhere"}
    )
    refusal = generated.module("api.set_the_machine.compute_pressure").sync(client=client, body=asked)
    assert isinstance(refusal, models.Problem)
    assert (refusal.status, refusal.code) == (422, models.ProblemCode.UNKNOWN_MACHINE)
    assert [error.pointer for error in refusal.errors] == ["/machine"]


@pytest.mark.parametrize("asks", ["get", "compute"])
def test_a_torque(generated: Generated, client: Any, asks: str) -> None:
    """23,004 ft-lb for 6 1/4 in by 2-13/16 in: API RP 7G, from memory."""
    models = generated.module("models")
    question = generated.module(f"api.the_joint.{asks}_torque_rotary_shouldered")
    joint = {**JOINT, "box_outside_diameter": "6 1/4 in"}
    if asks == "compute":
        given = {"body": models.RotaryShoulderedRequestBody.from_dict(joint)}
    else:
        given = {**joint, "component": models.GetTorqueRotaryShoulderedComponent(joint["component"])}
    answer = question.sync(client=client, **given)
    assert isinstance(answer, models.RotaryShoulderedAnswer)
    assert answer.torque.target.value == pytest.approx(23004, abs=1)
    assert answer.torque.target.unit == models.TorqueShownUnit.LBF_FT


def test_a_batch(generated: Generated, client: Any) -> None:
    models = generated.module("models")
    body = models.PressureBatchRequest
    asked = body.from_dict(
        {
            "lines": [{"order": "W-17"}, {"order": "W-18", "connection": "NC51"}],
            "defaults": {**JOINT, **JOB, "family": "rotary_shouldered"},
        }
    )
    answer = generated.module("api.set_the_machine.batch_pressure").sync(client=client, body=asked)
    assert (answer.summary.answered, answer.summary.refused) == (1, 1)
    assert [line.carried["order"] for line in answer.lines] == ["W-17", "W-18"]
    answered, refused = answer.lines
    assert (answered.line_number, answered.line_status) == (1, models.PressureBatchLineLineStatus.ANSWERED)
    assert isinstance(answered.result, models.PressureAnswer)
    assert (answered.result.gauge_setting.value, answered.result.gauge_setting.unit) == (750, "psi")
    assert isinstance(refused.problem, models.Problem)
    assert refused.problem_code == models.ProblemCode.UNKNOWN_CONNECTION


def test_a_batch_of_which_two_members_are_picked(generated: Generated, client: Any) -> None:
    models, unset = generated.module("models"), generated.module("types").Unset
    asked = models.PressureBatchRequest.from_dict(
        {"lines": [{}, {"connection": "NC51"}], "defaults": {**JOINT, **JOB, "family": "rotary_shouldered"}}
    )
    batch = generated.module("api.set_the_machine.batch_pressure")
    answer = batch.sync(client=client, body=asked, answers=PICKED)
    answered, refused = answer.lines
    assert isinstance(answered.result, models.PressureAnswer)
    assert (answered.result.gauge_setting.value, answered.result.gauge_setting.unit) == (750, "psi")
    assert answered.result.torque.to_dict().keys() == {"target"}
    assert isinstance(answered.result.gauge, unset)
    assert isinstance(refused.problem, models.Problem)
    assert isinstance(refused.result, unset)


# openapi-typescript and openapi-fetch

TOOLS = ("openapi-typescript@7", "typescript@5", "openapi-fetch@0.17")
PROGRAM = (ROOT / "tests" / "clients" / "main_job.ts").read_text("utf-8")
SLIPS = {
    "a path": ("/v1/pressure/batch", "/v1/pressures/batch"),
    "a field": ("pin_bore:", "pin_boar:"),
    "a field that may be left out": ('units: "us"', 'unitz: "us"'),
    "a word": ('"make_up"', '"makeup"'),
    "a member that may be left out": ("torque?.target?.value", "torque.target.value"),
    "a member of a part": ("torque?.minimum?.value", "torque?.minimun?.value"),
    "a kind of value": ('"2-13/16 in"', "2.8125"),
    "a member of an answer": ("gauge_setting;", "gauge_seting;"),
    "a member of a line": ("line.line_status", "line.status"),
    "a member of the answer of a line": ("gauge_setting?.value", "gauge_seting?.value"),
    "a member of the problem of a line": ("line.problem?.title", "line.problem?.titel"),
    "a word of an answer": ('side: "cap" | "rod"', 'side: "cap"'),
    "a value of a line": ('connection: "NC51"', "connection: 51"),
    "how much": ('"full"', '"fuller"'),
    "a code of refusal": ('"unknown_machine"', '"unknown_machin"'),
}


@pytest.fixture(scope="module")
def checked(folder: Path) -> tuple[Path, str]:
    """The folder with the compiled program, and what was said of it and of its copies with a slip."""
    npm, npx = needed("npm"), needed("npx")
    (folder / "package.json").write_text('{"type": "module", "private": true}', "utf-8")
    installed = run(npm, "install", "--silent", *TOOLS, at=folder)
    assert installed.returncode == 0, installed.stdout + installed.stderr
    typed = run(npx, "openapi-typescript", "openapi.json", "--output", "dialset.d.ts", at=folder)
    assert typed.returncode == 0, typed.stderr
    programs = {"main_job.ts": PROGRAM}
    for number, (right, wrong) in enumerate(SLIPS.values()):
        assert PROGRAM.count(right) == 1, right
        programs[f"slip_{number}.ts"] = PROGRAM.replace(right, wrong)
    for name, text in programs.items():
        (folder / name).write_text(text, "utf-8")
    options = ("--strict", "--target", "es2022", "--module", "nodenext")
    return folder, run(npx, "tsc", *options, *programs, at=folder).stdout


def test_no_object_is_empty_by_its_type(checked: tuple[Path, str]) -> None:
    folder, _ = checked
    types = (folder / "dialset.d.ts").read_text("utf-8").splitlines()
    assert [line for line in types if "Record<string, never>" in line and line.startswith(" ")] == []


def test_the_program_is_of_the_right_types(checked: tuple[Path, str]) -> None:
    _, said = checked
    assert [line for line in said.splitlines() if not line.startswith(("slip_", " "))] == []


@pytest.mark.parametrize("number", range(len(SLIPS)), ids=SLIPS)
def test_a_slip_is_of_a_wrong_type(checked: tuple[Path, str], number: int) -> None:
    _, said = checked
    assert f"slip_{number}.ts" in said


def test_the_main_job_in_typescript(checked: tuple[Path, str], service: Server) -> None:
    folder, _ = checked
    done = run(needed("node"), "main_job.js", f"http://127.0.0.1:{service.port}", at=folder)
    assert done.returncode == 0, done.stderr
    said = json.loads(done.stdout)
    assert said["few"].pop("aim") == pytest.approx(29679, abs=1)
    assert said == {
        "value": 750,
        "unit": "psi",
        "side": "rod",
        "checked": True,
        "few": {"stops": 0, "asked": PICKED},
        "unknown": True,
        "lines": ["answered", "unknown_connection"],
        "settings": [750, "No connection of this name is known."],
        "aims": ["lbf.ft", None],
        "picked": ["gauge_setting", "torque", *(name for name in ALWAYS if name != "seal")],
        "cell": "25.4",
        "rows": 2,
    }
