"""The page for people: every question as a form. All that it shows comes from this service."""

from importlib.resources import files

from flask import Response, send_from_directory

from api.http.problems import Problem

OURS, THEIRS = str(files("api.http.docs_page")), str(files("flask_swagger_ui") / "dist")
FOLDERS = {
    "page.html": OURS,
    "page.css": OURS,
    "page.js": OURS,
    "icon.svg": OURS,
    "swagger-ui.css": THEIRS,
    "swagger-ui-bundle.js": THEIRS,
}
"""Where each file of the page stands."""


def file_of_page(name: str) -> Response:
    """A file of the page, of ours or of Swagger UI."""
    if name not in FOLDERS:
        raise Problem(404, "not_found", f"the page has no file {name[:60]!r}")
    return send_from_directory(FOLDERS[name], name)
