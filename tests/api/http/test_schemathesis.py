"""Every operation, asked what its document allows and what it forbids, answers as the document says."""

from copy import deepcopy
from pathlib import Path
from typing import Any
from zlib import crc32

import pytest
import schemathesis
from hypothesis import settings
from schemathesis.specs.openapi.checks import content_type_conformance, negative_data_rejection

from api.app import create_app
from api.http.openapi.document import build
from api.http.openapi.paths import OTHER_FORMS
from api.registry.calculations import CALCULATIONS as REGISTERED
from api.registry.examples import EXAMPLE_PROFILE
from api.settings import Settings

DEMO = Path(__file__).parents[3] / "deploy" / "demo"
pytestmark = pytest.mark.evidence

DOCUMENT = build()
NAMES = {each.name for each in REGISTERED}
CALCULATIONS = [
    path
    for path, operations in DOCUMENT["paths"].items()
    if "post" in operations and path.removesuffix("/batch").removeprefix("/v1/") in NAMES
]
APP = create_app(Settings(machines=DEMO / "machines", tables=DEMO / "tables"))

# 422 is an answer to data that the schemas allow: physics and the shop refuse, and a schema cannot say what
# units there are, which fields go with which family, or which values contradict each other. 404 is the
# answer to an id that nothing has.
ACCEPTANCE = {
    "positive_data_acceptance": {"expected-statuses": ["200", "404", "422"]},
    "negative_data_rejection": {"expected-statuses": ["4xx"]},
}
# What a schema can say must not be refused in data that it allows.
SAID_BY_SCHEMAS = {
    "not_a_date",
    "not_a_flag",
    "not_a_list",
    "not_a_machine",
    "not_an_object",
    "not_null",
}
deterministic = settings(max_examples=2 * settings.default.max_examples, derandomize=True, database=None)


INLINE = {"PressureRotaryShoulderedJointBody", "ReadingBody", "PreloadRequestBody"}
"""Bodies in which machine profiles are made up too."""


def with_few_inline_machines(document: dict[str, Any]) -> dict[str, Any]:
    """The document with machines by their id alone but in a few bodies.

    A profile is one schema wherever it stands; made up for every family of every question, it alone would be
    nine tenths of all cases.
    """
    for name, schema in document["components"]["schemas"].items():
        machine = schema.get("properties", {}).get("machine")
        if machine and "anyOf" in machine and name not in INLINE:
            (by_id,) = (each for each in machine.pop("anyOf") if each.get("type") == "string")
            machine |= by_id
    return document


def loaded(document: dict[str, Any], **config: Any) -> Any:
    """A document, asked of the application without a socket.

    Built rather than fetched, because the path that a document is fetched from is not tested.
    """
    read = schemathesis.Config.from_dict({"seed": 1, "checks": ACCEPTANCE, **config})
    asked = schemathesis.openapi.from_dict(document, config=read)
    asked.app = APP
    return asked


def one_path(request: pytest.FixtureRequest, document: dict[str, Any], **config: Any) -> Any:
    """A path of a document; its cases are made when it is its turn, and forgotten after it."""
    request.node._nodeid = request.node.nodeid  # Schemathesis 4.32 asks for it; pytest 9.2 has it no more
    return loaded({**document, "paths": {request.param: document["paths"][request.param]}}, **config)


def check(case: schemathesis.Case) -> None:
    """Ask and compare with the document, by all checks of Schemathesis and one of ours."""
    # What is wrong with a line of a batch or of a table is told in the answer.
    in_lines = case.path.endswith("/batch") or case.media_type in ("text/csv", "text/tab-separated-values")
    excluded: list[Any] = [negative_data_rejection] if in_lines else []
    response = case.call()
    # The other forms of an answer stand beside its content, see `OTHER_FORMS`.
    others = case.operation.definition.raw["responses"].get("200", {}).get(OTHER_FORMS, {})
    if response.status_code == 200 and response.headers["content-type"][0].partition(";")[0] in others:
        excluded.append(content_type_conformance)
    case.validate_response(response, excluded_checks=excluded)
    assert case.meta is not None
    any_answer = case.path == "/v1/receipt-check"  # what a stored answer holds is in no schema
    if case.meta.generation.mode.is_positive and response.status_code == 422 and not any_answer:
        codes = {error["code"] for error in response.json()["errors"]}
        assert codes.isdisjoint(SAID_BY_SCHEMAS), response.text


def without_doubles(context: schemathesis.HookContext, case: schemathesis.Case) -> schemathesis.Case:
    """Leave out of the query what the body has too: that alone would be refused, and hide all else."""
    if isinstance(case.body, dict) and case.query:
        case.query = {name: value for name, value in case.query.items() if name not in case.body}
    return case


ASKED = with_few_inline_machines(deepcopy(DOCUMENT))


