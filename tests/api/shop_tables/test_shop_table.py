"""A good table in full, and how long the largest takes."""

from datetime import date
from itertools import product

import pytest
from rows import every_row

from api.shop_tables.reader import FaultyTable, KeyColumn, read_shop_table
from schemas.core.units import UNITS

# 1 lbf.ft and 1 in: NIST SP 811, appendix B.8; the inch is exact.
LBF_FT, INCH = 1.3558179483314004, 0.0254

GOOD = """\
model,box_outside_diameter [in],pin_bore [mm],grade [text],minimum [ft-lb],target [ft-lb],maximum [kN.m],\
torsional_yield [N.m],source,revision,status,effective_from,effective_to,note
Taper A,6 1/2,71.4,S1,18000,20000,30,45000,"Drawing 7, sheet 2",C,read,2026-01-01,2026-06-30,
Taper A, 6-3/4 ,71.4,S1,,21500.5,,,Drawing 7,C,,,,"said ""firm"" by telephone"
Taper B,6½,71.4,S1,18000.0,20 000,,,Drawing 8,A,from memory,,2026-12-31,µ of the compound 0.08
"""


def test_a_good_table_in_full() -> None:
    table = read_shop_table(GOOD.encode())
    assert table.columns == (
        KeyColumn("model", None, None, False),
        KeyColumn("box_outside_diameter", UNITS["in"], "length", False),
        KeyColumn("pin_bore", UNITS["mm"], "length", False),
        KeyColumn("grade", None, None, False),
    )
    first, second, third = table.rows
    assert [row.number for row in table.rows] == [2, 3, 4]
    assert first.key == {
        "model": "Taper A",
        "box_outside_diameter": pytest.approx(6.5 * INCH, rel=1e-15),
        "pin_bore": pytest.approx(0.0714, rel=1e-15),
        "grade": "S1",
    }
    assert (first.minimum, first.target) == pytest.approx((18000 * LBF_FT, 20000 * LBF_FT), rel=1e-15)
    assert (first.maximum, first.torsional_yield) == (30000.0, 45000.0)
    assert (first.source, first.revision, first.status) == ("Drawing 7, sheet 2", "C", "read")
    assert (first.effective_from, first.effective_to) == (date(2026, 1, 1), date(2026, 6, 30))
    assert first.note is None
    assert second.key["box_outside_diameter"] == pytest.approx(6.75 * INCH, rel=1e-15)
    assert second.target == pytest.approx(21500.5 * LBF_FT, rel=1e-15)
    assert (second.minimum, second.maximum, second.torsional_yield) == (None, None, None)
    assert (second.status, second.note) == ("stated", 'said "firm" by telephone')
    assert third.key["box_outside_diameter"] == pytest.approx(6.5 * INCH, rel=1e-15)
    assert (third.minimum, third.target) == pytest.approx((18000 * LBF_FT, 20000 * LBF_FT), rel=1e-15)
    assert (third.status, third.note) == ("from memory", "µ of the compound 0.08")


def test_the_same_from_every_way_a_program_saves_it() -> None:
    rows = read_shop_table(GOOD.encode()).rows
    for mark, end, tail in product(("", "\ufeff"), ("\n", "\r\n", "\r"), ("", ",,,,,,,,,,,,,\n \n\n")):
        text = mark + (GOOD + tail).replace("\n", end)
        assert read_shop_table(text.encode()).rows == rows
    assert read_shop_table(GOOD.rstrip("\n").encode()).rows == rows


KEY_HEADERS = [
    # header, kind, linear
    ("size", None, False),
    ("size [text]", None, False),
    ("size [ text ]", None, False),
    ("bore [in]", "length", False),
    ("bore[in]", "length", False),
    ('bore ["]', "length", False),
    ("bore [ mm , linear ]", "length", True),
    ("bore [in,linear]", "length", True),
    ("bore [in linear]", "length", True),
    ("bore [ US gal  linear ]", "volume", True),
    ("bore [in\u00a0linear]", "length", True),
    ("bore [square inch]", "area", False),
    ("weight [lb/ft]", "linear_mass", False),
    ("proof_load [kN]", "force", False),
    ("bend [deg]", "angle", False),
    ("shaft_torque [N.m]", "torque", False),
    # a unit of both is one of stress, whose limits hold the strength of any steel
    ("yield_strength [ksi]", "stress", False),
    ("yield_strength [MPa]", "stress", False),
    ("line_pressure [bar]", "pressure", False),
    ("reservoir [L]", "volume", False),
]


