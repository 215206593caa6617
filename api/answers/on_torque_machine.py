"""A question about torque is not asked of a machine that gives none."""

from collections.abc import Callable, Mapping
from typing import Any

from api.answers.answer import Answer
from api.answers.machine_job import profile_of
from api.answers.machine_kinds import stud_tensioner
from api.answers.shop import Shop

Computing = Callable[[Mapping[str, Any], Shop], Answer]


def on_torque_machine(compute: Computing) -> Computing:
    """A calculation that refuses a stud tensioner with ``gives_no_torque`` before it begins.

    Only for those that never build the machine, which a tensioner refuses by itself.
    """

    def asked(values: Mapping[str, Any], shop: Shop) -> Answer:
        if "machine" in values and profile_of(values, shop).loaded["kind"] == stud_tensioner.NAME:
            stud_tensioner.no_torque()
        return compute(values, shop)

    return asked
