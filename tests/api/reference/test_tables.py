"""The published tables, row by row."""

from collections import Counter

import pytest
from rows import every_row

from api.engineering.provenance import STATUSES
from api.engineering.rotary.sizes import INCH
from api.reference import make_up_torque, members, sucker_rods
from api.reference.connections import CONNECTIONS, Connection, find_connection, near_designations
from api.reference.make_up_torque import PUBLISHED, rows_around
from api.reference.members import STRING_PARTS, rule_of, usual_stress_level
from api.reference.table import read_table, table_names
from schemas.core.fields import Choice
from schemas.rotary.joint import RotaryShoulderedJoint

TABLES = table_names()


def test_the_tables_are_found() -> None:
    assert len(TABLES) >= 19


@pytest.mark.parametrize("name", TABLES)
def test_every_row_names_its_source_and_status(name: str) -> None:
    for row in read_table(name):
        assert row.text["source"].strip(), row
        assert row.text["status"] in STATUSES, row


def test_4_fh_is_nc40() -> None:
    found = find_connection("4 FH")
    assert found is not None
    assert found.designation == "NC40"


@every_row("connection", CONNECTIONS, ids=lambda connection: connection.designation)
def test_geometry(connection: Connection) -> None:
    """Counterbores are exact 1/64 in, though print rounds them; the rest is what a thread can be."""
    thread = connection.geometry
    sixty_fourths = thread.counterbore / INCH * 64
    assert sixty_fourths == pytest.approx(round(sixty_fourths), abs=1e-9)
    assert thread.counterbore > thread.pitch_diameter
    assert thread.taper == pytest.approx(connection_taper(connection), rel=1e-12)
    assert 0 < thread.root_truncation < thread.thread_height / 2
    face = connection.low_torque_face_counterbore
    assert face is None or face > thread.counterbore
    assert find_connection(connection.designation) is connection


def connection_taper(connection: Connection) -> float:
    """API Spec 7-2: 2 in/ft, but 3 in/ft from NC56, on REG below 6-5/8 and from 7 H-90, 1.5 on PAC."""
    three = {
        "NC56", "NC61", "NC70", "NC77", "2-3/8 REG", "2-7/8 REG", "3-1/2 REG", "4-1/2 REG", "5-1/2 REG",
        "7-5/8 REG", "8-5/8 REG", "3-1/2 FH", "4-1/2 FH", "7 H-90", "7-5/8 H-90", "8-5/8 H-90",
    }  # fmt: skip
    if connection.designation in three:
        return 3 / 12
    return 1.5 / 12 if connection.designation == "2-7/8 PAC" else 2 / 12


@pytest.mark.parametrize(
    ("connection", "height"),
    [
        # API Spec 7-2 (ISO 10424-2), height of the sharp thread, in
        ("NC50", 0.216005),
        ("NC56", 0.215379),
        ("2-3/8 REG", 0.172303),
    ],
)
def test_sharp_thread_height_of_a_tapered_60_degree_form(connection: str, height: float) -> None:
    """Independent: the flanks at +-30 deg from the normal to the axis meet lines at the half taper t, so
    ``H = p / (2 tan 30) (1 - t^2 tan^2 30)``; the printed heights follow to the last digit."""
    found = find_connection(connection)
    assert found is not None
    pitch, half_taper, tangent = found.geometry.lead / INCH, found.geometry.taper / 2, 3**-0.5
    computed = pitch / (2 * tangent) * (1 - half_taper**2 * tangent**2)
    assert computed == pytest.approx(height, abs=1.5e-6)
    assert found.geometry.thread_height / INCH == pytest.approx(height, rel=1e-12)


def test_no_two_names_mean_two_connections() -> None:
    names = Counter(name for each in CONNECTIONS for name in (each.designation, *each.aliases))
    assert max(names.values()) == 1


@pytest.mark.parametrize(
    ("written", "designation"),
    [
        ("4-1/2 IF", "NC50"),
        ("4 IF", "NC46"),
        ("3-1/2 IF", "NC38"),
        ("2-7/8 IF", "NC31"),
        ("2-3/8 IF", "NC26"),
        ("4½ XH", "NC46"),
        ("5 XH", "NC50"),
        ("nc-50", "NC50"),
        ("API 6-5/8 Regular", "6-5/8 REG"),
        ('6 5/8" reg', "6-5/8 REG"),
        ("4-1/2 full hole", "4-1/2 FH"),
        ("4-1/2 H90", "4-1/2 H-90"),
        ("NC501", None),
        ("45 IF", None),
        ("41/2 IF", None),
        ("27/8 REG", None),
        ("NC", None),
        ("", None),
    ],
)
def test_names(written: str, designation: str | None) -> None:
    found = find_connection(written)
    assert (found.designation if found else None) == designation


def test_near_names() -> None:
    assert "NC50" in near_designations("NC51")


def test_rows_are_unique_at_their_resolution() -> None:
    keys = Counter(
        (row.key, round(row.box_outside_diameter, 7), round(row.pin_bore, 7), row.resolution)
        for row in PUBLISHED
    )
    assert max(keys.values()) == 1


def test_every_row_is_of_a_known_connection_at_its_usual_stress() -> None:
    for row in PUBLISHED:
        connection = find_connection(row.key.connection)
        assert connection is not None, row
        usual = usual_stress_level(row.key.component, connection)
        assert usual.stress == pytest.approx(row.key.stress_level), row


def test_rows_around_lie_on_either_side() -> None:
    key = next(
        row.key for row in PUBLISHED if row.key.connection == "NC50" and row.key.component == "drill_collar"
    )
    around = rows_around(key, 6.5 * INCH, 2.6 * INCH)
    diameters = {round(row.box_outside_diameter / INCH, 6) for row in around}
    assert diameters == {6.25, 6.75}
    assert rows_around(key, 0.1, 0.01) == [] or all(row.key == key for row in rows_around(key, 0.1, 0.01))


@pytest.mark.parametrize("lost", sorted(members._STRENGTHS), ids=str)
def test_a_lost_strength_stops_the_start(lost: tuple[str, str, str], monkeypatch: pytest.MonkeyPatch) -> None:
    """Never a torque of none, nor one at the stress level of other threads."""
    monkeypatch.delitem(members._STRENGTHS, lost)
    stopped = []
    for check in (members.check_strengths, make_up_torque.check_stress_levels):
        try:
            check()
        except LookupError as error:
            stopped.append(str(error))
    assert any("member_strengths.csv has" in why for why in stopped)


@pytest.mark.parametrize(("run", "grade"), sucker_rods.IN_THE_TABLE)
def test_a_lost_displacement_stops_the_start(run: str, grade: str, monkeypatch: pytest.MonkeyPatch) -> None:
    for key, rod in sucker_rods.SUCKER_RODS.items():
        kept = tuple(row for row in rod.displacements if row.run != run or grade not in row.grades)
        assert len(kept) < len(rod.displacements)
        with monkeypatch.context() as patch:
            patch.setitem(sucker_rods.SUCKER_RODS, key, rod._replace(displacements=kept))
            with pytest.raises(LookupError, match=f"no {run} . of {rod.size} in rods"):
                sucker_rods.check_displacements()


def test_the_components_are_those_that_may_be_asked() -> None:
    asked = RotaryShoulderedJoint().fields["component"]
    assert isinstance(asked, Choice)
    assert asked.choices == STRING_PARTS
    assert {rule_of(part) for part in STRING_PARTS} == {*members.COMPONENTS, "bit"}