@pytest.fixture(params=DOCUMENT["paths"])
def anything(request: pytest.FixtureRequest) -> Any:
    asked = one_path(request, ASKED)
    asked.hook("map_case")(without_doubles)
    return asked


@schemathesis.pytest.from_fixture("anything").parametrize()
@deterministic
def test_every_operation_keeps_to_its_document(case: schemathesis.Case) -> None:
    check(case)


SENSIBLE: dict[str, tuple[Any, ...]] = {
    "component": ("drill_collar", "tool_joint"),
    "connection": ("NC50", "nc 38", "6 5/8 REG", "5-1/2 FH", "NC70", "7-5/8 REG", "4 H-90"),
    "box_outside_diameter": ("6 1/2 in", "4-3/4 in", "8 in", {"value": 9.5, "unit": "in"}, "250 mm", "11 in"),
    "pin_bore": ("2-13/16 in", "2 in", "57.15 mm", {"value": 3, "unit": "in"}, "0.1 in"),
    "pin_stress_level": ("62500 psi", "72000 psi", "430 MPa"),
    "box_stress_level": ("62500 psi", "72000 psi", "430 MPa"),
    "pin_yield_strength": ("110000 psi", "120 ksi", "758 MPa"),
    "box_yield_strength": ("110000 psi", "120 ksi", "758 MPa"),
    "torque_target": ("20000 ft-lb", "30 kN.m", {"value": 2500, "unit": "kgf.m"}),
    "torque_minimum": ("19000 ft-lb", "28 kN.m", "1e-3 N.m"),
    "torque_maximum": ("23000 ft-lb", "33 kN.m", "1e5 kN.m"),
    "torque_source": ("sheet 12 rev B",),
    "machine": ("north-bay-2", "south-bay-1", EXAMPLE_PROFILE),
    "arm_position": ("square", "unknown", "50 in", {"value": 1.2, "unit": "m"}),
    "quantity": ("1 in", "1e308 m", "-40 degC", {"value": 1e-320, "unit": "kN.m"}, "3 1/2 gpm", "1000 cP"),
    "to": ("mm", "N.m", "lbf.in", "degF", "L/min", "psi", "Pa.s"),
    "torque_unit": ("kgf.m", "dyn.cm"),
    "pressure_unit": ("bar", "Pa"),
    "length_unit": ("mm", "ft"),
    "force_unit": ("kN", "tf"),
    "stress_unit": ("MPa", "Pa"),
    "area_unit": ("mm2", "m2"),
    "answer": ("torque.target", "gauge_setting", "result", "pressure", "weaker_member"),
    "unit": ("N.m", "psi", "mm", "bar"),
}


def sensible(name: str, value: Any) -> Any:
    """A value of the table in the place of nearly every generated one, always the same for the same."""
    choices, number = SENSIBLE.get(name), crc32(repr(value).encode("utf-8", "replace"))
    return deepcopy(choices[number % len(choices)]) if choices and number % 32 else value


def in_query(value: Any) -> Any:
    """A quantity or a machine as it stands in a query, where it is text."""
    if isinstance(value, dict):
        return f"{value['value']} {value['unit']}" if "unit" in value else "north-bay-2"
    return value


def of_one_family(query: dict[str, Any]) -> dict[str, Any]:
    """A query with all that its family of joints needs and nothing of another, which no schema can say."""
    content = DOCUMENT["paths"]["/v1/pressure"]["post"]["requestBody"]["content"]["application/json"]
    reference = content["schema"]["discriminator"]["mapping"][query["family"]]
    body = DOCUMENT["components"]["schemas"][reference.rpartition("/")[2]]
    known = {*body["properties"], "format", "answer", "unit"}
    given = {field: value for field, value in query.items() if field in known}
    return {**dict.fromkeys(body["required"], ""), **given}


def with_sensible_values(context: schemathesis.HookContext, case: schemathesis.Case) -> schemathesis.Case:
    """Exchange what no engineer would ask, so that the calculations come to work."""
    query = dict(case.query or {})
    if "family" in query:
        query = of_one_family(query)
    if query.get("format") != "text":
        query = {name: value for name, value in query.items() if name not in ("answer", "unit")}
    case.query = {name: in_query(sensible(name, value)) for name, value in query.items()}
    if isinstance(case.body, dict):
        case.body = {name: sensible(name, value) for name, value in case.body.items()}
    return without_doubles(context, case)


@pytest.fixture(params=CALCULATIONS)
def calculation(request: pytest.FixtureRequest) -> Any:
    asked = one_path(
        request,
        DOCUMENT,
        generation={"mode": "positive"},
        phases={"examples": {"enabled": False}, "coverage": {"enabled": False}},
    )
    asked.hook("map_case")(with_sensible_values)
    return asked


@schemathesis.pytest.from_fixture("calculation").parametrize()
@deterministic
def test_every_calculation_keeps_to_its_document_for_sensible_values(case: schemathesis.Case) -> None:
    check(case)
