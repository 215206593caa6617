"""The chart as a picture, in a real browser: no text on another, none off its sheet, digits 5 mm high."""

import json
import re
from collections.abc import Mapping
from itertools import combinations
from pathlib import Path
from typing import Any

import pytest
from browser import Drawn, drawn, pages_printed
from flask.testing import FlaskClient
from machine_kinds import DEMO, SHOP

from api.app import create_app
from api.settings import Settings

pytestmark = pytest.mark.evidence

SLACK = 0.1
"""mm by which boxes may touch: the browser rounds to its pixels."""
FIGURE = re.compile(r"[\d.\u202f]+")

KINDS = {profile.kind.key: name for name, profile in SHOP.items() if profile.kind.machine}
"""A machine of every kind that gives torque."""
LONGEST = ("long-name-of-the-bay-at-the-east-door-" * 2)[:60]
"""An id as long as ids can be."""
WORDS = "the invented night shift of the north hall beside the east door " * 2
CASES: dict[str, tuple[str, dict[str, str], int]] = {
    # case: machine, what is asked besides, pages
    **{kind: (machine, {}, 4) for kind, machine in KINDS.items()},
    "metric dial": ("south-bay-1", {"as_of": "2026-11-24"}, 4),
    "few marks": ("north-bay-5", {}, 4),
    "draft, left hand, unknown position": (
        "south-bay-6", {"thread_hand": "left", "arm_position": "unknown"}, 4
    ),
    "overdue, most rows": ("south-bay-9", {"thread_hand": "left", "as_of": "2027-06-01"}, 4),
    "by diameter": ("south-bay-4", {"gripped_outside_diameter": "7 3/4 in"}, 4),
    "every mark": ("north-bay-2", {"every": "true"}, 5),
    "largest figures": ("ring-9", {}, 4),
    "longest texts": (LONGEST, {"thread_hand": "left", "as_of": "2026-11-24"}, 4),
}  # fmt: skip
every_case = pytest.mark.parametrize("case", CASES.values(), ids=CASES)


def ring_nine() -> dict[str, Any]:
    """An invented ring of 700000 ft-lb with gauges to 10000 psi."""
    profile = json.loads((DEMO / "south-bay-8.json").read_text("utf-8"))
    for each in profile["cylinders"]:
        each["cylinder"] |= {"bore": "5 in", "rod": "2.5 in"}
    for gauge in profile["gauges"].values():
        gauge |= {"span": "10000 psi", "division": "100 psi"}
    profile["rated_pressure"] = {"cylinder": "10000 psi", "hoses": "10000 psi"}
    relief = {"lowest": "200 psi", "highest": "9000 psi", "override": "500 psi"}
    return {**profile, "id": "ring-9", "relief": relief, "torque_rating": "700000 ft-lb"}


def longest_texts() -> dict[str, Any]:
    """An invented machine whose texts are all as long as can be."""
    profile = json.loads((DEMO / "south-bay-9.json").read_text("utf-8"))
    for name in ("make_up", "break_out"):
        profile["gauges"][name]["serial"] = WORDS[:39] + name[0]
    return {
        **profile,
        "id": LONGEST,
        "site": WORDS[:60],
        "revision": WORDS[:20],
        "approved_by": WORDS[:100],
        "calibration": {"certificate": WORDS[:60], "due": "2027-03-02"},
    }


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> FlaskClient:
    """The invented shop, and the machines above."""
    folder = tmp_path_factory.mktemp("machines")
    for path in DEMO.glob("*.json"):
        (folder / path.name).write_bytes(path.read_bytes())
    for profile in (ring_nine(), longest_texts()):
        (folder / f"{profile['id']}.json").write_text(json.dumps(profile), "utf-8")
    return create_app(Settings(machines=folder)).test_client()


def chart(shop: FlaskClient, machine: str, asked: Mapping[str, str], form: str) -> str:
    query = {"thread_hand": "right", "arm_position": "square", **asked, "format": form}
    answer = shop.get(f"/v1/machines/{machine}/chart", query_string=query)
    assert answer.status_code == 200, answer.text
    return answer.text


def faults_of(found: Drawn) -> list[str]:
    """Texts that overlap, that leave their sheet, and figures that cannot be read from the machine."""
    assert len(found.texts) > 40
    overlapping = [
        f"{one.words!r} on {other.words!r}"
        for one, other in combinations(found.texts, 2)
        if one.sheet == other.sheet and one.overlaps(other, SLACK)
    ]
    outside = [
        f"{text.words!r} leaves its sheet"
        for text in found.texts
        for left, top, right, bottom in [found.sheets[text.sheet]]
        if not (left - SLACK <= text.box[0] and text.box[2] <= right + SLACK)
        or not (top - SLACK <= text.box[1] and text.box[3] <= bottom + SLACK)
    ]
    figures = [text for text in found.texts if FIGURE.fullmatch(text.words)]
    assert len(figures) > 20
    small = [f"{text.words!r} {text.digits:.2f} mm" for text in figures if text.digits < 5.0]
    return [*overlapping, *outside, *small]


@every_case
def test_a_page(shop: FlaskClient, tmp_path: Path, case: tuple[str, dict[str, str], int]) -> None:
    machine, asked, pages = case
    page = chart(shop, machine, asked, "html")
    found = drawn(page, "section", tmp_path)
    assert faults_of(found) == []
    assert len(found.sheets) == pages
    for left, top, right, bottom in found.sheets:
        assert right - left <= 190.1
        assert bottom - top <= 281.0
    assert pages_printed(page, tmp_path) == pages


@every_case
def test_a_drawing(shop: FlaskClient, tmp_path: Path, case: tuple[str, dict[str, str], int]) -> None:
    machine, asked, _ = case
    drawing = chart(shop, machine, asked, "svg")
    assert faults_of(drawn(drawing, "svg", tmp_path)) == []


def test_the_measure_finds_what_is_wrong(tmp_path: Path) -> None:
    """A page made wrong on purpose: two texts on one place, one off the sheet, digits of 4 mm."""
    rows = "".join(f'<p style="top:{10 * row}mm">{row}1234</p>' for row in range(1, 25))
    plain = "".join(f'<p style="top:{10 * row}mm;left:60mm">words</p>' for row in range(1, 25))
    wrong = (
        '<p style="top:262mm;left:60mm">on it</p><p style="top:263mm;left:60mm">below</p>'
        '<p style="top:270mm;left:180mm">too far out</p><p style="top:270mm;font-size:16pt">77</p>'
    )
    style = "section { position: relative; width: 190mm; height: 280mm } p { position: absolute; margin: 0; "
    style += "font: 21pt sans-serif; white-space: nowrap }"
    page = f"<!doctype html><style>{style}</style><body><section>{rows}{plain}{wrong}</section></body>"
    found = faults_of(drawn(page, "section", tmp_path))
    assert found[:2] == ["'on it' on 'below'", "'too far out' leaves its sheet"]
    assert re.fullmatch(r"'77' [34]\.\d\d mm", found[2])
    assert len(found) == 3
