"""A real browser that draws a page and says what stands where on it; all lengths are in mm of paper."""

import html
import json
import re
import subprocess
from dataclasses import dataclass
from pathlib import Path

from programs import needed
from raw_http import HANGS

FLAGS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
    "--hide-scrollbars", "--window-size=900,1200",
)  # fmt: skip

MEASURE = """
const MM = 25.4 / 96, out = [], canvas = document.createElement("canvas").getContext("2d");
const sheets = [...document.querySelectorAll(SHEETS)];
const box = (rect) => [rect.left, rect.top, rect.right, rect.bottom].map((px) => px * MM);
function digits(element) {
  const style = getComputedStyle(element), matrix = element.getScreenCTM && element.getScreenCTM();
  canvas.font = `${style.fontStyle} ${style.fontWeight} 1000px ${style.fontFamily}`;
  const tall = [..."0123456789"].map((digit) => canvas.measureText(digit).actualBoundingBoxAscent);
  return Math.min(...tall) / 1000 * parseFloat(style.fontSize) * (matrix ? matrix.a : 1) * MM;
}
sheets.forEach((sheet, number) => {
  const walker = document.createTreeWalker(sheet, NodeFilter.SHOW_TEXT);
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    if (!node.data.trim() || node.parentElement.closest("title, style")) continue;
    const range = document.createRange();
    range.selectNodeContents(node);
    for (const rect of range.getClientRects())
      out.push({sheet: number, words: node.data.trim(), box: box(rect), digits: digits(node.parentElement)});
  }
});
const report = document.createElement("pre");
report.id = "measured";
const places = sheets.map((sheet) => box(sheet.getBoundingClientRect()));
report.textContent = JSON.stringify({sheets: places, texts: out});
document.body.append(report);
"""


@dataclass(frozen=True)
class Text:
    """Words as the browser drew them.

    Attributes:
        sheet: number of the sheet they are on.
        words: themselves.
        box: left, top, right, bottom.
        digits: how high a digit of their font is.
    """

    sheet: int
    words: str
    box: tuple[float, float, float, float]
    digits: float

    def overlaps(self, other: "Text", slack: float) -> bool:
        """Whether both cover a place, by more than ``slack`` each way."""
        left, top, right, bottom = self.box
        return (
            left < other.box[2] - slack
            and other.box[0] < right - slack
            and top < other.box[3] - slack
            and other.box[1] < bottom - slack
        )


@dataclass(frozen=True)
class Drawn:
    """The sheets of a page and every text on them."""

    sheets: list[tuple[float, float, float, float]]
    texts: list[Text]


def drawn(document: str, sheets: str, folder: Path) -> Drawn:
    """What stands where on a page.

    Args:
        document: HTML, or SVG alone.
        sheets: a selector of its sheets.
        folder: an empty one.
    """
    script = f"<script>{MEASURE.replace('SHEETS', json.dumps(sheets))}</script>"
    (folder / "measured.html").write_text(
        document.replace("</body>", f"{script}</body>") if "</body>" in document else document + script,
        "utf-8",
    )
    dumped = _run(folder, "--dump-dom", (folder / "measured.html").as_uri())
    found = re.search(r'<pre id="measured">(.*?)</pre>', dumped, re.DOTALL)
    assert found, dumped[:2000]
    measured = json.loads(html.unescape(found[1]))
    return Drawn(
        [tuple(sheet) for sheet in measured["sheets"]],
        [
            Text(each["sheet"], each["words"], tuple(each["box"]), each["digits"])
            for each in measured["texts"]
        ],
    )


def pages_printed(document: str, folder: Path) -> int:
    """How many sheets of paper a page prints on."""
    (folder / "page.html").write_text(document, "utf-8")
    to = f"--print-to-pdf={folder / 'page.pdf'}"
    _run(folder, "--no-pdf-header-footer", to, (folder / "page.html").as_uri())
    return len(re.findall(rb"/Type\s*/Page\b", (folder / "page.pdf").read_bytes()))


def _run(folder: Path, *arguments: str) -> str:
    browser = needed("chromium-headless-shell", "chromium")
    command = [browser, *FLAGS, f"--user-data-dir={folder / 'user'}", *arguments]
    return subprocess.run(command, capture_output=True, text=True, check=True, timeout=HANGS).stdout
