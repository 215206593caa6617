"""A service in this very process, where the service is installed too: no port, no other program."""

from io import BytesIO
from typing import Any
from urllib.parse import urlsplit

import requests
from requests.adapters import BaseAdapter

ADDRESS = "http://in-process"


class ApplicationAdapter(BaseAdapter):
    """Mounted in a session, has every request answered by an application."""

    def __init__(self, app: Any) -> None:
        super().__init__()
        self.app = app

    def send(self, request: requests.PreparedRequest, *_: Any, **__: Any) -> requests.Response:
        """The answer of the application."""
        parts = urlsplit(request.url or "")
        with (
            self.app.test_client() as client,
            client.open(
                str(parts.path),
                method=request.method,
                query_string=str(parts.query),
                data=request.body,
                headers=dict(request.headers),
            ) as given,
        ):
            answer = requests.Response()
            answer.status_code, answer.reason = given.status_code, given.status.partition(" ")[2]
            answer.headers.update(given.headers)
            answer.raw = BytesIO(_whole(given))
        return answer

    def close(self) -> None:
        """Nothing is held open."""


def _whole(given: Any) -> bytes:
    """The body of an answer; that of a batch may fail after its first lines."""
    try:
        return bytes(given.data)
    except Exception as error:
        raise requests.exceptions.ChunkedEncodingError(error) from error


def session_of(app: Any) -> requests.Session:
    """A session whose requests a Flask application answers."""
    session = requests.Session()
    session.mount("http://", ApplicationAdapter(app))
    return session
