"""A chart as a table: a row for every mark, with all that it holds for."""

import csv
import io
from collections.abc import Iterator, Mapping
from typing import Any

from api.batch.cells import flat
from api.batch.columns import harmless, number_in_table
from api.engineering.checks import LEVELS
from schemas.machines.chart import ChartMarkPart, MachineChart
from schemas.record import VersionPart

Shown = Mapping[str, Any]

OF_MACHINE = ("machine", "site", "kind", "thread_hand", "arm_position")
BOTH_SYSTEMS_OF_MACHINE = ("arm_length", "gripped_outside_diameter")
OF_OPERATION = ("operation", "cylinder_side", "second_cylinder_side", "motor_port", "gauge")
BOTH_SYSTEMS = (
    "reading", "torque_at_gauge_setting", "torque_lower_bound", "torque_upper_bound",
    "uncertainty.best_estimate", "uncertainty.expanded",
)  # fmt: skip
OF_MARK = (
    "uncertainty.expanded_share", "reasons", "gauge_error_share", "in_working_range",
    "worst_case_within_rating",
)  # fmt: skip
RECORD = (
    *("as_of", "governance.status", "governance.approved_by", "governance.approved_on"),
    *("governance.effective_from", "governance.effective_to", "governance.certificate"),
    *("governance.calibration_due", "checks", "not_charted", "findings", "standing_notices", "status"),
    *(f"version.{name}" for name in VersionPart().fields),
)


def _both(names: tuple[str, ...]) -> Iterator[str]:
    for name in names:
        for system in ("us", "metric"):
            yield from (f"{name}.{system}", f"{name}.{system}.unit")


COLUMNS = (
    *OF_MACHINE, *_both(BOTH_SYSTEMS_OF_MACHINE), *OF_OPERATION, "gauge_setting", "gauge_setting.unit",
    *_both(BOTH_SYSTEMS), *OF_MARK, *RECORD,
)  # fmt: skip
"""The same whatever the machine."""


CHART, MARK = MachineChart(), ChartMarkPart()


def table(whole: Shown) -> str:
    """The table of a chart (RFC 4180)."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for row in _rows(whole):
        writer.writerow([_cell(row.get(name)) for name in COLUMNS])
    return out.getvalue()


def _rows(whole: Shown) -> Iterator[dict[str, Any]]:
    of_machine = {name: value for name, value in whole.items() if name not in ("charts", "inputs")}
    for chart in whole["charts"]:
        findings = sorted(
            [*whole["findings"], *chart["findings"]], key=lambda each: LEVELS.index(each["level"])
        )
        head = flat({**of_machine, **_head(chart), "findings": findings}, CHART.fields)
        for mark in chart["marks"]:
            yield head | flat(mark, MARK.fields)


def _head(chart: Shown) -> dict[str, Any]:
    return {name: chart.get(name) for name in OF_OPERATION}


def _cell(value: Any) -> Any:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, float):
        return number_in_table(value)
    return harmless(value) if isinstance(value, str) else value
