"""Nominal sizes: all ways of writing one are one, and what may be two is refused."""

import pytest

from api.engineering.checks import NoAnswer
from api.reference.nominal_size import size_key


@pytest.mark.parametrize(
    ("written", "size"),
    [
        ("9-5/8", "9-5/8"),
        ("9 5/8 in", "9-5/8"),
        ('9⅝"', "9-5/8"),
        ("9.625", "9-5/8"),
        ("9.6250 inches", "9-5/8"),
        (" 7 ", "7"),
        ("7.000", "7"),
        ("13-3/8", "13-3/8"),
        ("20 in", "20"),
        ("2.063", "2-1/16"),
        ("2-1/16", "2-1/16"),
        ("1.05", "1.050"),
        ("1.050", "1.050"),
        ("1.66", "1.660"),
        ("1.9", "1.900"),
        ("3/4", "3/4"),
    ],
)
def test_one_size_however_written(written: str, size: str) -> None:
    assert size_key(written) == size


@pytest.mark.parametrize(
    "written",
    [
        "95/8",
        "9,625",
        "9 625",
        "244.5 mm",
        "0",
        "-7",
        "",
        "seven",
        "7 lb/ft",
        "9-5/8-40",
        "1e9",
        "9-5/8 furlong",
    ],
)
def test_what_is_no_size_in_inches_is_refused(written: str) -> None:
    with pytest.raises(NoAnswer) as refusal:
        size_key(written, "pipe")
    [fault] = refusal.value.faults
    assert (fault.code, fault.field) == ("unclear_size", "pipe")
    assert fault.accepted
