"""The working of a round thread as a table: what is shown with ``steps=true``."""
# ruff: noqa: E501  # a table

from api.engineering.working import Step

_5C3 = "API Bul 5C3 cl. 4.1"
_PIPE = "API 5B and 5CT, or as given"

ROUND_THREAD_STEPS = (
    Step("D", "outside diameter that the thread is cut on", "from the table, or as given", "thread.D", "length", _PIPE),
    Step("d", "inside diameter below the thread", "from the table, or as given", "thread.d", "length", _PIPE),
    Step("h", "thread height", "from the table, or as given", "thread.h", "length", _PIPE),
    Step("L", "engaged length", "L4 - M, or as given", "thread.L", "length", _PIPE),
    Step("Yp", "minimum yield strength", "from the table, or as given", "thread.Yp", "stress", _PIPE),
    Step("Up", "minimum tensile strength", "from the table, or as given", "thread.Up", "stress", _PIPE),
    Step("Ajp", "area under the last perfect thread", "0.7854 ((D - 2 h)^2 - d^2)", "made_up.Ajp", "area", _5C3),
    Step("Pu", "fracture strength", "0.95 Ajp Up", "made_up.fracture", "force", _5C3),
    Step("P", "pull-out strength (D and L in inches)", "0.95 Ajp L (0.74 D^-0.59 Up / (0.5 L + 0.14 D) + Yp / (L + 0.14 D))", "made_up.pull_out", "force", _5C3),
    Step("T0", "optimum torque of the table", "0.01 ft P", "made_up.optimum", "torque", "ISO 10405:2000 4.3.4"),
    Step("T", "optimum torque", "T0, times torque_adjustment where it is asked for", "window.target.torque", "torque", "API RP 5C1, notes"),
    Step("Tmin", "minimum torque", "0.75 T", "window.minimum.torque", "torque", "API RP 5C1"),
    Step("Tmax", "maximum torque", "1.25 T", "window.maximum.torque", "torque", "API RP 5C1"),
)  # fmt: skip
