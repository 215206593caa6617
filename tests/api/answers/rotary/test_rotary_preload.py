"""``/v1/preload/rotary-shouldered``, from request to result."""

from typing import Any

import pytest
from rotary_preload_us import arm_without_shoulder, springs_of
from rotary_shouldered_us import Joint, random_joints
from rows import every_row

from api.answers.rotary.preload import ROTARY_PRELOAD_STEPS, rotary_preload_answer
from api.answers.rotary.torque import rotary_answer
from api.answers.shop import Policy, Shop
from api.engineering.checks import NoAnswer
from api.engineering.provenance import STATUSES
from api.reference.connections import CONNECTIONS, Connection
from api.reference.table import read_table
from api.registry.calculation import Calculation
from api.registry.tags import LOOK_UP
from schemas.core.faults import load
from schemas.rotary.joint import RotaryShoulderedJoint
from schemas.rotary.preload import RotaryPreloadAnswer, RotaryPreloadRequest

PRELOAD = Calculation(
    "preload/rotary-shouldered", LOOK_UP, "", "", {"": RotaryPreloadRequest()}, rotary_preload_answer,
    RotaryPreloadAnswer(), (), {}, ROTARY_PRELOAD_STEPS,
)  # fmt: skip
COLLAR = {"connection": "NC50", "component": "drill_collar", "box_outside_diameter": "6.5 in",
          "pin_bore": "2-13/16 in", "applied_torque": "29679 ft-lb"}  # fmt: skip
TOOL_JOINT = {"connection": "NC50", "component": "tool_joint", "box_outside_diameter": "6 5/8 in",
              "pin_bore": "3 1/4 in", "applied_torque": "30700 ft-lb"}  # fmt: skip
FULL_HOLE = {"connection": "4-1/2 FH", "component": "tool_joint", "box_outside_diameter": "6 in",
             "pin_bore": "3 in", "applied_torque": "20868 ft-lb"}  # fmt: skip


def asked(of: dict[str, str], shop: Shop | None = None, **changed: Any) -> Any:
    return PRELOAD.answer({**of, **changed}, shop or Shop(), "us")


def refused(of: dict[str, str], **changed: Any) -> list[tuple[str, str | None]]:
    with pytest.raises(NoAnswer) as no_answer:
        asked(of, **changed)
    return [(fault.code, fault.field) for fault in no_answer.value.faults]


@pytest.mark.parametrize(
    ("of", "name", "expected", "share"),
    [
        # hand-worked from API RP 7G App. A: 62,500 psi on 11.5355 in2; 72,000 psi on 10.41462 in2
        ({**COLLAR, "applied_torque": "29679.4 ft-lb"}, "preload", 720_971, 3e-6),
        (COLLAR, "box_stress", 62_500, 2e-5),
        ({**TOOL_JOINT, "applied_torque": "30730 ft-lb"}, "preload", 749_853, 2e-5),
        ({**TOOL_JOINT, "applied_torque": "30730 ft-lb"}, "pin_share_of_yield", 0.6, 2e-5),
        # one pipe data sheet, rounded to 100
        (TOOL_JOINT, "pin_torsional_yield", 51_200, 50 / 51_200),
        (TOOL_JOINT, "break_in_torque", 25_600, 50 / 25_600),
        # one printed torsional yield, of the edition without the cap; with it 1.2 % less
        ({**FULL_HOLE, "edition": "1998"}, "pin_torsional_yield", 34_780, 5e-4),
    ],
)  # fmt: skip
def test_published_and_hand_worked_values(of: Any, name: str, expected: float, share: float) -> None:
    value = asked(of)[name]
    assert (value["value"] if isinstance(value, dict) else value) == pytest.approx(expected, rel=share)


def test_the_one_printed_tensile_strength_at_make_up() -> None:
    """A data sheet prints 1,133,400 lb for NC50 6-5/8 x 3-1/4 at 30,700 ft-lb, and does not say how.

    Ym Ap / 1.1 is 0.24 % above it, the tension that yields a pin in contact 1.4 % below: so it shows neither
    a divisor nor its absence. It only says that the limit is well below Ym Ap.
    """
    limits = asked(TOOL_JOINT)["tension_limits"]
    P1 = limits["pin_tensile_limit"]["value"]
    assert abs(P1 / 1.1 / 1_133_400 - 1) < 0.003
    assert limits["contact_yield_tension"]["value"] == pytest.approx(1_133_400, rel=0.016)
    assert limits["lowest_limit"] == limits["contact_yield_tension"]


