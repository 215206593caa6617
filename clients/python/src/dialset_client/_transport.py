"""One session with a time limit, asking again where that is safe, which here is always."""

from collections.abc import Mapping
from typing import Any

import requests
from requests.adapters import HTTPAdapter
from urllib3.util.retry import Retry

from dialset_client._errors import NotReachable, Refused

TRIES_AGAIN = Retry(
    total=4,
    backoff_factor=0.2,
    status_forcelist=(502, 503, 504),
    allowed_methods=None,  # a question changes nothing, so that a POST may be repeated too
    raise_on_status=False,
)


class Transport:
    """Asks a service and returns what it answers, or raises what it refuses."""

    def __init__(self, address: str, timeout: float, session: requests.Session | None) -> None:
        self.address, self.timeout = address.rstrip("/"), timeout
        self.session = session or requests.Session()
        if session is None:
            for scheme in ("http://", "https://"):
                self.session.mount(scheme, HTTPAdapter(max_retries=TRIES_AGAIN))

    def json(self, method: str, path: str, **options: Any) -> Any:
        """The JSON of an answer."""
        return self.ask(method, path, **options).json()

    def ask(self, method: str, path: str, **options: Any) -> requests.Response:
        """An answer that is a success.

        Raises:
            Refused: with the problem document.
            NotReachable: if no answer came in time, even after asking again.
        """
        try:
            answer = self.session.request(method, self.address + path, timeout=self.timeout, **options)
        except requests.RequestException as error:
            raise NotReachable(f"{self.address} does not answer ({type(error).__name__})") from error
        if answer.ok:
            return answer
        raise Refused(_problem(answer))


def _problem(answer: requests.Response) -> Mapping[str, Any]:
    if "json" in answer.headers.get("Content-Type", ""):
        return dict(answer.json())
    return {"status": answer.status_code, "code": "http_error", "detail": answer.reason or answer.text[:200]}
