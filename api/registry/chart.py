"""The chart of a machine, as it is declared."""

from api.answers.machines.chart import chart_answer
from api.registry.view import View
from schemas.machines.chart import ChartAnswer, ChartRequest, MachineChart

CAUTIONS = (
    "For this machine, arm position, gauge, hand of thread and profile only; void if machine, arm station, "
    "gauge, thread or compound is another, or after a repair. It does not replace the machine maker's "
    "manual, the standard in force, local codes or licensed practice, nor the judgement of a qualified "
    "person.",
    "Confirm the hand of the thread and what is under pressure. Stand clear of the arm while the valve is "
    "live. Depressurise before opening any line or changing the grip. A gauge that does not return to zero "
    "is out of use.",
)

CHART = View(
    name="chart",
    title="Chart of a machine: torque against the marks of its gauges",
    description="For make-up and break-out, each on its own gauge: every mark that can be set, or a readable "
    "choice, with the torque there, its worst case and its expanded uncertainty, in US and metric units side "
    "by side, and the limits of machine and gauge. Each figure is what /v1/pressure answers to a joint that "
    "wants the torque of that mark. An operation without a chart is told in not_charted; a machine without "
    "any is refused.",
    request=ChartRequest(),
    compute=chart_answer,
    response=ChartAnswer(),
    document=MachineChart(),
    cautions=CAUTIONS,
    example={"thread_hand": "right", "arm_position": "square"},
)
