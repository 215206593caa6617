"""The chart of a machine, as it is declared."""

from api.answers.machines.chart import CHARTING, chart_answer
from api.registry.tags import THE_MACHINE
from api.registry.view import View
from schemas.machines.chart import ChartAnswer, ChartRequest, MachineChart

CHART = View(
    name="chart",
    tag=THE_MACHINE,
    title="Chart of a machine: torque against the marks of its gauges",
    description="Shows make-up and break-out, each on its own gauge: every mark that can be set, or a "
    "readable choice. Each mark has its torque, worst case and expanded uncertainty, in "
    "US and metric units. The limits of machine and gauge stand beside. Each figure is "
    "what /v1/pressure answers to a joint that wants the torque of that mark. not_charted "
    "names an operation without a chart; a machine without any is refused. If you want the mark for one "
    "joint, ask /v1/pressure; the torque at one reading, /v1/delivered-torque.",
    request=ChartRequest(),
    compute=chart_answer,
    response=ChartAnswer(),
    document=MachineChart(),
    notices=CHARTING,
    example={"thread_hand": "right", "arm_position": "square"},
)
