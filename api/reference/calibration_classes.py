"""The limits of the classes of ISO 7500-1, which stand in for a yardstick of torque machines."""

from api.engineering.calibration.accuracy_class import AccuracyClass
from api.engineering.provenance import Source, weakest_status
from api.reference.table import read_table

FIGURES = ("relative_error", "repeatability", "reversibility", "zero", "resolution")

_ROWS = read_table("calibration_classes.csv")

CLASSES = tuple(
    AccuracyClass(row.text["class"], {figure: float(row.text[figure]) for figure in FIGURES}) for row in _ROWS
)
"""From the best to the worst."""

CLASS_LIMITS = Source(
    "class limits, as a yardstick only",
    weakest_status(Source("", row.text["status"], "") for row in _ROWS),
    "ISO 7500-1, a standard for force testing machines; no conformity is claimed",
)
