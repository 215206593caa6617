"""How much a benchmark measures, and how it prints: tables of Markdown, as they stand in DEVELOPERS.md."""

from collections.abc import Sequence
from typing import NamedTuple


class Much(NamedTuple):
    """How much is measured.

    Attributes:
        questions: different ones of each kind.
        rounds: of which the median is taken.
        lines: of the largest batch.
        most: the largest number of machines, and so on, of a growth.
    """

    questions: int = 500
    rounds: int = 5
    lines: int = 10_000
    quick: bool = False


def table(title: str, header: Sequence[str], rows: Sequence[Sequence[str]]) -> None:
    """Print a table, its columns aligned."""
    print(f"\n{title}:\n")
    widths = [max(map(len, column)) for column in zip(header, *rows, strict=True)]
    ends = ["---", *("--:" for _ in header[1:])]
    for cells in (header, ends, *rows):
        fill = "-" if cells is ends else " "
        first, *others = zip(cells, widths, strict=True)
        line = [first[0].ljust(first[1], fill), *(cell.rjust(width, fill) for cell, width in others)]
        print(f"| {' | '.join(line)} |")


def micro(seconds: float) -> str:
    """Microseconds, of a benchmark not more than three digits."""
    return f"{float(f'{1e6 * seconds:.3g}'):.0f}"
