"""A chart as a page to print: for each operation sheets of A4 with its table, and one with its diagram."""

from base64 import b64encode
from collections.abc import Iterator, Mapping
from hashlib import sha256
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from api.answers.chart import ROWS
from api.http.charting import words
from api.http.charting.diagram import diagram
from api.http.charting.plot import DIAGRAM, WIDTH
from api.http.charting.rows import notes_of, rows_of
from api.http.charting.svg import element

HERE = Path(__file__).parent
STYLE = (HERE / "page.css").read_text("utf-8")
CONTENT_SECURITY = (
    "default-src 'none'; base-uri 'none'; form-action 'none'; "
    f"style-src 'sha256-{b64encode(sha256(STYLE.encode()).digest()).decode()}'"
)
"""Nothing but the one style of the page: no script and no request, whatever a profile holds."""

_environment = Environment(loader=FileSystemLoader(HERE), autoescape=True, undefined=StrictUndefined)
_template = _environment.get_template("page.html")

Shown = Mapping[str, Any]


def page(whole: Shown) -> str:
    """The page of a chart."""
    sheets = [sheet for chart in whole["charts"] for sheet in _sheets(whole, chart)]
    return _template.render(
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
    marks = chart["marks"]
    for start in range(0, len(marks), ROWS):
        rows = marks[start : start + ROWS]
        yield {
            **head,
            "diagram": None,
            "table": rows_of(rows),
            "notes": [
                " ".join([*notes_of(rows), words.limits_in_words(chart)]),
                " ".join(words.cautions(whole, chart)),
            ],
        }
    drawn = element("svg", diagram(chart), viewBox=f"0 0 {WIDTH:g} {DIAGRAM:g}", role="img")
    yield {**head, "diagram": drawn, "table": None, "notes": []}
