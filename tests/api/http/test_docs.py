"""The page for people: every part of it comes from this service."""

import re

import pytest
from flask.testing import FlaskClient

PAGE = "/docs/"
FILES = ("page.css", "page.js", "icon.svg", "swagger-ui.css", "swagger-ui-bundle.js")


def fetched(client: FlaskClient, path: str) -> str:
    """The text of a file of the page, which is closed again."""
    with client.get(path) as answer:
        assert answer.status_code == 200
        return answer.get_data().decode("utf-8", "replace")


def test_start_leads_to_the_page(client: FlaskClient) -> None:
    answer = client.get("/")
    assert (answer.status_code, answer.headers["Location"]) == (302, PAGE)


def test_the_page_asks_for_nothing_from_elsewhere(client: FlaskClient) -> None:
    assert "://" not in fetched(client, PAGE)
    script = fetched(client, "/docs/page.js")
    assert "://" not in script
    for setting in ("validatorUrl: null", 'layout: "BaseLayout"', "filter: true", 'docExpansion: "list"'):
        assert setting in script


def test_every_file_of_the_page_is_served_and_no_other(client: FlaskClient) -> None:
    files = re.findall(r'(?:src|href)="/docs/([^"]+)"', fetched(client, PAGE))
    assert set(files) == set(FILES)
    for file in files:
        assert fetched(client, f"{PAGE}{file}")
    assert client.get("/docs/files.py").get_json()["code"] == "not_found"


def test_the_icon_is_our_own_drawing(client: FlaskClient) -> None:
    with client.get("/docs/icon.svg") as answer:
        assert answer.mimetype == "image/svg+xml"
    page = fetched(client, PAGE)
    assert '<link rel="icon" type="image/svg+xml" href="/docs/icon.svg">' in page
    assert '<img src="/docs/icon.svg"' in page


@pytest.mark.parametrize("file", ["swagger-ui.css", "page.css"])
def test_styles_load_nothing_from_elsewhere(client: FlaskClient, file: str) -> None:
    targets = re.findall(r"url\(([^)]*)\)", fetched(client, f"{PAGE}{file}"))
    assert [target for target in targets if not target.strip("\"'").startswith("data:")] == []
