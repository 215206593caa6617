"""Make-up torque against a second, independent implementation, against print, and by its properties."""

from dataclasses import replace
from math import isclose

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rotary_shouldered_us import Joint, random_joints

from api.engineering.rotary.sizes import INCH, ThreadGeometry, pin_nose_diameter
from api.engineering.rotary.sizes import bending_strength_ratio as our_ratio
from api.engineering.rotary.torque import MakeUp, box_area, make_up
from api.reference.connections import CONNECTIONS, Connection, find_connection
from api.reference.make_up_torque import PUBLISHED, PublishedTorque
from api.reference.table import read_table

PSI, LBF, LBF_FT = 6894.757293168362, 4.4482216152605, 1.3558179483314004
SEED = 7


def named(name: str) -> Connection:
    found = find_connection(name)
    assert found is not None
    return found


def of_row(row: PublishedTorque, **changed: float | bool) -> MakeUp:
    connection = named(row.key.connection)
    thread = connection.with_low_torque_face() if row.key.low_torque_face else connection.geometry
    capped = bool(changed.pop("cap", row.key.capped))
    thread = replace(thread, **changed)
    stress = row.key.stress_level
    return make_up(thread, row.box_outside_diameter, row.pin_bore, stress, stress, cap_shoulder_radius=capped)


def reference_rows() -> list[dict[str, str]]:
    """The thread table as the independent implementation reads it: names and inches, as printed."""
    columns = {
        "connection": "designation",
        "tpi": "threads_per_inch",
        "taper_in_per_ft": "taper_in_per_ft",
        "pitch_dia_C_in": "pitch_diameter",
        "pin_length_LPC_in": "pin_length",
        "box_counterbore_Qc_in": "counterbore",
        "low_torque_face_counterbore_in": "low_torque_face_counterbore",
        "thread_height_H_in": "thread_height",
        "root_truncation_Srs_in": "root_truncation",
        "half_angle_deg": "half_angle_degrees",
    }
    return [
        {theirs: row.text[ours] for theirs, ours in columns.items()} for row in read_table("connections.csv")
    ]


def ours(joint: Joint) -> tuple[MakeUp, float]:
    connection = named(joint.connection)
    thread = connection.with_low_torque_face() if joint.low_torque_face else connection.geometry
    od, bore = joint.OD * INCH, joint.ID * INCH
    made = make_up(
        thread,
        od,
        bore,
        joint.pin_stress * PSI,
        joint.box_stress * PSI,
        joint.compound_factor,
        cap_shoulder_radius=joint.capped,
    )
    return made, our_ratio(connection.geometry, od, bore)


@pytest.mark.parametrize("count", [500, pytest.param(20_000, marks=pytest.mark.evidence)])
def test_random_joints_agree_with_an_independent_implementation(count: int) -> None:
    """Origin: independent, written from the formula page alone in US units; see tests/independent."""
    worst = 0.0
    for joint in random_joints(count, SEED, reference_rows(), largest_bore_fraction=0.82):
        theirs, (made, ratio) = joint.make_up(), ours(joint)
        pairs = [
            (made.torque / LBF_FT, theirs["torque_ftlb"]),
            (made.preload / LBF, theirs["preload_lbf"]),
            (made.Ap / INCH**2, theirs["pin_area"]),
            (made.Ab / INCH**2, theirs["box_area"]),
            (made.Rt / INCH, theirs["rt"]),
            (made.Rs / INCH, theirs["rs"]),
            (made.arm / INCH, theirs["arm"]),
            (made.OD_equal / INCH, theirs["od_equal_area"]),
            (ratio, joint.bending_strength_ratio()),
        ]
        worst = max(worst, *(abs(our / their - 1) for our, their in pairs))
        assert worst < 1e-9, (joint, pairs)
        assert made.weaker_member == theirs["weaker"], joint


FULL = [row for row in PUBLISHED if row.resolution < 2 * LBF_FT and not row.doubt]


def test_leaving_out_the_cap_on_the_shoulder_radius_misses_the_printed_tables() -> None:
    """Only where the pin is weaker does the cap act; there most rows move by more than the tolerance."""
    capped = [row for row in FULL if row.key.capped]
    missed = [row for row in capped if not isclose(of_row(row, cap=False).torque, row.torque, rel_tol=5e-4)]
    worst = max(of_row(row, cap=False).torque / row.torque - 1 for row in capped)
    assert len(missed) > len(capped) / 3
    assert 0.03 < worst < 0.04


def test_the_printed_three_decimal_counterbore_misses_the_printed_tables() -> None:
    """Box-limited rows of connections whose counterbore is no whole thousandth move beyond 0.05 %."""

    def printed(row: PublishedTorque) -> float:
        exact = named(row.key.connection).geometry.counterbore
        return round(exact / INCH + 1e-9, 3) * INCH

    rows = [row for row in FULL if not row.key.low_torque_face]
    missed = [
        row
        for row in rows
        if not isclose(of_row(row, counterbore=printed(row)).torque, row.torque, rel_tol=5e-4)
    ]
    assert len(missed) >= 5
    assert all(of_row(row).weaker_member == "box" for row in missed)


