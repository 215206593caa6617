"""Rows of a shop's table against the formula of a connection that is known."""

import re

import pytest
from shop_tables import table_of

from api.answers.rotary.request import joint_from
from api.engineering.rotary.torque import make_up

ROTARY = "connection,box_outside_diameter [in],pin_bore [in]"
# API Spec 7, drill-collar table (public copy): NC50, 6-1/2 x 2-13/16 in: 29,679 ft-lb; NC46, 6-1/4 x 2-13/16:
# 22,426; API RP 7G tool joints (public copy): NC50 6-5/8 x 3-1/4 in, 120 ksi: 30,700 ft-lb rounded
COLLAR, NC46 = 29_679.0, 22_426.0
CASING = "size,weight [lb/ft],pipe_grade,thread_type"
# API RP 5C1 Table 1 (reprint): 5-1/2 in 17 lb/ft J55 STC: optimum 2,290 ft-lb
STC = 2_290.0


def told(columns: str, cells: str, target: float, unit: str = "ft-lb") -> str | None:
    table = table_of(f"{columns},target [{unit}],source,revision\n{cells},{target!r},invented sheet,1\n")
    return table.contradictions.get(2)


@pytest.mark.parametrize(
    ("columns", "cells", "torque"),
    [
        (ROTARY, "NC50,6 1/2,2 13/16", COLLAR),
        (f"{ROTARY},component", "NC50,6 1/2,2 13/16,drill_collar", COLLAR),
        (f"{ROTARY},component", "nc 50,6.5,2.8125,Drill Collar", COLLAR),
        (f"component,{ROTARY}", "drill collar,NC46,6 1/4,2 13/16", NC46),
        (f"{ROTARY},steel", "NC50,6 1/2,2 13/16,4145", COLLAR),
        (f"{ROTARY},compound_friction_factor", "NC50,6 1/2,2 13/16,1.1", 1.1 * COLLAR),
        (CASING, "5-1/2,17,J55,STC", STC),
        (CASING, "5 1/2,17,j-55,stc", STC),
    ],
)
def test_beyond_three_per_cent_of_a_published_torque(columns: str, cells: str, torque: float) -> None:
    for share in (0.975, 1.0, 1.025):
        assert told(columns, cells, share * torque) is None, share
    for share in (0.5, 0.965, 1.035):
        text = told(columns, cells, share * torque)
        assert text is not None, share
        match = re.search(r"Its target is ([0-9.]+) % (above|below) what the formula gives", text)
        assert match
        difference = float(match[1]) * (1 if match[2] == "above" else -1)
        assert difference == pytest.approx(100 * (share - 1), abs=0.5)  # the printed torque is rounded


def test_in_another_unit_the_same() -> None:
    assert told(ROTARY, "NC50,6 1/2,2 13/16", COLLAR * 1.3558179483314004, "N.m") is None
    assert told(ROTARY, "NC50,6 1/2,2 13/16", COLLAR, "N.m") is not None


@pytest.mark.parametrize(("component", "contradicts"), [("tool joint", True), ("drill collar", False)])
def test_a_stated_component_decides(component: str, contradicts: bool) -> None:
    """A tool joint is made up to 60 % of 120 ksi, not to a collar's stress level (API RP 7G)."""
    text = told(f"{ROTARY},component", f"NC50,6 1/2,2 13/16,{component}", COLLAR)
    assert (text is not None) == contradicts


@pytest.mark.parametrize(
    ("columns", "cells"),
    [
        ("model,box_outside_diameter [in],pin_bore [in]", "NC50,6 1/2,2 13/16"),  # no connection column
        (ROTARY, "bay joint 40,6 1/2,2 13/16"),  # none that is known
        (ROTARY, "NC50,6 1/2,6"),  # no such joint can be
        (ROTARY, "NC50,0.01,3000"),
        ("connection,box_outside_diameter,pin_bore", "NC50,6 1/2,2 13/16"),  # text, no quantities
        (f"{ROTARY},compound_friction_factor", "NC50,6 1/2,2 13/16,unknown"),
        # a factor that no compound has
        (f"{ROTARY},compound_friction_factor", "NC50,6 1/2,2 13/16,0"),
        (f"{ROTARY},compound_friction_factor", "NC50,6 1/2,2 13/16,0.08"),
        (f"{ROTARY},compound_friction_factor", "NC50,6 1/2,2 13/16,1.6"),
        # columns of another kind
        (f"{ROTARY},compound_friction_factor [in]", "NC50,6 1/2,2 13/16,1"),
        (f"{ROTARY},pin_stress_level [in]", "NC50,6 1/2,2 13/16,1"),
        ("connection,box_outside_diameter [lb/ft],pin_bore [in]", "NC50,6 1/2,2 13/16"),
        ("size,weight [in],pipe_grade,thread_type", "5-1/2,17,J55,STC"),
        ("size [in],weight [lb/ft],pipe_grade,thread_type", "5 1/2,17,J55,STC"),
        # a component that the formula does not know
        (f"{ROTARY},component", "NC50,6 1/2,2 13/16,bit"),
        (CASING, "5-1/2,17,J99,STC"),
        (CASING, "5-1/2,17,J55,BTC"),
        ("size,weight,pipe_grade,thread_type", "5-1/2,17,J55,STC"),
    ],
)
def test_what_no_formula_covers_contradicts_none_and_is_not_counted_as_compared(
    columns: str, cells: str
) -> None:
    table = table_of(f"{columns},target [ft-lb],source,revision\n{cells},12345,invented sheet,1\n")
    assert (table.rows_compared, table.contradictions) == (0, {})


def test_rows_that_were_compared_are_counted() -> None:
    rows = "NC50,6 1/2,2 13/16,29679,s,1\nbay 40,6 1/2,2 13/16,1,s,1\nNC46,6 1/4,2 13/16,1,s,1\n"
    table = table_of(f"{ROTARY},target [ft-lb],source,revision\n{rows}")
    assert (table.rows_compared, list(table.contradictions)) == (2, [4])


def test_a_low_torque_face_is_taken_either_way_where_the_table_does_not_say() -> None:
    """7-5/8 REG has two counterbores, and so two torques; a row with either of them is no contradiction."""
    cells, columns = "7-5/8 REG,9,3", f"{ROTARY},component"
    either = [_asked(face) for face in (True, False)]
    assert abs(either[0] / either[1] - 1) > 0.2
    for torque in either:
        assert told(columns, f"{cells},drill_collar", torque, "N.m") is None
    wrong = told(f"{columns},low_torque_face", f"{cells},drill_collar,yes", either[1], "N.m")
    assert wrong is not None


def _asked(face: bool) -> float:
    joint = joint_from(
        {
            "connection": "7-5/8 REG",
            "component": "drill_collar",
            "box_outside_diameter": 9 * 0.0254,
            "pin_bore": 3 * 0.0254,
            "low_torque_face": face,
        }
    )
    return make_up(
        joint.thread, joint.outside_diameter, joint.bore, joint.pin_stress, joint.box_stress
    ).torque
