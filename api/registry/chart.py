"""The chart of a machine as one mapping: what every form of it is written from."""

from collections.abc import Mapping
from typing import Any

from api.answers.machines.chart import chart_answer
from api.answers.machines.profile import Profile
from api.answers.record import record
from api.answers.shop import Shop
from schemas.core.fields import Reasons
from schemas.core.quantity_fields import OutputUnits, written_in
from schemas.machines.chart import ChartAnswer, ChartRequest

TITLE = "Chart of a machine: torque against the marks of its gauges"
DESCRIPTION = (
    "For make-up and break-out, each on its own gauge: every mark that can be set, or a readable choice, "
    "with the torque there, its worst case and its expanded uncertainty, in US and metric units side by "
    "side, and the limits of machine and gauge. Each figure is what /v1/pressure answers to a joint that "
    "wants the torque of that mark. An operation without a chart is told in not_charted; a machine without "
    "any is refused."
)
EXAMPLE = {"thread_hand": "right", "arm_position": "square"}
REQUEST, RESPONSE = ChartRequest(), ChartAnswer()
CAUTIONS = (
    "For this machine, arm position, gauge, hand of thread and profile only; void if machine, arm station, "
    "gauge, thread or compound is another, or after a repair. It does not replace the machine maker's "
    "manual, the standard in force, local codes or licensed practice, nor the judgement of a qualified "
    "person.",
    "Confirm the hand of the thread and what is under pressure. Stand clear of the arm while the valve is "
    "live. Depressurise before opening any line or changing the grip. A gauge that does not return to zero "
    "is out of use.",
)


def chart(
    profile: Profile, values: Mapping[str, Any], given: Mapping[str, Any], shop: Shop, system: str
) -> dict[str, Any]:
    """The whole chart of one machine, ready to be written.

    Args:
        profile: the machine.
        values: the request, loaded.
        given: the request as it came, for the record.
        shop: its policy.
        system: units of amounts inside sentences; figures are given in both systems.

    Raises:
        NoAnswer: where nothing can be charted, with every reason.
    """
    answer = chart_answer(profile, values, shop)
    shop.accept(answer)
    reasons: Reasons = {}
    units = OutputUnits(system)
    with written_in(units):
        written = RESPONSE.written(answer.result, reasons, "")
    return written | record(answer, units.reasons(reasons), CAUTIONS, given)
