"""The setting of random machines of every kind against a search over every mark of their dials.

Torques, uncertainties and probabilities are worked out by the test, from the numbers of the profile. At
length they are 5,600 machines.
"""

from collections import Counter
from random import Random
from statistics import NormalDist

import pytest
from flask.testing import FlaskClient
from random_jobs import question, window_of
from random_machines import KINDS, Drawn
from safest_mark import NEARLY, SAME, Mark, Window, right_marks

from api.answers.machine_kinds.registry import KINDS as EVERY_KIND
from api.app import create_app
from api.settings import Settings

SEED = 13
FORMS = ["both", "target at minimum", "target at maximum", "minimum", "maximum", "none"]
NOISE = 1e-9


@pytest.fixture(scope="module")
def bare() -> FlaskClient:
    """A service without machines: no other machine is looked for as a remedy."""
    return create_app(Settings()).test_client()


def in_window(machine: Drawn, window: Window) -> list[Mark]:
    """The marks whose torque lies in the window."""
    low, high = window.lowest * (1 - NOISE), window.highest * (1 + NOISE)
    near = [number for number in machine.numbers if low <= machine.torque(number * machine.division) <= high]
    return [machine.mark(number) for number in near]


def may_be_set(machine: Drawn, window: Window, marks: list[Mark]) -> list[Mark]:
    """Those of them that fail no hard check: maximum at the highest efficiency, relief, pull."""
    high = machine.points[1] if machine.points else machine.high
    largest_pull = machine.given.get("largest_pull")
    most = float("inf")
    if largest_pull:
        area = float(machine.given["cell_area"].split()[0]) if "cell_area" in machine.given else 1.0
        most = float(largest_pull.split()[0]) / area
    return [
        mark
        for mark in marks
        if (window.maximum is None or mark.torque * high <= window.maximum * (1 + NOISE))
        and machine.relief_lets_through(mark.reading)
        and mark.reading <= most * (1 + NOISE)
    ]


def reaches(machine: Drawn, window: Window) -> bool:
    """Whether the target is reached at the lowest efficiency, as far as that is known."""
    low = machine.points[0] if machine.points else machine.low
    needed = machine.reading_for(window.target / low)
    ends = [machine.last * machine.division]
    if machine.points and window.target / low > machine.torque(machine.known[1]):
        return True  # not known, so not checked
    if "largest_pull" in machine.given:
        area = float(machine.given["cell_area"].split()[0]) if "cell_area" in machine.given else 1.0
        ends.append(float(machine.given["largest_pull"].split()[0]) / area)
    return needed <= min(ends) * (1 + NOISE)


def check(client: FlaskClient, machine: Drawn, window: Window) -> str:
    """Asks, and compares every figure; what became of it."""
    reply = client.post("/v1/pressure", json=question(machine, window))
    answer = reply.get_json()
    inside = in_window(machine, window)
    marks = may_be_set(machine, window, inside)
    if reply.status_code != 200:
        codes = {error["code"] for error in answer["errors"]}
        assert not marks or not reaches(machine, window), answer["errors"]
        if not inside and "above_gauge" not in codes:
            closed = window.minimum is not None and window.maximum is not None
            assert ("no_mark_in_window" if closed else "mark_far_from_target") in codes
        if inside and not marks and reaches(machine, window):
            assert codes <= {"joint_maximum_exceeded", "relief_cannot_protect", "capacity_exceeded"}
        return "refused"
    assert marks
    assert reaches(machine, window)
    right = {mark.reading: mark for mark in right_marks(marks, window)}
    setting = answer["gauge_setting"]["value"]
    assert setting in right, (setting, sorted(right))
    mark = right[setting]
    assert answer["torque_at_gauge_setting"]["value"] == pytest.approx(mark.torque, rel=1e-8)
    budget = answer["uncertainty"]
    assert budget["best_estimate"]["value"] == pytest.approx(mark.mean, rel=1e-8)
    assert budget["combined_share"] == pytest.approx(mark.deviation / mark.mean, rel=1e-7)
    told = {"in_window": mark.within, "below_minimum": mark.below, "above_maximum": mark.above}
    known = {
        "in_window": window.minimum is not None and window.maximum is not None,
        "below_minimum": window.minimum is not None,
        "above_maximum": window.maximum is not None,
    }
    for name, probability in told.items():
        expected = pytest.approx(probability(window), abs=NEARLY) if known[name] else None
        assert answer[f"probability_{name}"] == expected
    if known["in_window"] and len(right) == 1:
        told_of = "better_mark_fails" in {finding["code"] for finding in answer["findings"]}
        assert better_mark_fails(answer["aim"]["reason"], mark, marks, inside, window) in (told_of, None)
    return "answered"