def test_printed_worn_pac_needs_the_wider_counterbore() -> None:
    """Addendum 1 (2003) prints 3,424 ft-lb for 2-7/8 PAC, 3-1/8 x 1-1/2 in; its counterbore is a doubt.

    With the 2-37/64 in of API Spec 7-2 the capped value is 0.25 % low; with 2-19/32 in it is met.
    """
    pac = named("2-7/8 PAC").geometry
    stress = 72000 * PSI
    capped = make_up(pac, 3.125 * INCH, 1.5 * INCH, stress, stress).torque / LBF_FT
    wider = replace(pac, counterbore=(2 + 19 / 32) * INCH)
    as_printed = make_up(wider, 3.125 * INCH, 1.5 * INCH, stress, stress).torque / LBF_FT
    assert capped == pytest.approx(3424, rel=0.003)
    assert as_printed == pytest.approx(3424, rel=0.0003)


Drawn = tuple[ThreadGeometry, float, float]
joints = st.builds(
    lambda connection, od, bore: (
        connection.geometry,
        connection.geometry.counterbore * od,
        pin_nose_diameter(connection.geometry) * bore,
    ),
    st.sampled_from(CONNECTIONS),
    st.floats(1.02, 1.6),
    st.floats(0.1, 0.97),
)
S = 62500 * PSI


@given(joints, st.floats(1.001, 2.0))
def test_torque_rises_with_stress(joint: Drawn, factor: float) -> None:
    thread, od, bore = joint
    low, high = (
        make_up(thread, od, bore, S, S).torque,
        make_up(thread, od, bore, factor * S, factor * S).torque,
    )
    assert high == pytest.approx(factor * low, rel=1e-12)


@given(joints, st.floats(0.5, 0.999))
def test_torque_never_falls_as_the_pin_bore_falls(joint: Drawn, share: float) -> None:
    thread, od, bore = joint
    wide, narrow = make_up(thread, od, bore, S, S), make_up(thread, od, share * bore, S, S)
    assert narrow.torque >= wide.torque * (1 - 1e-12)
    if wide.weaker_member == "pin":
        assert narrow.torque > wide.torque


@given(joints, st.floats(1.0005, 1.2))
def test_torque_rises_with_outside_diameter_only_while_the_box_is_weaker(joint: Drawn, factor: float) -> None:
    thread, od, bore = joint
    small, large = make_up(thread, od, bore, S, S), make_up(thread, factor * od, bore, S, S)
    if small.weaker_member == "box":
        assert large.torque > small.torque
    else:
        assert large.torque == pytest.approx(small.torque, rel=1e-12)


@given(joints, st.floats(0.5, 2.0))
def test_mixed_mates_take_the_lower_of_each_members_stress_times_area(joint: Drawn, share: float) -> None:
    thread, od, bore = joint
    mixed = make_up(thread, od, bore, S, share * S)
    assert mixed.preload == min(S * mixed.Ap, share * S * mixed.Ab)
    assert mixed.weaker_member == ("pin" if S * mixed.Ap < share * S * mixed.Ab else "box")


@given(joints, st.floats(0.8, 1.25))
def test_compound_factor_scales_torque_and_not_preload(joint: Drawn, factor: float) -> None:
    thread, od, bore = joint
    reference, factored = make_up(thread, od, bore, S, S), make_up(thread, od, bore, S, S, factor)
    assert factored.torque == pytest.approx(factor * reference.torque, rel=1e-15)
    assert factored.preload == reference.preload


def test_worked_numbers_of_nc50() -> None:
    """Hand-worked from API RP 7G App. A: NC50, 6-1/2 x 2-13/16 in, 62,500 psi.

    B = 2 (0.216005/2 - 0.038) + 2/96 = 0.160838; C - B = 4.880862; E = 2/32 = 0.0625.
    Ap = pi/4 (4.880862^2 - 2.8125^2) = pi/4 (23.822811 - 7.910156) = 12.49777 in2.
    Ab = pi/4 (6.5^2 - 5.25^2) = pi/4 * 14.6875 = 11.535535 in2: the box is weaker.
    Rt = (2 * 5.0417 - (4.5 - 0.625)/6) / 4 = 2.359392 in; Rs = (6.5 + 5.3125)/4 = 2.953125 in.
    arm = 0.25/(2 pi) + 2.359392 * 0.08/cos 30 + 2.953125 * 0.08
        = 0.0397887 + 0.2179513 + 0.2362500 = 0.4939900 in.
    F = 62,500 * 11.535535 = 720,970.9 lbf; T = F * arm / 12 = 29,679.4 ft-lb.
    """
    made = make_up(named("NC50").geometry, 6.5 * INCH, 2.8125 * INCH, S, S)
    assert made.Ap / INCH**2 == pytest.approx(12.49777, abs=1e-5)
    assert made.Ab / INCH**2 == pytest.approx(11.535535, abs=1e-6)
    assert made.arm / INCH == pytest.approx(0.4939900, abs=1e-7)
    assert made.preload / LBF == pytest.approx(720970.9, abs=0.2)
    assert made.torque / LBF_FT == pytest.approx(29679.4, abs=0.1)
    assert box_area(named("NC50").geometry, 6.5 * INCH) == made.Ab
