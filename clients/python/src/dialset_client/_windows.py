"""Windows of lines: how large, for how long, how many at once, and whether all came back from one edition."""

from collections import deque
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from typing import Any, TypeVar

from dialset_client._errors import EditionChanged, NotUnderstood

WINDOW = 1000
"""Lines of a batch that are sent at once: enough for speed, and little to hold in memory."""
WINDOWS = {"machine-choice": 50}
"""The same for questions that take longer: one line of these is asked of every machine."""
SECONDS_A_LINE = 0.05
"""What a line may take in a batch, many times what it does: windows asked at once may wait for one worker."""

Window = TypeVar("Window")
Answer = TypeVar("Answer")


def window_of(calculation: str, window: int | None) -> int:
    """The lines to send at once.

    Raises:
        ValueError: for less than one.
    """
    size = WINDOWS.get(calculation, WINDOW) if window is None else window
    if size < 1:
        raise ValueError(f"a window of {size} lines; at least 1 is accepted")
    return size


def asked_in_order(
    ask: Callable[[Window], Answer], windows: Iterable[Window], at_once: int
) -> Iterator[tuple[Window, Answer]]:
    """Each window with its answer, in order, while the next ones are asked already.

    Args:
        ask: asks one window, beside others in a thread of its own.
        windows: taken only as they are asked.
        at_once: how many are asked at the same time, or answered and not yet taken.

    Raises:
        ValueError: for less than one at once.
    """
    if at_once < 1:
        raise ValueError(f"{at_once} windows at once; at least 1 is accepted")
    if at_once == 1:
        yield from ((window, ask(window)) for window in windows)
        return
    coming: deque[tuple[Window, Future[Answer]]] = deque()
    threads = ThreadPoolExecutor(at_once)
    try:
        for window in windows:
            coming.append((window, threads.submit(ask, window)))
            if len(coming) == at_once:
                first, answer = coming.popleft()
                yield first, answer.result()
        for first, answer in coming:
            yield first, answer.result()
    finally:
        threads.shutdown(wait=False, cancel_futures=True)


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
