"""The page of a chart: rows, diagram and words, to print on A4."""

from base64 import b64encode
from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from hashlib import sha256
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined, Template
from markupsafe import Markup

from api.answers.machines.chart import ROWS
from api.http.charting import words
from api.http.charting.diagram import diagram
from api.http.charting.figures import DOWN, GAP, NEAREST, UP, decimals_of, dial, figure, system_of, unit_text
from api.http.charting.plot import DIAGRAM, WIDTH
from api.http.charting.svg import element

FEW = 8
"""Rows that do not fill a sheet."""
MILLION = 1_000_000
"""Torque from which a table counts in thousands, so that its columns stay within the sheet."""

Mark = Mapping[str, Any]


def rows_of(marks: Sequence[Mark]) -> dict[str, Any]:
    """The table of some marks: units, and cells with what marks a row."""
    first = marks[0]
    unit = first["gauge_setting"]["unit"]
    own, other = (_Torques(marks, system) for system in system_of(unit))
    reading = [mark["reading"][other.system] for mark in marks]
    decimals = decimals_of(each["value"] for each in reading)
    columns = (
        [dial(mark["gauge_setting"]["value"]) for mark in marks],
        [figure(each["value"], decimals).replace(GAP, "") for each in reading],
        own.column("torque_at_gauge_setting"),
        other.column("torque_at_gauge_setting"),
        own.column("torque_lower_bound", DOWN),
        own.column("torque_upper_bound", UP),
        [_percent(mark["uncertainty"]) for mark in marks],
    )
    return {
        "few": len(marks) <= FEW,
        "unit": unit_text(unit),
        "other_unit": unit_text(reading[0]["unit"]),
        "torque_unit": own.unit,
        "other_torque_unit": other.unit,
        "rows": [
            {"cells": cells, "best": mark["in_working_range"], "over": not mark["worst_case_within_rating"]}
            for cells, mark in zip(zip(*columns, strict=True), marks, strict=True)
        ],
    }


class _Torques:
    """The torques of some marks in one system, all with as many decimals."""

    def __init__(self, marks: Sequence[Mark], system: str) -> None:
        self.marks, self.system = marks, system
        highest = max(mark["torque_upper_bound"][system]["value"] for mark in marks)
        self.one = 1000 if highest >= MILLION else 1
        self.decimals = decimals_of([highest / self.one])
        unit = unit_text(marks[0]["torque_upper_bound"][system]["unit"])
        self.unit = unit if self.one == 1 else f"{self.one} {unit}"

    def column(self, name: str, rounding: str = NEAREST) -> list[str]:
        values = (mark[name][self.system]["value"] for mark in self.marks)
        return [figure(value / self.one, self.decimals, rounding) for value in values]


def _percent(uncertainty: Mapping[str, Any] | None) -> str:
    return "–" if uncertainty is None else figure(100 * uncertainty["expanded_share"], 1, UP)


def notes_of(marks: Sequence[Mark]) -> Iterator[str]:
    """The meanings of the signs of the table."""
    yield (
        "Bar on the left: best part of the dial. Torque at nominal efficiency. Worst case and ± % are "
        "rounded outward; ± %: expanded uncertainty, k\u00a0=\u00a02, about 95\u00a0%."
    )
    if any(not mark["worst_case_within_rating"] for mark in marks):
        yield "* In the worst case above the torque rating of the machine."
    reasons = dict.fromkeys(mark["reasons"].get("uncertainty") for mark in marks)
    yield from (f"– No uncertainty: {reason}." for reason in reasons if reason)


HERE = Path(__file__).parent
STYLE = (HERE / "page.css").read_text("utf-8")
CONTENT_SECURITY = (
    "default-src 'none'; base-uri 'none'; form-action 'none'; "
    f"style-src 'sha256-{b64encode(sha256(STYLE.encode()).digest()).decode()}'"
)
"""Nothing but the one style of the page: no script and no request, whatever a profile holds."""


@cache
def _template() -> Template:
    environment = Environment(loader=FileSystemLoader(HERE), autoescape=True, undefined=StrictUndefined)
    return environment.get_template("page.html")


Shown = Mapping[str, Any]


def page(whole: Shown) -> str:
    """The page of a chart."""
    sheets = [sheet for chart in whole["charts"] for sheet in _sheets(whole, chart)]
    return _template().render(
        style=Markup(STYLE),
        machine=whole["machine"],
        hand=whole["thread_hand"],
        sheets=sheets,
        banner=words.banner(whole),
        provenance=list(words.provenance(whole)),
    )


def _sheets(whole: Shown, chart: Shown) -> Iterator[dict[str, Any]]:
    head = {
        "operation": words.OPERATIONS[chart["operation"]],
        "driven": words.driven(chart),
        "hand": words.HANDS[whole["thread_hand"]],
        "conditions": words.conditions(whole, chart),
        "gauge": words.gauge(chart),
    }
    findings = words.findings(whole, chart)
    marks = chart["marks"]
    for start in range(0, len(marks), ROWS):
        rows = marks[start : start + ROWS]
        yield {
            **head,
            "findings": findings,
            "diagram": None,
            "table": rows_of(rows),
            "notes": [
                " ".join([*notes_of(rows), words.limits_in_words(chart)]),
                words.notices(whole),
            ],
        }
    drawn = element("svg", diagram(chart), viewBox=f"0 0 {WIDTH:g} {DIAGRAM:g}", role="img")
    # its digits have 5 mm only where it has the sheet to itself
    yield {**head, "findings": [], "diagram": drawn, "table": None, "notes": []}
