"""One session with a time limit, asking again where that is safe, which here is nearly always."""

from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from json import dumps
from types import TracebackType
from typing import Any, Self

import requests
from requests.adapters import HTTPAdapter
from urllib3.exceptions import ReadTimeoutError
from urllib3.util.retry import Retry

from dialset_client._errors import NotReachable, NotUnderstood, Refused


class TriesAgain(Retry):
    """Asks again where a connection fails, but not where an answer takes long: it would add to the load."""

    def increment(
        self,
        method: str | None = None,
        url: str | None = None,
        response: Any = None,
        error: Exception | None = None,
        _pool: Any = None,
        _stacktrace: TracebackType | None = None,
    ) -> Self:
        """One try less, or the error itself."""
        if isinstance(error, ReadTimeoutError):
            raise error
        return super().increment(method, url, response, error, _pool, _stacktrace)


TRIES_AGAIN = TriesAgain(
    total=4,
    backoff_factor=0.2,
    status_forcelist=(502, 503, 504),
    allowed_methods=None,  # a question changes nothing, so that a POST may be repeated too
    raise_on_status=False,
    respect_retry_after_header=False,  # it could be longer than the time limit
)


class Transport:
    """Asks a service and returns what it answers, or raises what it refuses."""

    def __init__(self, address: str, timeout: float, session: requests.Session | None) -> None:
        if not address.startswith(("http://", "https://")):
            raise ValueError(f"{address!r} is no address of a service: write http://host:port")
        self.address, self.timeout = address.rstrip("/"), timeout
        self.session = session or requests.Session()
        if session is None:
            for scheme in ("http://", "https://"):
                self.session.mount(scheme, HTTPAdapter(max_retries=TRIES_AGAIN))

    def json(self, method: str, path: str, **options: Any) -> dict[str, Any]:
        """The JSON of an answer, which of this service is always an object.

        Raises:
            NotUnderstood: where something else came.
        """
        found = _json(self.ask(method, path, **options))
        if not isinstance(found, dict):
            raise NotUnderstood(f"{self.address}{path} answers, but not as Dialset does")
        return found

    def ask(self, method: str, path: str, *, at_least: float = 0.0, **options: Any) -> requests.Response:
        """An answer that is a success.

        Args:
            method: of HTTP.
            path: on the service.
            at_least: seconds that it may take even where the time limit is shorter.
            options: those of a `requests` request; dates and decimal numbers may stand in its values.

        Raises:
            Refused: with the problem document.
            NotUnderstood: for an answer that breaks off, as one does where the service fails on its way.
            NotReachable: if no answer of the service came in time, even after asking again.
            ValueError: for a question that is no JSON.
        """
        timeout = max(self.timeout, at_least)
        try:
            answer = self.session.request(method, self.address + path, timeout=timeout, **_written(**options))
        except requests.exceptions.ChunkedEncodingError as error:
            raise NotUnderstood(f"the answer of {self.address} broke off: use nothing of it") from error
        except requests.RequestException as error:
            raise NotReachable(f"{self.address} does not answer ({type(error).__name__})") from error
        if answer.ok:
            return answer
        problem = _json(answer)
        if isinstance(problem, Mapping) and "code" in problem:
            raise Refused(problem)
        raise NotReachable(
            f"{self.address} answers {answer.status_code} {answer.reason}, not as Dialset does"
        )


def in_query(values: Mapping[str, Any]) -> dict[str, str | list[str]]:
    """Values as a query has them, those that are None left out."""
    return {
        name: [_in_words(each) for each in value] if isinstance(value, list | tuple) else _in_words(value)
        for name, value in values.items()
        if value is not None
    }


def _in_words(value: Any) -> str:
    if isinstance(value, date):
        return value.isoformat()
    return str(value).lower() if isinstance(value, bool) else str(value)


def _written(*, params: Mapping[str, Any] | None = None, json: Any = None, **options: Any) -> dict[str, Any]:
    """The options of a request with its query and its JSON written.

    Raises:
        ValueError: for a question that is no JSON.
    """
    written = {**options, "params": in_query(params or {})}
    if json is None:
        return written
    try:
        data = dumps(json, allow_nan=False, default=_in_json).encode()
    except (TypeError, ValueError) as error:
        raise ValueError(f"the question cannot be sent as JSON: {error}") from error
    return {**written, "data": data, "headers": {"Content-Type": "application/json"}}


def _in_json(value: Any) -> Any:
    """What stands in JSON for a value that it has no kind for."""
    if isinstance(value, Decimal | date):
        return _in_words(value)
    if isinstance(value, Mapping):
        return dict(value)
    raise TypeError(f"{value!r} is no text, number, date, list or mapping")


def _json(answer: requests.Response) -> Any:
    """What an answer holds as JSON; None where it is none."""
    try:
        return answer.json()
    except ValueError:
        return None
