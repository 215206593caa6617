"""A bare Flask that takes our questions and gives our answers: what any answer in Flask costs.

It parses the query or the body, and writes our answer with Flask's own ``jsonify``, which sorts its members.
"""

import json
import os
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from flask import Flask, Response, jsonify, request


def create_app(given: Mapping[str, Sequence[Any]] | None = None) -> Flask:
    """The application; our answers are lists by name, if need be from the file that ECHO_ANSWERS names."""
    app = Flask("echo")
    answers = given or json.loads(Path(os.environ["ECHO_ANSWERS"]).read_text("utf-8"))

    @app.get("/healthz")
    def healthz() -> str:
        return "ok"

    @app.get("/<name>/<int:number>")
    def get(name: str, number: int) -> Response:
        request.args.to_dict()
        return jsonify(answers[name][number])

    @app.post("/<name>/<int:number>")
    def post(name: str, number: int) -> Response:
        request.get_json()
        return jsonify(answers[name][number])

    return app