def request_of(joint: Joint) -> dict[str, Any]:
    given: dict[str, Any] = {
        "connection": joint.connection, "component": "tool_joint",
        "box_outside_diameter": f"{joint.OD:.4f} in", "pin_bore": f"{joint.ID:.4f} in",
        "compound_friction_factor": joint.compound_factor, "edition": "2003" if joint.capped else "1998",
        "pin_yield_strength": "120000 psi", "box_yield_strength": "120000 psi", "confirm_size": True,
    }  # fmt: skip
    return given if joint.low_torque_face is None else {**given, "low_torque_face": joint.low_torque_face}


def reference_rows() -> list[dict[str, str]]:
    columns = {
        "connection": "designation", "tpi": "threads_per_inch", "taper_in_per_ft": "taper_in_per_ft",
        "pitch_dia_C_in": "pitch_diameter", "pin_length_LPC_in": "pin_length",
        "box_counterbore_Qc_in": "counterbore",
        "low_torque_face_counterbore_in": "low_torque_face_counterbore",
        "thread_height_H_in": "thread_height", "root_truncation_Srs_in": "root_truncation",
        "half_angle_deg": "half_angle_degrees",
    }  # fmt: skip
    return [{to: row.text[ours] for to, ours in columns.items()} for row in read_table("connections.csv")]


JOINTS = list(random_joints(300, 11, reference_rows(), largest_bore_fraction=0.82))
JOINTS = [joint for joint in JOINTS if joint.ID >= 0.5]  # no smaller bore is taken


def test_random_joints_agree_with_springs_in_other_units() -> None:
    """Origin: independent, two springs in US units."""
    for number, joint in enumerate(JOINTS):
        made, low = joint.make_up(), min(joint.make_up()["pin_area"], joint.make_up()["box_area"])
        torque = (0.1 + 0.85 * number / len(JOINTS)) * 120_000 * low * made["arm"] / 12
        torque *= joint.compound_factor
        springs = springs_of(joint, torque)
        tension = (0.05 + 0.9 * (number % 7) / 7) * springs.first_yield(120_000)
        told = asked(request_of(joint), applied_torque=f"{torque!r} ft-lb", axial_tension=f"{tension!r} lbf")
        under, limits = told["under_tension"], told["tension_limits"]
        P1, factor = 120_000 * made["pin_area"], joint.compound_factor
        pairs = [
            (told["preload"], springs.preload),
            (told["pin_torsional_yield"], factor * 120_000 * made["pin_area"] * made["arm"] / 12),
            (told["box_torsional_yield"], factor * 120_000 * made["box_area"] * made["arm"] / 12),
            (limits["separation_tension"], springs.separation()),
            (limits["lowest_limit"], min(springs.separation(), springs.first_yield(120_000))),
            (limits["separated_pin_yield_torque"], factor * P1 * arm_without_shoulder(joint) / 12),
            (under["pin_force"], springs.pin_force(tension)),
            (under["shoulder_force"], springs.shoulder_force(tension)),
        ]
        for ours, theirs in pairs:
            assert ours["value"] == pytest.approx(theirs, rel=1e-8, abs=1e-8 * springs.preload), joint


def test_preload_of_the_make_up_torque_comes_back() -> None:
    """The inverse of ``/v1/torque/rotary-shouldered``: any joint, stress levels and compound factor."""
    for joint in JOINTS:
        raw = request_of(joint)
        levels = {
            "pin_stress_level": f"{joint.pin_stress} psi",
            "box_stress_level": f"{joint.box_stress} psi",
        }
        forward = rotary_answer(load(RotaryShoulderedJoint(), {**raw, **levels}), Shop()).result
        values = load(RotaryPreloadRequest(), {**raw, "applied_torque": "1 ft-lb"})
        values["applied_torque"] = forward["torque"].target.torque.value
        back = rotary_preload_answer(values, Shop()).result
        assert back["preload"] == pytest.approx(forward["preload"], rel=1e-9)


