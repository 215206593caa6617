"""Which pass of a flange cannot be set."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace

from api.engineering.faults import NoAnswer


@contextmanager
def of_pass(name: str) -> Iterator[None]:
    """Put the name of a pass before every reason for which it has no setting.

    Raises:
        NoAnswer: what was raised inside, so named.
    """
    try:
        yield
    except NoAnswer as no_answer:
        raise NoAnswer([replace(fault, text=f"{name}: {fault.text}") for fault in no_answer.faults]) from None
