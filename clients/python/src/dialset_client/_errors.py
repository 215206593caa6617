"""The errors that a client raises.

DialsetError
    Refused         the service said no, and why
    NotReachable    the service could not be asked
    NotATable       a file is no table of questions
    NotUnderstood   what answers is not the service, or not all came back
    EditionChanged  the service changed while a batch was asked
"""

from collections.abc import Mapping
from typing import Any


class DialsetError(Exception):
    """The root of all."""


class NotReachable(DialsetError):
    """No answer came, even after asking again."""


class NotUnderstood(DialsetError):
    """The service sent no valid answer, or not one for every line: use nothing of it."""


class EditionChanged(DialsetError):
    """Two windows of a batch were answered by services that differ in program, data, policy or machines.

    Attributes:
        before: the edition that answered first.
        after: the other.
        line: the first line that the other answered.
    """

    def __init__(self, before: str | None, after: str | None, line: int) -> None:
        self.before, self.after, self.line = before, after, line
        super().__init__(
            f"line {line} was answered by edition {after} of the service, those before by {before}: begin "
            "anew, or say that any edition will do"
        )


class NotATable(DialsetError):
    """A file cannot be read as a table of questions."""


class Refused(DialsetError):
    """The service refused: it carries the problem document (RFC 9457).

    Attributes:
        problem: the whole document.
        status: HTTP status.
        code: stable code of the refusal.
        errors: each fault with its place, code, detail and what would be accepted.
    """

    def __init__(self, problem: Mapping[str, Any]) -> None:
        self.problem = dict(problem)
        self.status: int = self.problem.get("status", 0)
        self.code: str = self.problem.get("code", "unknown")
        errors = self.problem.get("errors", [])
        self.errors: list[dict[str, Any]] = [each for each in errors if isinstance(each, dict)]
        super().__init__(self._in_words())

    def _in_words(self) -> str:
        if not self.errors:
            return f"{self.code}: {self.problem.get('detail', '')}"
        return "\n".join([self.code, *(f"  {_reason(error)}" for error in self.errors)])


def _reason(error: Mapping[str, Any]) -> str:
    place = error.get("parameter") or (error.get("pointer") or "").removeprefix("/") or "request"
    value = f" {error['value']!r}" if "value" in error else ""
    accepted = f" (accepted: {error['accepted']})" if "accepted" in error else ""
    return f"{place}{value}: {error.get('detail', '')}{accepted}"
