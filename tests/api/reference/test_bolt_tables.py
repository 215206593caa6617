"""The tables of bolting: source and status in every row, and the tables of few rows."""

import pytest

from api.engineering.bolts.stretch import ENDS
from api.engineering.provenance import STATUSES
from api.reference.bolt_friction import HEXAGON_HEADS, NUT_FACTORS, SCATTER
from api.reference.bolt_threads import METRIC, THREADS
from api.reference.table import read_table
from schemas.bolts.request import BOLT_ENDS, TIGHTENING_METHODS

TABLES = (
    "bolt_threads_metric.csv", "bolt_threads_unified.csv", "bolt_grades_metric.csv", "bolt_grades_inch.csv",
    "bolt_bearing.csv", "preload_scatter.csv", "nut_factors.csv",
)  # fmt: skip


@pytest.mark.parametrize("name", TABLES)
def test_every_row_names_its_source_and_status(name: str) -> None:
    for row in read_table(name):
        assert row.text["source"].strip(), row
        assert row.text["status"] in STATUSES, row


def test_the_words_of_a_request_are_those_of_the_tables() -> None:
    assert set(SCATTER) == set(TIGHTENING_METHODS)
    assert len(TIGHTENING_METHODS) == len(set(TIGHTENING_METHODS))
    assert tuple(ENDS) == BOLT_ENDS


@pytest.mark.parametrize(
    ("method", "low", "high"),
    [
        # printed beside the tightening factors of VDI 2230:1986, in per cent; tensioners there and at NASA
        ("hydraulic_tensioner", 9, 23),
        ("torque_wrench_known_friction", 17, 23),
        ("power_driver", 26, 43),
        ("impact_wrench", 43, 60),
        # NASA and Machinery's Handbook
        ("torque_wrench_unlubricated", 35, 35),
        ("torque_wrench_lubricated", 25, 25),
        ("bolt_elongation", 3, 5),
        ("ultrasonic", 1, 10),
    ],
)
def test_scatter(method: str, low: float, high: float) -> None:
    assert 100 * min(each.low for each in SCATTER[method]) == pytest.approx(low, abs=0.6)
    assert 100 * max(each.high for each in SCATTER[method]) == pytest.approx(high, abs=0.6)


def test_scatter_and_nut_factors_are_ranges() -> None:
    assert all(0 < each.low <= each.high < 1 for rows in SCATTER.values() for each in rows)
    assert all(0.05 < each.low <= each.high < 0.6 for each in NUT_FACTORS)


def test_every_publication_agrees_on_what_applies_a_torque() -> None:
    tension = [name for name, rows in SCATTER.items() if not any(each.by_torque for each in rows)]
    assert tension == ["hydraulic_tensioner"]
    assert all(len({each.by_torque for each in rows}) == 1 for rows in SCATTER.values())
    assert all(len({each.source.source for each in rows}) == len(rows) for rows in SCATTER.values())


def test_a_bearing_face_fits_its_bolt() -> None:
    diameters = {each.geometry.d for each in THREADS if each.system == METRIC}
    for d, face in HEXAGON_HEADS.items():
        assert d in diameters
        assert d < face.hole < face.outside < 1.7 * d
