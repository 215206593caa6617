"""A bar that shows how far a long piece of work is, where a person looks on."""

from types import TracebackType
from typing import TextIO

WIDTH = 40


class Bar:
    """A bar on one line of a terminal; elsewhere, as in the log of a script, nothing."""

    def __init__(self, total: int, out: TextIO) -> None:
        self.total, self.out = total, out

    def __enter__(self) -> "Bar":
        return self

    def show(self, done: int) -> None:
        """Show that so many are done."""
        if not self.out.isatty():
            return
        full = WIDTH * done // max(self.total, done, 1)
        bar = "#" * full + "." * (WIDTH - full)
        self.out.write(f"\r[{bar}] {done:,} of {max(self.total, done):,} lines")
        self.out.flush()

    def __exit__(self, *_: type[BaseException] | BaseException | TracebackType | None) -> None:
        if self.out.isatty():
            self.out.write("\n")
