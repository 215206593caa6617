"""What is decided of a mark without a word: the same as what the setting, its checks and its refusals tell.

Over random machines of every kind and random windows, as the settings themselves are tested.
"""

from collections import Counter
from dataclasses import replace
from random import Random
from typing import Any

import pytest
from machine_kinds import SHOP
from random_jobs import question, window_of
from random_machines import KINDS

from api.answers.machines.break_out_limit import break_out_limit
from api.answers.machines.job import Job, job_with, profile_of, task_from
from api.answers.machines.mark_choice import Chosen, chosen_mark, to_make_up
from api.answers.machines.profile import ProfileFolder, validity_checks
from api.answers.machines.remedies import Remedies
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
DEMO = Shop(ProfileFolder(SHOP, {}))


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


def set_to(
    window: TorqueWindow, values: dict[str, Any], job: Job, policy: Policy = POLICY
) -> MachineSetting | None:
    try:
        return machine_setting(window, values, job, policy)
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


def searched(window: TorqueWindow, values: dict[str, Any], job: Job) -> tuple[str, float] | None:
    """The surest other machine of the shop, as a search over whole settings and whole checks finds it."""
    task, found = job.task, []
    if isinstance(task.position, float):
        task = replace(task, position="square")
    for profile in DEMO.machines.values():
        valid = validity_checks(profile.governance, task.as_of, refuse_unfit=True)
        other = set_to(window, values, job_with(profile, task), DEMO.policy)
        if profile.version == job.profile.version or failed(valid) or other is None:
            continue
        if other.break_out_torque is not None:
            try:
                limit = break_out_limit(window, other.job.for_operation("break_out"), values, DEMO.policy)
            except NoAnswer:
                continue
            if other.break_out_torque.likely > limit.mark.torque:
                continue
        risk, elsewhere = other.wrong_torque_probability, profile.site != job.profile.site
        found.append((elsewhere or risk > DEMO.policy.worth_telling, risk, profile.version.id, elsewhere))
    if not found:
        return None
    _, risk, where, elsewhere = min(found)
    place = f" at site {DEMO.machine(where).site}" if elsewhere and DEMO.machine(where).site else ""
    return f"{where}{place}{'' if task is job.task else ' with its arm square'}", risk


def test_the_machine_of_a_remedy_is_that_of_a_full_search() -> None:
    draw, named = Random("full search"), Counter[str]()
    for _ in range(150):
        target = 10 ** draw.uniform(3.3, 4.7)
        asked = {
            "family": "stated", "torque_source": "random", "torque_target": f"{target!r} ft-lb",
            "torque_minimum": f"{target * draw.uniform(0.9, 1.0)!r} ft-lb",
            "torque_maximum": f"{target * draw.uniform(1.0, 1.1)!r} ft-lb",
            "machine": draw.choice([each for each in DEMO.machines if each != "bench-2"]),
            "operation": "make_up", "thread_hand": draw.choice(["right", "left"]), "as_of": "2026-06-08",
            "arm_position": draw.choice(["square", "unknown", f"{draw.uniform(40, 60)!r} in"]),
            "gripped_outside_diameter": f"{draw.uniform(3, 10)!r} in",
            **draw.choice([{}, {"break_out_ratio": draw.uniform(1, 2)}, {"aim": "target"}]),
        }  # fmt: skip
        values = load(PRESSURE.request_for(asked), asked)
        window, job = stated_window(values, DEMO), job_with(profile_of(values, DEMO), task_from(values))
        found = Remedies(window, values, DEMO).machine(job)
        assert found == searched(window, values, job)
        named[found[0].split()[0] if found else ""] += 1
    assert len(named) > 8
