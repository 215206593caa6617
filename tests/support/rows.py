"""Rows of a table as one test, which tells every row that misses at once."""

from collections.abc import Callable, Iterable, Sequence
from functools import wraps
from inspect import Signature, signature
from typing import Any

import pytest


def every_row(
    names: str | Sequence[str],
    rows: Iterable[Any],
    ids: Iterable[str] | Callable[[Any], str] | None = None,
) -> Callable[[Callable[..., None]], Callable[..., None]]:
    """Make one test of a check and the rows that it is to hold for, written as ``pytest.mark.parametrize``.

    It fails with every row that misses, what was expected and what was found, and where there is no row.
    """
    table = list(rows)
    columns = [name.strip() for name in names.split(",")] if isinstance(names, str) else list(names)
    labels = _labels(table, ids)

    def of_all(check: Callable[..., None]) -> Callable[..., None]:
        @wraps(check)
        def test(**fixtures: Any) -> None:
            misses = []
            for label, row in zip(labels, table, strict=True):
                cells = row if len(columns) > 1 else (row,)
                try:
                    check(**fixtures, **dict(zip(columns, cells, strict=True)))
                except (Exception, pytest.fail.Exception) as miss:
                    misses.append(f"{label}: {miss}" if str(miss) else f"{label}: {miss!r}")
            if not table:
                pytest.fail("the table has no row", pytrace=False)
            if misses:
                told = [f"{len(misses)} of {len(table)} rows miss", *misses]
                pytest.fail("\n".join(told), pytrace=False)

        given = [each for name, each in signature(check).parameters.items() if name not in columns]
        test.__signature__ = Signature(given)  # type: ignore[attr-defined]
        return test

    return of_all


def _labels(table: Sequence[Any], ids: Iterable[str] | Callable[[Any], str] | None) -> list[str]:
    """The name of each row: what stands for it, or its values."""
    if ids is None:
        return [f"{row!r:.100}" for row in table]
    return [ids(row) for row in table] if callable(ids) else list(ids)
