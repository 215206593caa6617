"""What a worker keeps of machines: no more than its bound, and of a profile in a request nothing."""

import gc
from collections import Counter
from collections.abc import Iterator
from functools import lru_cache
from random import Random
from typing import Any

import pytest
from machine_kinds import DEMO, SHOP
from random_jobs import question, window_of
from random_machines import KINDS

from api.answers.machines.profile import SETUPS
from api.app import create_app
from api.engineering.machines.setup import MARKS, Setup
from api.settings import Settings

PRESSURE = "/v1/pressure"
KEEPS = type(lru_cache(1)(len))
"""What keeps values, each for the arguments that it was worked out from."""


def alive() -> Counter[type]:
    """How many objects of our own there are, by their class."""
    gc.collect()
    kinds = (type(each) for each in gc.get_objects())
    return Counter(kind for kind in kinds if str(kind.__module__).startswith("api."))


def within(*roots: Any) -> list[Any]:
    """Everything of our own that some objects hold, themselves and what they hold among it."""
    found, left = {id(each): each for each in roots}, list(roots)
    while left:
        for held in gc.get_referents(left.pop()):
            ours = isinstance(held, (dict, list, tuple, KEEPS)) or str(type(held).__module__).startswith(
                "api."
            )
            if ours and id(held) not in found:
                found[id(held)] = held
                left.append(held)
    return list(found.values())


def strange(draw: Random, questions: int) -> Iterator[dict[str, Any]]:
    """Jobs on machines of the shop: positions, diameters and torques that nobody has asked before."""
    for _ in range(questions):
        target = 10 ** draw.uniform(3.3, 4.8)
        ends = {"torque_minimum": target * draw.uniform(0.9, 1.0), "torque_maximum": target * 1.1}
        asked = {
            "family": "stated", "torque_source": "a stranger", "torque_target": f"{target!r} ft-lb",
            **{name: f"{end!r} ft-lb" for name, end in ends.items()},
            "thread_hand": draw.choice(["right", "left"]), "operation": draw.choice(["make_up", "break_out"]),
            "break_out_ratio": 1.2, "machine": draw.choice(list(SHOP)),
            "gripped_outside_diameter": f"{draw.uniform(4, 9)!r} in",
        }  # fmt: skip
        yield {**asked, "arm_position": draw.choice(["square", "unknown", f"{draw.uniform(40, 62)!r} in"])}


def test_a_stranger_fills_no_more_than_the_bound() -> None:
    """Remedies and the choice of machines set up every machine of the shop each time."""
    app = create_app(Settings(machines=DEMO))
    client, machines = app.test_client(), app.extensions["dialset"].shop.machines
    for asked in strange(Random("stranger"), 300):
        client.post(PRESSURE, json=asked)
    for asked in strange(Random("chooser"), 40):
        client.post("/v1/machine-choice", json={name: asked[name] for name in asked if name != "machine"})
    most = 0
    for profile in machines.values():
        held = within(profile)
        setups = [each for each in held if isinstance(each, Setup)]
        assert len(setups) <= SETUPS
        for setup in setups:
            kept = [each.cache_info() for each in vars(setup).values() if isinstance(each, KEEPS)]
            assert len(kept) <= 5
            assert all(each.currsize <= each.maxsize <= MARKS for each in kept)
        most = max(most, len(setups))
    assert most > SETUPS / 2


@pytest.mark.parametrize("kind", KINDS)
def test_a_profile_in_a_request_leaves_nothing_behind(kind: str) -> None:
    client, draw = create_app(Settings()).test_client(), Random(f"left behind {kind}")
    told = Counter[int]()

    def ask(questions: int) -> None:
        for _ in range(questions):
            machine = KINDS[kind](draw)
            answer = client.post(PRESSURE, json=question(machine, window_of(draw, machine, "both")))
            told[answer.status_code] += 1

    ask(3)
    before = alive()
    ask(20)
    assert alive() == before
    assert told[200] > 5