@pytest.mark.parametrize("factor", [0.8, 1.0, 1.25])
def test_the_friction_factor_is_divided_out(factor: float) -> None:
    plain, told = asked(TOOL_JOINT), asked(TOOL_JOINT, compound_friction_factor=factor)
    assert told["preload"]["value"] == pytest.approx(plain["preload"]["value"] / factor, rel=1e-9)
    for name in ("pin_torsional_yield", "box_torsional_yield", "torsional_yield", "break_in_torque"):
        assert told[name]["value"] == pytest.approx(plain[name]["value"] * factor, rel=1e-9)
    for name in ("coincidence_torque", "separated_pin_yield_torque"):
        ours, reference = told["tension_limits"][name]["value"], plain["tension_limits"][name]["value"]
        assert ours == pytest.approx(reference * factor, rel=1e-9)
    assert told["tension_limits"]["pin_tensile_limit"] == plain["tension_limits"]["pin_tensile_limit"]


def test_torque_scaled_by_the_factor_gives_the_same_preload() -> None:
    """API RP 7A1: 21,914 ft-lb times 1.1 is 24,105 ft-lb, an example in a public text."""
    plain = asked(TOOL_JOINT, applied_torque="21914 ft-lb")
    told = asked(TOOL_JOINT, applied_torque="24105 ft-lb", compound_friction_factor=1.1)
    assert told["preload"]["value"] == pytest.approx(plain["preload"]["value"], rel=3e-5)


@pytest.mark.parametrize(
    ("of", "yields", "weaker"),
    [
        (TOOL_JOINT, {}, "pin"),  # 10.41 in2 against 12.82 in2
        (TOOL_JOINT, {"box_yield_strength": "90000 psi"}, "box"),  # 1,249,755 lbf against 1,154,167 lbf
        (COLLAR, {}, "box"),  # 12.50 in2 against 11.54 in2
        (COLLAR, {"pin_yield_strength": "100000 psi", "box_yield_strength": "110000 psi"}, "pin"),
        # standard steel of the box, 110,000 psi: 12.50 in2 at 80,000 against 11.54 in2 at 110,000
        (COLLAR, {"pin_yield_strength": "80000 psi"}, "pin"),
    ],
)
def test_weaker_member(of: Any, yields: dict[str, str], weaker: str) -> None:
    told = asked(of, **yields)
    assert told["weaker_member"] == weaker
    known = told["torsional_yield"] is not None
    assert told["weaker_member_basis"].startswith("yields first" if known else "has the smaller section")
    if known:
        assert told["torsional_yield"] == told[f"{weaker}_torsional_yield"]


@pytest.mark.parametrize(
    ("changed", "reason"),
    [
        ({"box_outside_diameter": "6 in"}, None),
        ({"box_yield_strength": "110000 psi"}, "120,000 psi"),
        ({"component": "drill_collar"}, "full make-up torque"),
    ],
)
def test_break_in_torque_is_told_of_usual_tool_joints_only(
    changed: dict[str, str], reason: str | None
) -> None:
    """At 60,000 psi half of the torsional yield at 120,000 psi, be pin or box the weaker."""
    told = asked(TOOL_JOINT, **changed, applied_torque="10000 ft-lb")
    if reason is None:
        assert told["weaker_member"] == "box"
        assert told["break_in_torque"]["value"] == pytest.approx(told["torsional_yield"]["value"] / 2)
    else:
        assert told["break_in_torque"] is None
        assert reason in told["reasons"]["break_in_torque"]


LOOSE = {**TOOL_JOINT, "applied_torque": "15000 ft-lb"}
"""Below T3: its shoulder separates before the pin yields."""


def test_at_separation_nothing_is_left_on_the_shoulder() -> None:
    tension = asked(LOOSE)["tension_limits"]["separation_tension"]
    under = asked(LOOSE, axial_tension=tension)["under_tension"]
    assert (under["shoulder_force"]["value"], under["shoulder"]) == (0, "separated")
    assert under["pin_force"]["value"] == pytest.approx(tension["value"], rel=1e-9)
    assert under["separation_margin"]["value"] == pytest.approx(0, abs=1e-3)


def test_no_force_jumps_at_separation() -> None:
    Po = asked(LOOSE)["tension_limits"]["separation_tension"]["value"]
    below, above = (
        asked(LOOSE, axial_tension=f"{(1 + by) * Po!r} lbf")["under_tension"] for by in (-1e-7, 1e-7)
    )
    assert (below["shoulder"], above["shoulder"]) == ("closed", "separated")
    assert below["separation_margin"]["value"] > 0 > above["separation_margin"]["value"]
    for name in ("pin_force", "shoulder_force"):
        assert below[name]["value"] == pytest.approx(above[name]["value"], abs=1e-6 * Po)


