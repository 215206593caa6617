"""Random valid tables, written by the csv module, read back to the same values; random bytes never fail."""

import contextlib
import csv
import io
import unicodedata
from datetime import date
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from api.shop_tables.reader import FaultyTable, read_shop_table

# NIST SP 811, appendix B.8; the inch is exact.
TORQUES = {"N.m": 1.0, "ft-lb": 1.3558179483314004, "kN.m": 1000.0, "kgf.m": 9.80665}
LENGTHS = {"in": 0.0254, "mm": 0.001, "cm": 0.01}


def harmless(text: str) -> bool:
    first = unicodedata.normalize("NFKC", text)[:1]
    return text == text.strip() and text.isprintable() and first not in ("=", "+", "-", "@", "#")


words = st.text(st.characters(min_codepoint=32, max_codepoint=0x24F), min_size=1, max_size=30).filter(
    harmless
)
numbers = st.integers(1, 10**6).map(lambda whole: Fraction(whole, 1000))
shares = st.integers(0, 100).map(lambda whole: Fraction(whole, 100))
days = st.none() | st.dates(date(2000, 1, 1), date(2050, 1, 1))


def written(number: Fraction | None) -> str:
    return "" if number is None else f"{float(number):.8f}"


@st.composite
def tables(draw: st.DrawFn) -> tuple[list[list[str]], list[dict[str, Any]]]:
    unit, torque = draw(st.sampled_from(sorted(LENGTHS))), draw(st.sampled_from(sorted(TORQUES)))
    header = ["model", f"bore [{unit}]", *(f"{name} [{torque}]" for name in ("minimum", "target", "maximum"))]
    header += ["source", "revision", "effective_from", "effective_to", "note"]
    cells, rows = [header], []
    for place in range(draw(st.integers(1, 8))):
        target = draw(numbers.filter(lambda number: number >= Fraction(1, 100)))
        low, high = target * (1 - draw(shares) / 2), target * (1 + draw(shares))
        minimum, maximum = draw(st.sampled_from([low, None])), draw(st.sampled_from([high, None]))
        bore = draw(numbers.filter(lambda number: number >= 1))
        first, last = draw(days), draw(days)
        if first and last and first > last:
            first, last = last, first
        source, revision, note = draw(words), draw(words), draw(st.none() | words)
        model = f"{place} {draw(words)}"  # the place makes every key another
        cells.append([
            model, written(bore), written(minimum), written(target), written(maximum), source, revision,
            first.isoformat() if first else "", last.isoformat() if last else "", note or "",
        ])  # fmt: skip
        numbers_si = {
            name: None if value is None else float(value) * TORQUES[torque]
            for name, value in (("minimum", minimum), ("target", target), ("maximum", maximum))
        }
        rows.append({
            "key": {"model": model, "bore": pytest.approx(float(bore) * LENGTHS[unit], rel=1e-12)},
            **numbers_si, "source": source, "revision": revision, "note": note,
            "effective_from": first, "effective_to": last,
        })  # fmt: skip
    order = draw(st.permutations(range(len(header))))
    return [[row[place] for place in order] for row in cells], rows


@given(tables(), st.sampled_from(["\n", "\r\n", "\r"]), st.sampled_from([csv.QUOTE_ALL, csv.QUOTE_MINIMAL]))
def test_what_is_written_is_read(
    table: tuple[list[list[str]], list[dict[str, Any]]], end: str, quoting: Any
) -> None:
    cells, rows = table
    file = io.StringIO(newline="")
    csv.writer(file, lineterminator=end, quoting=quoting).writerows(cells)
    read = read_shop_table(file.getvalue().encode()).rows
    assert [row.number for row in read] == list(range(2, len(rows) + 2))
    for row, wanted in zip(read, rows, strict=True):
        assert row.status == "stated"
        for name, value in wanted.items():
            got = getattr(row, name)
            assert got == (pytest.approx(value, rel=1e-12) if isinstance(value, float) else value)


@given(st.binary(max_size=300) | st.text('model,tarN.m[]"\n\r;=#1é\u200b ', max_size=300).map(str.encode))
def test_no_bytes_but_are_read_or_refused(data: bytes) -> None:
    with contextlib.suppress(FaultyTable):
        read_shop_table(data)


cell = st.sampled_from(
    ["", "1", "6 1/2", "=1", "#REF!", "2026-01-01", "2026-02-30", "read", "x", "-1", "\u200b", "9"]
)


@given(st.lists(st.lists(cell, min_size=8, max_size=8), max_size=6))
def test_no_cells_but_are_read_or_refused(rows: list[list[str]]) -> None:
    header = [
        "model",
        "bore [in]",
        "minimum [N.m]",
        "target [N.m]",
        "source",
        "revision",
        "status",
        "effective_from",
    ]
    file = io.StringIO(newline="")
    csv.writer(file).writerows([header, *rows])
    with contextlib.suppress(FaultyTable):
        table = read_shop_table(file.getvalue().encode())
        assert all(row.minimum is None or row.minimum <= row.target for row in table.rows)