WORTH_TELLING = 0.02
"""By how much surer a mark must be for its loss to be told: as much as leaves the target for it."""


def better_mark_fails(
    why: str, mark: Mark, marks: list[Mark], inside: list[Mark], window: Window
) -> bool | None:
    """Whether the next mark fails a limit and would be surer by 0.02, or nearer where that counts.

    None where the two are equal but for their last digits.
    """
    if len(marks) == len(inside) or mark != marks[-1]:
        return False
    above = inside[len(marks)]
    if "most probably" in why:
        gain, same = above.within(window) - mark.within(window) - WORTH_TELLING, NEARLY
    else:
        gain = abs(mark.torque - window.target) - abs(above.torque - window.target)
        same = SAME * window.target
    return None if abs(gain) < same else gain > 0


def run(client: FlaskClient, kind: str, machines: int, seed: int) -> None:
    draw, found, misses = Random(f"{SEED} {kind} {seed}"), Counter[str](), []
    for number in range(machines):
        machine, form = KINDS[kind](draw), FORMS[number % len(FORMS)]
        window = window_of(draw, machine, form)
        try:
            found[f"{form}, {check(client, machine, window)}"] += 1
        except AssertionError as miss:
            misses.append(f"{number} {form} {window}: {str(miss)[:300]}\n{machine.given}")
    assert not misses, f"{len(misses)} of {machines}:\n" + "\n".join(misses[:3])
    least = {form: found[f"{form}, answered"] for form in FORMS}
    assert min(least.values()) >= machines / len(FORMS) / 8, found


def test_every_kind_that_gives_torque_is_drawn() -> None:
    assert set(KINDS) == {key for key, kind in EVERY_KIND.items() if kind.machine}


def test_where_the_class_of_the_gauge_changes_the_window_is_searched_on_both_sides(bare: FlaskClient) -> None:
    """A wrench of 1 ft-lb/psi on a 0 to 3000 psi dial of grade A: 2 % below 750 psi, 1 % from there on.

    Window 660 to 790 ft-lb. At 725 in its middle the gauge alone has 60 / sqrt(3) = 34.6 psi, 1.88 of it to
    either end; at 750 half of that, 17.3, and 2.31 to the nearer end.
    """
    made = KINDS["torque_wrench"](Random(1)).given
    dial = {"serial": "G", "span": "3000 psi", "division": "5 psi", "connected_at": "work_port"}
    gauge = {**dial, "accuracy_class": "ASME B40.100 A"}
    machine = {
        **made,
        "torque_factor": {"torque": "10000 ft-lb", "pressure": "10000 psi"},
        "torque_factor_range": {"low": 0.999, "high": 1.001},
        "gauges": {"make_up": gauge, "break_out": gauge},
        "relief": {"lowest": "100 psi", "highest": "2900 psi", "override": "50 psi"},
    }
    asked = {
        "family": "stated", "torque_source": "invented", "torque_target": "660 ft-lb",
        "torque_minimum": "660 ft-lb", "torque_maximum": "790 ft-lb", "operation": "make_up",
        "thread_hand": "right", "machine": machine,
    }  # fmt: skip
    answer = bare.post("/v1/pressure", json=asked).get_json()
    assert answer["gauge_setting"]["value"] == 750
    # 17.32 psi of the gauge, 1.25 / sqrt(3) of reading it, 0.75 / sqrt(3) of the factor: 17.35 in all
    above = 1 - NormalDist().cdf(40 / 17.35)
    assert answer["probability_above_maximum"] == pytest.approx(above, abs=1e-4)


@pytest.mark.parametrize("kind", KINDS)
def test_the_mark_set_is_that_of_a_search(bare: FlaskClient, kind: str) -> None:
    run(bare, kind, 30, 0)


@pytest.mark.evidence
@pytest.mark.parametrize("kind", KINDS)
def test_the_mark_set_is_that_of_a_search_at_length(bare: FlaskClient, kind: str) -> None:
    run(bare, kind, 800, 1)