def test_without_tension_pin_and_shoulder_have_the_preload() -> None:
    told = asked(TOOL_JOINT, axial_tension="0 lbf")
    assert told["under_tension"]["pin_force"] == told["under_tension"]["shoulder_force"] == told["preload"]
    assert told["under_tension"]["pin_stress"] == told["pin_stress"]


@pytest.mark.parametrize(
    ("of", "name", "shoulder"),
    [(TOOL_JOINT, "contact_yield_tension", "closed"), (LOOSE, "pin_tensile_limit", "separated")],
)
def test_at_its_yield_tension_the_pin_is_at_its_yield_strength(of: Any, name: str, shoulder: str) -> None:
    """In contact and after separation; no margin is left there, and a little more is refused."""
    limit = asked(of)["tension_limits"][name]["value"]
    under = asked(of, axial_tension=f"{limit!r} lbf")["under_tension"]
    assert (under["pin_share_of_yield"], under["shoulder"]) == (pytest.approx(1, rel=1e-9), shoulder)
    assert under["pin_yield_margin"]["value"] == pytest.approx(0, abs=1e-3)
    assert refused(of, axial_tension=f"{1.00001 * limit!r} lbf") == [("pin_yield_exceeded", "axial_tension")]


def test_at_its_torsional_yield_a_joint_is_still_answered() -> None:
    told = asked(TOOL_JOINT, applied_torque=asked(TOOL_JOINT)["torsional_yield"], axial_tension="0 lbf")
    assert told["pin_share_of_yield"] == pytest.approx(1, rel=1e-9)
    assert told["tension_limits"]["lowest_limit"]["value"] == pytest.approx(0, abs=0.01)
    torque = f"{told['torsional_yield']['value'] * (1 + 5e-10)!r} ft-lb"  # a rounding of units above it
    limits = asked(TOOL_JOINT, applied_torque=torque, axial_tension="0 lbf")["tension_limits"]
    assert limits["lowest_limit"]["value"] == 0


@pytest.mark.parametrize(("share", "first"), [(0.99, "shoulder"), (1.01, "pin")])
def test_about_T3_separation_and_yield_change_places(share: float, first: str) -> None:
    T3 = asked(TOOL_JOINT)["tension_limits"]["coincidence_torque"]["value"]
    at = asked(TOOL_JOINT, applied_torque=f"{T3!r} ft-lb")["tension_limits"]
    assert at["separation_tension"]["value"] == pytest.approx(at["pin_tensile_limit"]["value"], rel=1e-9)
    near = asked(TOOL_JOINT, applied_torque=f"{share * T3!r} ft-lb")["tension_limits"]
    assert near["lowest_limit_basis"].startswith(f"the {first} ")
    assert (near["contact_yield_tension"] is None) == (first == "shoulder")


@pytest.mark.parametrize(
    ("of", "changed", "faults"),
    [
        (TOOL_JOINT, {"applied_torque": "51300 ft-lb"},
         [("torsional_yield_exceeded", "applied_torque")]),
        (TOOL_JOINT, {"applied_torque": "90000 ft-lb"}, [("torsional_yield_exceeded", "applied_torque")] * 2),
        (TOOL_JOINT, {"applied_torque": "52000 ft-lb", "axial_tension": "1200000 lbf"},
         [("torsional_yield_exceeded", "applied_torque")]),
        (COLLAR, {"box_yield_strength": "60000 psi"}, [("torsional_yield_exceeded", "applied_torque")]),
        (TOOL_JOINT, {"axial_tension": "1130000 lbf"}, [("pin_yield_exceeded", "axial_tension")]),
        (TOOL_JOINT, {"applied_torque": "60000 ft-lb", "axial_tension": "1300000 lbf"},
         [("torsional_yield_exceeded", "applied_torque"), ("pin_yield_exceeded", "axial_tension")]),
        # standard steel, 110,000 psi: the box yields at 1.76 x 29,679 = 52,235 ft-lb, the pin at 56,593
        (COLLAR, {"applied_torque": "52240 ft-lb"}, [("torsional_yield_exceeded", "applied_torque")]),
        (COLLAR, {"applied_torque": "94980 ft-lb", "box_yield_strength": "200000 psi",
                  "pin_yield_strength": "200000 psi"}, [("torsional_yield_exceeded", "applied_torque")]),
        (COLLAR, {"applied_torque": "29679 kN.m"}, [("torsional_yield_exceeded", "applied_torque")] * 2),
        (COLLAR, {"axial_tension": "2500000 lbf"}, [("pin_yield_exceeded", "axial_tension")]),
        (COLLAR, {"edition": "1998"}, [("edition_not_for_collars", "edition")]),
        (COLLAR, {"pin_bore": "5 in"}, [("impossible_geometry", "pin_bore")]),
    ],
)  # fmt: skip
def test_refusals(of: Any, changed: dict[str, str], faults: list[tuple[str, str]]) -> None:
    assert refused(of, **changed) == faults


