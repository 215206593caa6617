"""What the one page of calculations must always hold."""

from collections import Counter
from pathlib import Path

import pytest

from api.answers.machines.profile import read_folder
from api.answers.shop import Shop
from api.answers.shop_tables.table import read_tables
from api.engineering.checks import NoAnswer
from api.engineering.torque_window import TorqueWindow
from api.http.single import PLAIN_TEXT
from api.registry.calculation import Calculation
from api.registry.calculations import CALCULATIONS
from api.registry.families import FAMILIES
from schemas.core.faults import load
from schemas.core.quantity_fields import PORTION, PRESENTATION
from schemas.machines.verdict import WorkDone
from schemas.rotary.joint import WindowChoice

DEMO = Path(__file__).parents[2] / "deploy" / "demo"
SHOP = Shop(read_folder(DEMO / "machines"), read_tables(DEMO / "tables"))


def test_field_names_are_unique_over_families() -> None:
    schemas = [family.fields() for family in FAMILIES]
    schemas += [WorkDone(), WindowChoice(), PRESENTATION, PORTION, PLAIN_TEXT]
    names = Counter(name for schema in schemas for name in schema.fields)
    assert [name for name, count in names.items() if count > 1] == []


@pytest.mark.parametrize("family", FAMILIES, ids=lambda family: family.key)
def test_every_family_gives_a_window(family) -> None:  # type: ignore[no-untyped-def]
    window = family.window(load(family.fields(), dict(family.example)), SHOP)
    assert isinstance(window, TorqueWindow)
    assert window.goal > 0
    assert window.sources
    for end in (window.minimum, window.target, window.maximum):
        assert end.status
        assert end.torque.basis or end.torque.reason


@pytest.mark.parametrize("family", FAMILIES, ids=lambda family: family.key)
def test_a_stated_tolerance_counts_or_is_refused(family) -> None:  # type: ignore[no-untyped-def]
    values = load(family.fields(), dict(family.example))
    try:
        wide = family.window({**values, "torque_tolerance": 0.05}, SHOP)
    except NoAnswer as refusal:
        assert [fault.code for fault in refusal.faults] == ["tolerance_not_needed"]
    else:
        assert wide.maximum.torque.value == pytest.approx(1.05 * wide.goal)


@pytest.mark.parametrize("calculation", CALCULATIONS, ids=lambda calculation: calculation.name)
def test_every_example_works(calculation: Calculation) -> None:
    """On a service without machines and tables, unless it is these that are asked for."""
    shop = SHOP if calculation.needs_machines or calculation.needs_tables else Shop()
    answer = calculation.answer(calculation.example, shop, "us")
    assert answer["inputs"] == dict(calculation.example)
    assert answer["sources"]
    files = {f"{kind}_{part}" for kind in ("profile", "table") for part in ("id", "revision", "hash")}
    assert set(answer["version"]) == {
        "program",
        "program_hash",
        "data",
        "policy_revision",
        "policy_hash",
        *files,
    }


@pytest.mark.parametrize("calculation", CALCULATIONS, ids=lambda calculation: calculation.name)
def test_every_request_field_is_described(calculation: Calculation) -> None:
    for schema in calculation.requests.values():
        for name, field in schema.fields.items():
            assert field.metadata.get("description") or name == "machine", name


def test_names_are_unique() -> None:
    assert len({calculation.name for calculation in CALCULATIONS}) == len(CALCULATIONS)
