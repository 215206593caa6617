"""Everything that a client raises.

DialsetError
    Refused         the service said no, and why
    NotReachable    the service could not be asked
"""

from collections.abc import Mapping
from typing import Any


class DialsetError(Exception):
    """The root of all."""


class NotReachable(DialsetError):
    """No answer came, even after asking again."""


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
        self.errors: list[dict[str, Any]] = list(self.problem.get("errors", []))
        super().__init__(self._in_words())

    def _in_words(self) -> str:
        lines = [f"{self.code}: {self.problem.get('detail', '')}"]
        for error in self.errors if len(self.errors) > 1 else []:
            place = error.get("parameter") or (error.get("pointer") or "").removeprefix("/") or "request"
            lines.append(f"  {place}: {error['detail']}")
        return "\n".join(lines)