def test_a_collar_without_yield_strengths_is_of_standard_steel() -> None:
    """API Spec 7-1, from memory: 110,000 psi to 6-7/8 in; 62.5/110 of it at the stress level of the table."""
    told = asked({**COLLAR, "applied_torque": "29679.4 ft-lb"})
    assert told["box_share_of_yield"] == pytest.approx(62.5 / 110, rel=1e-5)
    assumed = {each["field"]: each["value"] for each in told["assumptions"]}
    assert assumed["pin_yield_strength"] == assumed["box_yield_strength"] == "110,000 psi"
    assert told["status"] == "read"


def test_without_steel_from_memory_a_collar_gets_null_with_its_reason() -> None:
    strict = Shop(policy=Policy(accepted_statuses=frozenset({"read", "reprint", "stated"})))
    told = asked(COLLAR, strict)
    for name in ("pin_share_of_yield", "box_share_of_yield", "torsional_yield", "break_in_torque"):
        assert told[name] is None
    assert "pin_yield_strength" in told["reasons"]["torsional_yield"]
    assert told["weaker_member"] == "box"
    over = {"applied_torque": "94980 ft-lb"}  # no steel taken here has more than 200,000 psi
    with pytest.raises(NoAnswer, match="even of the strongest steel"):
        asked(COLLAR, strict, **over)


@pytest.mark.parametrize(
    ("connection", "od", "bore", "within", "other"),
    [
        ("NC38", "5 in", "2-1/4 in", "yes", 1.8),  # printed 2.38 (API Spec 7)
        ("NC50", "6 3/4 in", "2-13/16 in", "yes", None),  # printed 2.37 (API Spec 7)
        ("NC50", "6 in", "2-13/16 in", "below", None),
        ("NC50", "7 1/4 in", "2-13/16 in", "above", None),  # printed 3.12 (API Spec 7)
        ("NC38", "4 5/8 in", "2-1/4 in", "below", 1.8),
        ("NC38", "4-11/16 in", "2-1/4 in", "below_but_accepted_by_others", 1.8),
    ],
)
def test_bending_strength_ratio(
    connection: str, od: str, bore: str, within: str, other: float | None
) -> None:
    sizes: dict[str, Any] = {"connection": connection, "box_outside_diameter": od, "pin_bore": bore}
    ratio = asked(COLLAR, **sizes, applied_torque="8000 ft-lb")["bending_strength_ratio"]
    assert (ratio["within_range"], ratio["other_standards_minimum"]) == (within, other)


def test_nothing_from_memory_is_told_where_the_shop_accepts_none_but_it_still_limits() -> None:
    shop = Shop(policy=Policy(accepted_statuses=frozenset({*STATUSES, "stated"} - {"from memory"})))
    told = asked(TOOL_JOINT, shop, axial_tension="100000 lbf", steps=True)
    for name in ("tension_limits", "under_tension"):
        assert told[name] is None
        assert told["reasons"][name].startswith("withheld")
    assert not {"Po", "P1", "Pc", "T3", "T4", "Fp", "Fs"} & {step["symbol"] for step in told["steps"]}
    with pytest.raises(NoAnswer):
        asked(TOOL_JOINT, shop, axial_tension="1130000 lbf")


def test_every_factor_has_its_status_and_no_stress_level_is_assumed() -> None:
    told = asked(TOOL_JOINT)
    assert all(each["status"] in (*STATUSES, "stated") and each["source"] for each in told["factors"])
    assert "stress_level" not in str(told["assumptions"])
    assert {each["status"] for each in told["break_in"]} == {"read", "from memory"}


def test_the_working_has_every_step() -> None:
    """The data sheet of the joint prints a diameter of equal areas of 6.390 in; the formula gives 6.389."""
    told = asked(TOOL_JOINT, axial_tension="300000 lbf", steps=True)
    shown = {step["symbol"]: step["value"] for step in told["steps"]}
    assert list(shown) == [step.symbol for step in ROTARY_PRELOAD_STEPS]
    assert shown["OD_eq"]["value"] == pytest.approx(6.390, abs=0.0012)
    assert shown["F0"] == told["preload"]
    assert shown["Fs"] == told["under_tension"]["shoulder_force"]


