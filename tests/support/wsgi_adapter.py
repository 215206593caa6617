"""Requests answered by the application itself, without a socket."""

from io import BytesIO
from typing import Any
from urllib.parse import urlsplit

import requests
from flask import Flask
from requests.adapters import BaseAdapter


class WSGIAdapter(BaseAdapter):
    """Mounted in a session, sends every request to an application; counts them."""

    def __init__(self, app: Flask) -> None:
        super().__init__()
        self.app, self.asked = app, 0

    def send(self, request: requests.PreparedRequest, **_: Any) -> requests.Response:  # type: ignore[override]
        self.asked += 1
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
            answer.raw = BytesIO(given.data)
        return answer

    def close(self) -> None:
        """Nothing is held open."""


def session_of(app: Flask) -> requests.Session:
    """A session whose requests an application answers."""
    session = requests.Session()
    session.mount("http://", WSGIAdapter(app))
    return session
