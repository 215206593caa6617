"""Types cells into a running LibreOffice and reads them back.

Run by the Python that has UNO, one job a run: JSON on the standard input, the cells on the standard output.
"""

import json
import os
import sys
import time
from contextlib import suppress
from string import ascii_uppercase
from typing import Any

LONGEST_START = 100.0


def connected(uno: Any, pipe: str) -> Any:
    """The desktop of the office that listens on this pipe, once it does."""
    here = uno.getComponentContext()
    resolver = here.ServiceManager.createInstanceWithContext("com.sun.star.bridge.UnoUrlResolver", here)
    deadline = time.monotonic() + LONGEST_START
    while True:
        try:
            context = resolver.resolve(f"uno:pipe,name={pipe};urp;StarOffice.ComponentContext")
        except uno.getClass("com.sun.star.connection.NoConnectException"):
            if time.monotonic() > deadline:
                raise
            time.sleep(0.1)
        else:
            return context.ServiceManager.createInstanceWithContext("com.sun.star.frame.Desktop", context)


def close_all(desktop: Any) -> None:
    """Close every document, saved or not."""
    for document in list(desktop.Components):
        document.close(True)


def opened(uno: Any, desktop: Any, address: str | None) -> Any:
    """The document at this address, the only one then open; without an address the one already open."""
    if address is None:
        return next(iter(desktop.Components))
    close_all(desktop)
    update = uno.createUnoStruct("com.sun.star.beans.PropertyValue")
    # FULL_UPDATE, of which the office takes note only as a short
    update.Name, update.Value = "UpdateDocMode", uno.Any("short", 3)
    document = desktop.loadComponentFromURL(address, "_blank", 0, (update,))
    assert document is not None, f"the office does not open {address}"
    return document


def fill(uno: Any, sheet: Any, job: dict[str, Any]) -> None:
    """Type as a person does, in the language of the office, and fill the first row down."""
    for place, text in job["typed"].items():
        sheet.getCellRangeByName(place).FormulaLocal = text
    if job["filled_down"]:
        down = uno.Enum("com.sun.star.sheet.FillDirection", "TO_BOTTOM")
        sheet.getCellRangeByName(job["filled_down"]).fillAuto(down, 1)


def save(uno: Any, document: Any, wanted: dict[str, str]) -> None:
    """Store copies, each in its format."""
    for address, name in wanted.items():
        form = uno.createUnoStruct("com.sun.star.beans.PropertyValue")
        form.Name, form.Value = "FilterName", name
        document.storeToURL(address, (form,))


def read(sheet: Any, area: str) -> dict[str, float | str | None]:
    """What every cell of an area holds, by its name: a number, a text, or None for an error."""
    cells = sheet.getCellRangeByName(area)
    left, top = cells.RangeAddress.StartColumn, cells.RangeAddress.StartRow
    return {
        f"{ascii_uppercase[column]}{row}": value
        for row, values in enumerate(cells.getDataArray(), top + 1)
        for column, value in enumerate(values, left)
    }


def main() -> None:
    """Do the job."""
    import uno  # noqa: PLC0415  only where this is run as a script is there such a module

    job = json.load(sys.stdin)
    desktop = connected(uno, job["pipe"])
    if job["end"]:
        close_all(desktop)
        # the office may be gone before it has said so
        with suppress(uno.getClass("com.sun.star.lang.DisposedException")):
            desktop.terminate()
        return
    document = opened(uno, desktop, job["opened"])
    sheet = document.Sheets.getByIndex(0)
    fill(uno, sheet, job)
    if job["recalculated"]:
        document.calculateAll()
    save(uno, document, job["saved"])
    json.dump(read(sheet, job["area"]), sys.stdout)


if __name__ == "__main__":
    main()
    sys.stdout.flush()
    # UNO sometimes crashes while the interpreter is taken down, after the work is done
    os._exit(0)
