"""The page for people: every part of it comes from this service."""

import re

import pytest
from flask.testing import FlaskClient

PAGE = "/docs/"


def fetched(client: FlaskClient, path: str) -> str:
    """The text of a file of the page, which is closed again."""
    with client.get(path) as answer:
        assert answer.status_code == 200
        return answer.get_data().decode("utf-8", "replace")


def test_start_leads_to_the_page(client: FlaskClient) -> None:
    answer = client.get("/")
    assert (answer.status_code, answer.headers["Location"]) == (302, PAGE)


def test_the_page_asks_for_nothing_from_elsewhere(client: FlaskClient) -> None:
    page = client.get(PAGE).text
    assert "://" not in page.replace("http://localhost/docs/oauth2-redirect.html", "")
    assert '"validatorUrl": null' in page
    assert '"layout": "BaseLayout"' in page


@pytest.mark.parametrize("kind", ["src", "href"])
def test_every_file_of_the_page_is_served(client: FlaskClient, kind: str) -> None:
    files = re.findall(rf'{kind}="([^"]+)"', client.get(PAGE).text)
    assert files
    for file in files:
        assert file.startswith("/docs/")
        assert fetched(client, file)


def test_styles_load_nothing_from_elsewhere(client: FlaskClient) -> None:
    for style in ("/docs/swagger-ui.css", "/docs/index.css"):
        targets = re.findall(r"url\(([^)]*)\)", fetched(client, style))
        assert [target for target in targets if not target.strip("\"'").startswith("data:")] == []
