"""The page for people in a real browser: it fits, it finds, and every example is answered as it stands."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from contract import DOCUMENT
from devtools import Page, page_in_a_browser
from raw_http import Server, serving

pytestmark = pytest.mark.evidence

OPERATIONS = {
    tag["name"]: [
        [method.upper(), path]
        for path, operations in DOCUMENT["paths"].items()
        for method, operation in operations.items()
        if operation["tags"] == [tag["name"]]
    ]
    for tag in DOCUMENT["tags"]
}
WAIT = """
const until = async (found) => {
  for (;;) {
    const it = found();
    if (it) return it;
    await new Promise((go) => setTimeout(go, 50));
  }
};
const asked = (block) => [".opblock-summary-method", ".opblock-summary-path"].map(
  (name) => block.querySelector(name).textContent.replaceAll("\\u200b", ""));
"""
LISTED = f"""(async () => {{ {WAIT}
  await until(() => document.querySelector(".opblock"));
  return [...document.querySelectorAll(".opblock")].map(asked);
}})()"""
PRESSED = f"""(async () => {{ {WAIT}
  const seen = [];
  for (const block of document.querySelectorAll("#operations-tag-TAG ~ * .opblock")) {{
    const fold = () => block.querySelector(".opblock-summary-control").click();
    fold();
    (await until(() => block.querySelector("button.execute"))).click();
    const answered = ".live-responses-table .response .response-col_status";
    const end = await until(() => block.querySelector(`${{answered}}, .invalid`));
    seen.push([...asked(block), end.matches(answered) ? parseInt(end.textContent) : "not sent"]);
    fold();
  }}
  return seen;
}})()"""
"""Execute pressed on every operation of a subject, one after the other, nothing changed."""
FOUND = f"""(async () => {{ {WAIT}
  const box = document.querySelector(".operation-filter-input");
  const typed = Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, "value").set;
  typed.call(box, "bolt torque");
  box.dispatchEvent(new Event("input", {{bubbles: true}}));
  const all = document.querySelectorAll(".opblock").length;
  await until(() => document.querySelectorAll(".opblock").length < all);
  return [...document.querySelectorAll(".opblock")].map((block) => asked(block)[1]);
}})()"""


@pytest.fixture(scope="module")
def service() -> Iterator[Server]:
    with serving() as running_service:
        yield running_service


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Page]:
    with page_in_a_browser(tmp_path_factory.mktemp("browser")) as opened:
        yield opened


def shown(page: Page, service: Server, width: int, height: int, *, phone: bool = False) -> Any:
    """The operations that the page lists, in their order."""
    page.open(f"http://127.0.0.1:{service.port}/docs/", width, height, phone=phone)
    return page.run(LISTED)


def test_the_page_lists_every_operation_by_its_subject(page: Page, service: Server) -> None:
    assert shown(page, service, 1280, 900) == [each for of_tag in OPERATIONS.values() for each in of_tag]


def test_the_page_fits_on_a_phone(page: Page, service: Server) -> None:
    shown(page, service, 390, 844, phone=True)
    assert page.run("document.documentElement.scrollWidth") == 390


def test_words_find_an_operation(page: Page, service: Server) -> None:
    shown(page, service, 1280, 900)
    found = page.run(FOUND)
    assert found[:2] == ["/v1/torque/bolt", "/v1/torque/bolt"]
    assert "/v1/pressure" not in found


def test_the_icon_is_drawn(page: Page, service: Server, tmp_path: Path) -> None:
    shown(page, service, 1280, 900)
    assert page.run('document.querySelector("header img").naturalWidth') > 0


@pytest.mark.parametrize("tag", OPERATIONS)
def test_execute_pressed_unchanged_is_answered(page: Page, service: Server, tag: str) -> None:
    """The service of the demo: every example names machines and tables that it has, or brings its own."""
    shown(page, service, 1280, 900)
    pressed = page.run(PRESSED.replace("TAG", tag.replace(" ", "_")))
    assert pressed == [[*operation, 200] for operation in OPERATIONS[tag]]