@every_row("connection", CONNECTIONS, ids=lambda connection: connection.designation)
def test_every_connection_is_answered(connection: Connection) -> None:
    face = {} if connection.low_torque_face_counterbore is None else {"low_torque_face": False}
    sizes = {
        "box_outside_diameter": f"{1.25 * connection.geometry.counterbore!r} m",
        "pin_bore": f"{0.4 * connection.geometry.pitch_diameter!r} m",
    }
    told = asked(TOOL_JOINT, connection=connection.designation, **face, **sizes, applied_torque="500 ft-lb")
    assert told["connection"] == connection.designation
    assert told["torsional_yield"]["value"] > told["break_in_torque"]["value"] > 500
    assert told["tension_limits"]["lowest_limit_basis"].startswith("the shoulder separates")


@pytest.mark.parametrize(
    ("bore", "pounds"),
    # pin tensile yield of NC50 tool joints in the tool-joint table of API RP 7G, from memory
    [("3 3/4 in", 939_095), ("3 1/2 in", 1_109_920), ("3 1/4 in", 1_268_963), ("2 3/4 in", 1_551_706)],
)
def test_old_tensile_tables_take_the_pin_nearer_to_its_shoulder(bore: str, pounds: int) -> None:
    """At 5/8 in from it instead of 3/4 in: their values are 1.2 to 2.1 % above ours, as the factor says."""
    told = asked(TOOL_JOINT, pin_bore=bore, applied_torque="10000 ft-lb")
    assert 1.012 < pounds / told["tension_limits"]["pin_tensile_limit"]["value"] < 1.0215
    assert any("5/8 in" in factor["value"] for factor in told["factors"])


@pytest.mark.parametrize(
    ("of", "changed", "code", "level"),
    [
        (COLLAR, {"applied_torque": "29000 ft-lb"}, "preload_below_usual", "look"),
        (COLLAR, {"applied_torque": "33000 ft-lb"}, "preload_above_usual", "look"),
        (COLLAR, {}, "bending_strength_ratio", "look"),  # 2.03, and 2.25 is the least at 6-1/2 in
        (
            COLLAR,
            {"pin_bore": "4.3 in", "applied_torque": "500 ft-lb", "confirm_size": True},
            "no_wall_at_pin_nose",
            "look",
        ),
        (TOOL_JOINT, {"applied_torque": "20000 ft-lb"}, "preload_not_usual", "look"),
        (TOOL_JOINT, {"edition": "1998"}, "old_edition", "look"),
        (LOOSE, {"axial_tension": "1000000 lbf"}, "shoulder_separates", "stop"),
        ({**TOOL_JOINT, "applied_torque": "2000 ft-lb"}, {"box_outside_diameter": "5 3/8 in"},
         "worn_shoulder", "stop"),
    ],
)  # fmt: skip
def test_findings_of_this_very_joint(of: Any, changed: dict[str, Any], code: str, level: str) -> None:
    told = {each["code"]: each["level"] for each in asked(of, **changed)["findings"]}
    assert told[code] == level
    assert asked(TOOL_JOINT)["findings"] == []


def test_numbers_of_a_finding_are_in_the_asked_units() -> None:
    """62,500 psi is the level of API RP 7G; 29,000 ft-lb is 29,000 / 29,679.4 of it."""
    (found,) = [each for each in asked(COLLAR, applied_torque="29000 ft-lb")["findings"]
                if each["code"] == "preload_below_usual"]  # fmt: skip
    assert found["limit"] == {"value": pytest.approx(62500), "unit": "psi"}
    assert found["value"]["value"] == pytest.approx(62500 * 29000 / 29679.4, rel=1e-5)
    assert "62500 psi" in found["text"]


def test_the_status_is_that_of_the_torque_formula_and_the_connection() -> None:
    told = asked(TOOL_JOINT)
    assert (told["status"], told["tension_limits"]["status"]) == ("read", "from memory")
    assert asked({**FULL_HOLE, "edition": "1998"})["status"] == "from memory"  # its dimensions are
    compound = {"field": "compound_friction_factor"}
    assert any(compound.items() <= each.items() for each in told["assumptions"])