@every_row(("header", "kind", "linear"), KEY_HEADERS, ids=[row[0] for row in KEY_HEADERS])
def test_headers_of_keys(header: str, kind: str | None, linear: bool) -> None:
    quoted = '"' + header.replace('"', '""') + '"'
    column = read_shop_table(f"{quoted},target [N.m],source,revision\n165,1,s,1\n".encode())
    (key,) = column.columns
    assert (key.name, key.kind, key.linear) == (header.partition("[")[0].strip(), kind, linear)


# how many of those units of which a single one lies outside the limits of its kind
COUNTS = {"Pa": 5000, "psf": 5000, "dyn.cm": 50000, "m3/rad": 0.01}


@every_row("code", [code for code, unit in UNITS.items() if unit.kinds != ("temperature",)])
def test_every_unit_is_read_under_its_header(code: str) -> None:
    count = COUNTS.get(code, 1)
    table = read_shop_table(f"bore [{code}],target [N.m],source,revision\n{count},1,s,1\n".encode())
    assert table.rows[0].key["bore"] == pytest.approx(count * UNITS[code].factor, rel=1e-15)


LEGITIMATE = [
    "size", "bore", "grade", "model", "connection", "box_outside_diameter", "pin_bore", "yield_strength",
    "steel", "maximum_bore", "thread_type", "compound", "minimum_bore", "maximum_od", "minimum_id", "make",
    "thread", "class", "weight", "torque_class", "status_code", "effective_bore", "effective_area", "force",
    "remark", "version", "nose", "part_number", "tensile_strength", "date", "type",
]  # fmt: skip


@every_row("name", LEGITIMATE)
def test_names_that_are_no_slip(name: str) -> None:
    table = read_shop_table(f"{name},target [N.m],source,revision\nx,1,s,1\n".encode())
    assert [column.name for column in table.columns] == [name]


IN_FORCE = [
    # from, to, day, in force
    ("", "", None, True),
    ("", "", date(2026, 3, 1), True),
    ("2026-01-01", "", None, False),
    ("", "2026-06-30", None, False),
    ("2026-01-01", "2026-06-30", date(2025, 12, 31), False),
    ("2026-01-01", "2026-06-30", date(2026, 1, 1), True),
    ("2026-01-01", "2026-06-30", date(2026, 6, 30), True),
    ("2026-01-01", "2026-06-30", date(2026, 7, 1), False),
    ("2026-01-01", "", date(9999, 12, 31), True),
    ("", "2026-06-30", date(1, 1, 1), True),
    ("2028-02-29", "2028-02-29", date(2028, 2, 29), True),
]


@pytest.mark.parametrize(("first", "last", "day", "holds"), IN_FORCE)
def test_days_on_which_a_row_holds(first: str, last: str, day: date | None, holds: bool) -> None:
    header = "model,target [N.m],source,revision,effective_from,effective_to"
    (row,) = read_shop_table(f"{header}\nA,1,s,1,{first},{last}\n".encode()).rows
    assert row.dated is bool(first or last)
    assert row.in_force(day) is holds


def largest(rows: str) -> bytes:
    header = "model,bore [in],target [ft-lb],minimum [ft-lb],source,revision,effective_from,effective_to\n"
    return (header + rows).encode()


# 20,000 rows each: all apart, all revisions of one key in turn, all of one key at once.
LARGE = [
    ("apart", "".join(f"M{n % 200},{6 + n / 4096},20000,18000,s,1,,\n" for n in range(20_000)), 0),
    (
        "in turn",
        "".join(
            f"M,6.5,20000,18000,s,{n},{day},{day}\n"
            for n in range(20_000)
            for day in [date.fromordinal(700_000 + n)]
        ),
        0,
    ),
    ("at once", "M,6.5,20000,18000,s,1,,\n" * 20_000, 20_000),
    ("empty", "M,,,,,,,\n" * 20_000, 80_000),
    ("all faulty", "M,,2 0,18;000,,=1,x,y\n" * 20_000, 140_000),
]


@pytest.mark.evidence
@pytest.mark.parametrize(("rows", "count"), [row[1:] for row in LARGE], ids=[row[0] for row in LARGE])
def test_the_largest_table_is_read(rows: str, count: int) -> None:
    if count:
        with pytest.raises(FaultyTable) as refusal:
            read_shop_table(largest(rows))
        assert refusal.value.count == count
        assert len(refusal.value.faults) == 1000
    else:
        assert len(read_shop_table(largest(rows)).rows) == 20_000


def test_the_message_is_one_printable_line() -> None:
    with pytest.raises(FaultyTable) as refusal:
        read_shop_table('"bo\nre\u202e",target [mm],source,revision\nA,1,,\n'.encode())
    assert str(refusal.value) == (
        "line 1, bo?re?: bad_column_name (no key column can have this name); "
        "line 1, target: wrong_kind ('mm' is a unit of length, not of torque); "
        "line 3, source: missing_cell (every row must fill it); "
        "and 1 more"
    )
