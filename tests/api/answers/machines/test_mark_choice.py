"""What is decided of a mark without a word: the same as what the setting, its checks and its refusals tell.

Over random machines of every kind and random windows, as the settings themselves are tested.
"""

from dataclasses import replace
from random import Random
from typing import Any

import pytest
from random_jobs import question, window_of
from random_machines import KINDS

from api.answers.machines.job import Job, job_with, profile_of, task_from
from api.answers.machines.mark_choice import Chosen, chosen_mark, to_make_up
from api.answers.machines.setting import MachineSetting, machine_setting
from api.answers.shop import Policy, Shop
from api.answers.stated import stated_window
from api.engineering.checks import NoAnswer, failed
from api.engineering.machines.limits import allowed_marks, duty_allowed, duty_checks, joint_checks
from api.engineering.torque_window import TorqueWindow
from api.registry.machines import MACHINE_CALCULATIONS
from schemas.core.faults import load

FORMS = ["both", "target at minimum", "target at maximum", "minimum", "maximum", "none"]
PRESSURE = next(each for each in MACHINE_CALCULATIONS if each.name == "pressure")
POLICY = Policy()


def drawn(draw: Random, kind: str) -> tuple[TorqueWindow, dict[str, Any], Job]:
    """A random machine and window, often with a limit of the machine or a yield of the joint that ends it."""
    machine = KINDS[kind](draw)
    asked = question(machine, window_of(draw, machine, draw.choice(FORMS)))
    asked |= {"gripped_outside_diameter": f"{draw.uniform(2.8, 10.2)!r} in"}
    if draw.random() < 0.2:
        asked |= {"aim": "target"}
    values = load(PRESSURE.request_for(asked), asked)
    window = stated_window(values, Shop())
    if draw.random() < 0.3:
        window = replace(window, torsional_yield=window.goal * draw.uniform(0.99, 1.1))
    job = job_with(profile_of(values, Shop()), task_from(values))
    limits = job.profile.limits
    if draw.random() < 0.3:
        limits = replace(limits, torque_rating=window.goal * draw.uniform(0.98, 1.1))
    if draw.random() < 0.3:
        limits = replace(limits, lowest_setting=job.gauge.last_reading * draw.uniform(0.0, 0.8))
    return window, values, replace(job, profile=replace(job.profile, limits=limits))


def set_to(window: TorqueWindow, values: dict[str, Any], job: Job) -> MachineSetting | None:
    try:
        return machine_setting(window, values, job, POLICY)
    except NoAnswer:
        return None


@pytest.mark.parametrize("kind", KINDS)
def test_a_machine_is_chosen_as_it_would_be_set(kind: str) -> None:
    draw, able = Random(f"mark choice {kind}"), 0
    for _ in range(150):
        window, values, job = drawn(draw, kind)
        found = set_to(window, values, job)
        chosen: Chosen | None = None
        try:
            asked = to_make_up(window, values, job, POLICY)
        except NoAnswer:
            assert found is None
            continue
        chosen = chosen_mark(asked)
        assert (chosen is None) == (found is None)
        if chosen and found:
            able += 1
            assert chosen.wrong_torque_probability == found.wrong_torque_probability
            assert chosen.aim.number == found.at.number
            assert (chosen.better is None) == (found.held_back is None)
            assert not failed(found.checks)
    assert able > 30


@pytest.mark.parametrize("kind", KINDS)
def test_the_hard_limits_are_those_that_the_checks_tell(kind: str) -> None:
    draw = Random(f"hard limits {kind}")
    verdicts = set()
    for _ in range(60):
        window, values, job = drawn(draw, kind)
        try:
            duty = to_make_up(window, values, job, POLICY).duty
        except NoAnswer:
            continue
        limits, gauge = job.profile.limits, job.gauge
        assert duty_allowed(limits, gauge, duty) == (not failed(duty_checks(limits, gauge, duty)))
        allowed = allowed_marks(limits, gauge, duty)
        for number in draw.sample(job.setup.known_marks, 10):
            at = job.setup.at_mark(number)
            checks = (*at.checks, *joint_checks(limits, gauge, duty, at.mark, at.torques))
            verdicts.add(allowed(*job.setup.given(number)))
            assert allowed(*job.setup.given(number)) == (not failed(checks))
    assert verdicts == {True, False}
