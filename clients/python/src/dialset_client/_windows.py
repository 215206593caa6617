"""How many lines are sent at once, how long that may take, and whether all came back from one edition."""

from collections.abc import Sequence
from typing import Any

from dialset_client._errors import EditionChanged, NotUnderstood

WINDOW = 1000
"""Lines of a batch that are sent at once: enough for speed, and little to hold in memory."""
WINDOWS = {"machine-choice": 50}
"""The same for questions that take longer: one line of these is asked of every machine."""
SECONDS_A_LINE = 0.05
"""What an answer may take in a batch, many times what it does; a time limit that is longer holds."""


def window_of(calculation: str, window: int | None) -> int:
    """The lines to send at once.

    Raises:
        ValueError: for less than one.
    """
    size = WINDOWS.get(calculation, WINDOW) if window is None else window
    if size < 1:
        raise ValueError(f"a window of {size} lines; at least 1 is accepted")
    return size


def check_all_came(numbers: Sequence[Any], sent: int) -> None:
    """Whether every line of a window came back, in order.

    Raises:
        NotUnderstood: if not; a line that is lost must never look like one that was not sent.
    """
    if list(numbers) != list(range(1, sent + 1)):
        raise NotUnderstood(f"{sent} lines were sent, but {len(numbers)} came back, or not in order")


class OneEdition:
    """Lets answers of one edition pass, that of the first; or of any, where that will do."""

    def __init__(self, any_edition: bool) -> None:
        self.any_edition = any_edition
        self.first: str | None = None

    def check(self, edition: str | None, line: int) -> None:
        """Take the edition of a line.

        Raises:
            EditionChanged: where it is another than that of the lines before.
        """
        self.first = self.first or edition
        if edition != self.first and not self.any_edition:
            raise EditionChanged(self.first, edition, line)
