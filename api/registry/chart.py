"""The chart of a machine, as it is declared."""

from api.answers.machines.chart import chart_answer
from api.registry.view import View
from schemas.machines.chart import ChartAnswer, ChartRequest, MachineChart

CAUTIONS = (
    "This chart is for this machine, arm position, gauge, hand of thread and profile only. Do not use "
    "it for a different machine, arm station, gauge, thread or compound, or after a repair. It does "
    "not replace the machine maker's manual, the standard in force, local codes or licensed practice. "
    "It does not replace the judgement of a qualified person.",
    "Confirm the hand of the thread and what is under pressure. Stand clear of the arm while the valve "
    "is live. Depressurise before opening any line or changing the grip. Do not use a gauge that does "
    "not return to zero.",
)

CHART = View(
    name="chart",
    title="Chart of a machine: torque against the marks of its gauges",
    description="Shows make-up and break-out, each on its own gauge: every mark that can be set, or a "
    "readable choice. Each mark has its torque, worst case and expanded uncertainty, in "
    "US and metric units. The limits of machine and gauge stand beside. Each figure is "
    "what /v1/pressure answers to a joint that wants the torque of that mark. not_charted "
    "names an operation without a chart; a machine without any is refused.",
    request=ChartRequest(),
    compute=chart_answer,
    response=ChartAnswer(),
    document=MachineChart(),
    cautions=CAUTIONS,
    example={"thread_hand": "right", "arm_position": "square"},
)
