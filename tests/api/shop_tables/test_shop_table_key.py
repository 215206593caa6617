"""The key that a request gives, read by the columns of the table."""

from typing import Any

import pytest
from rows import every_row

from api.shop_tables.reader import read_shop_table, read_table_key
from schemas.core.faults import InvalidInput

COLUMNS = read_shop_table(
    b'model,"box_outside_diameter [in, linear]",strength [ksi],target [N.m],source,revision\nA,6,120,1,s,1\n'
).columns
SOUND = {"model": "A", "box_outside_diameter": "6 1/2 in", "strength": "120 ksi"}


READ = [
    ("box_outside_diameter", "6 1/2 in", 0.1651),
    ("box_outside_diameter", "6-1/2 in", 0.1651),
    ("box_outside_diameter", '6½"', 0.1651),
    ("box_outside_diameter", "165.1 mm", 0.1651),
    ("box_outside_diameter", {"value": 6.5, "unit": "in"}, 0.1651),
    # 1 ksi = 6.894757293168361 MPa: NIST SP 811, appendix B.8
    ("strength", "150 ksi", 150 * 6.894757293168361e6),
    ("strength", "1.1 GPa", 1.1e9),
    ("model", "  Taper A ", "Taper A"),
    ("model", "-7", "-7"),
]


@pytest.mark.parametrize(("name", "given", "value"), READ)
def test_members_that_are_read(name: str, given: Any, value: Any) -> None:
    key = read_table_key(COLUMNS, SOUND | {name: given})
    assert list(key) == ["model", "box_outside_diameter", "strength"]
    assert key[name] == (pytest.approx(value, rel=1e-15) if isinstance(value, float) else value)


REFUSED = [
    ("model", 7, "not_text"),
    ("model", None, "not_null"),
    ("model", "", "not_text"),
    ("model", "  ", "not_text"),
    ("model", "A" * 101, "not_text"),
    ("model", "A\u200b", "not_text"),
    ("model", "A\u3164", "not_text"),
    ("model", ["A"], "not_text"),
    ("box_outside_diameter", 6.5, "bare_number"),
    ("box_outside_diameter", "6.5", "bare_number"),
    ("box_outside_diameter", "6,5 in", "decimal_comma"),
    ("box_outside_diameter", "6.5 psi", "wrong_kind"),
    ("box_outside_diameter", "6.5 inz", "unknown_unit"),
    ("box_outside_diameter", "-6.5 in", "out_of_range"),
    ("box_outside_diameter", "0 in", "out_of_range"),
    ("box_outside_diameter", "6500 in", "out_of_range"),
    ("box_outside_diameter", "1e400 in", "not_finite"),
    ("box_outside_diameter", True, "not_a_quantity"),
    ("box_outside_diameter", None, "not_null"),
    ("box_outside_diameter", {"value": 6.5}, "not_a_quantity"),
    ("strength", "300 bar", "wrong_kind"),
]


@every_row(("name", "given", "code"), REFUSED)
def test_members_that_are_refused(name: str, given: Any, code: str) -> None:
    with pytest.raises(InvalidInput) as refusal:
        read_table_key(COLUMNS, SOUND | {name: given})
    (fault,) = refusal.value.faults
    assert (fault.path, fault.code, fault.value) == (("table_key", name), code, given)
    assert fault.accepted


def test_every_fault_is_told() -> None:
    with pytest.raises(InvalidInput) as refusal:
        read_table_key(COLUMNS, {"modell": "A", "box_outside_diameter": 6.5, "colour": "red"})
    assert [(fault.path[1], fault.code, fault.accepted) for fault in refusal.value.faults][:1] == [
        ("model", "missing_field", "printable text of 1 to 100 characters")
    ]
    assert [(fault.path[1], fault.code) for fault in refusal.value.faults][1:] == [
        ("box_outside_diameter", "bare_number"),
        ("strength", "missing_field"),
        ("modell", "unknown_field"),
        ("colour", "unknown_field"),
    ]
    assert [fault.accepted for fault in refusal.value.faults][3:] == [
        "did you mean model?",
        "columns: model, box_outside_diameter, strength",
    ]


@pytest.mark.parametrize("given", [None, "model", ["model"], 5])
def test_a_key_that_is_no_object(given: Any) -> None:
    with pytest.raises(InvalidInput) as refusal:
        read_table_key(COLUMNS, given)
    assert [(fault.path, fault.code) for fault in refusal.value.faults] == [(("table_key",), "not_an_object")]
