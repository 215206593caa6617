"""What Dialset decides for the 500 work orders of the invented shop, as one table.

Probabilities are worked out here from the budget of each answer: normal, with its best estimate and its
combined standard uncertainty. Usage: ``python tests/bench/decisions.py``, in any checkout that has this file.
"""

import csv
import json
import os
import sys
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from statistics import NormalDist, mean
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from api.app import create_app  # noqa: E402
from api.settings import from_environment  # noqa: E402

DEMO = ROOT / "deploy" / "demo"
ORDERS = DEMO / "work_orders.csv"
SHOP = {"MACHINES": "machines", "TABLES": "tables", "POLICY": "policy.json"}
LEVELS = ("stop", "look", "note", "none")


def answers() -> list[dict[str, Any]]:
    """The lines of the answer to all orders."""
    there = {name: DEMO / place for name, place in SHOP.items() if (DEMO / place).exists()}
    settings = from_environment({f"DIALSET_{name}": os.fspath(place) for name, place in there.items()})
    client = create_app(settings).test_client()
    path = "/v1/pressure/batch?format=json&detail=full"
    asked = client.post(path, data=ORDERS.read_bytes(), content_type="text/csv")
    return list(json.loads(asked.data)["lines"])


def make_ups(lines: list[dict[str, Any]], component: str = "") -> Iterator[dict[str, Any]]:
    """The answers to make-ups whose window has both ends, of one component where that is named."""
    with ORDERS.open(encoding="utf-8-sig", newline="") as file:
        for line, order in zip(lines, csv.DictReader(file), strict=True):
            answer = line.get("result")
            if answer and order["operation"] == "make_up" and component in ("", order["component"]):
                window = answer["torque"]
                if window["minimum"] and window["maximum"] and answer["uncertainty"]:
                    yield answer


def beyond(answer: dict[str, Any]) -> tuple[float, float]:
    """Probability of a torque below the minimum, and above the maximum."""
    budget, window = answer["uncertainty"], answer["torque"]
    estimate = budget["best_estimate"]["value"]
    torque = NormalDist(estimate, budget["combined_share"] * estimate)
    return torque.cdf(window["minimum"]["value"]), 1 - torque.cdf(window["maximum"]["value"])


def wholly_inside(answer: dict[str, Any]) -> bool:
    """Whether the worst case stays within the window."""
    low, high = answer["torque_lower_bound"]["value"], answer["torque_upper_bound"]["value"]
    return bool(answer["torque"]["minimum"]["value"] <= low and high <= answer["torque"]["maximum"]["value"])


def show_make_ups(lines: list[dict[str, Any]]) -> None:
    """Print how safe the settings are."""
    print("\nmake-ups with both ends known   settings   P(below) %   P(above) %   worst case inside")
    for name, component in (("drill collars", "drill_collar"), ("all", "")):
        found = list(make_ups(lines, component))
        below, above = ([100 * each for each in side] for side in zip(*map(beyond, found), strict=True))
        inside = sum(map(wholly_inside, found))
        print(f"{name:30}{len(found):11}{mean(below):13.2f}{mean(above):13.2f}{inside:13} of {len(found)}")


def show_findings(lines: list[dict[str, Any]]) -> None:
    """Print the highest level of each answer, and every code."""
    found = [line["result"].get("findings", []) for line in lines if "result" in line]
    highest = Counter(next((name for name in LEVELS if name in levels_of(each)), "none") for each in found)
    print(f"\nanswered {len(found)}; by the highest level of their findings:")
    print(
        "  "
        + ", ".join(f"{name} {highest[name]} ({100 * highest[name] / len(found):.0f} %)" for name in LEVELS)
    )
    for (level, code), count in Counter(
        (each["level"], each["code"]) for one in found for each in one
    ).most_common():
        print(f"  {count:5}  {level:5} {code}")


def levels_of(findings: list[dict[str, Any]]) -> set[str]:
    """The levels of the findings of one answer."""
    return {each["level"] for each in findings}


def show_refusals(lines: list[dict[str, Any]]) -> None:
    """Print every code of a refusal."""
    codes = Counter(line["problem_code"] for line in lines if line["problem_code"])
    print(f"\nrefused {codes.total()}")
    for code, count in codes.most_common():
        print(f"  {count:5}  {code}")


if __name__ == "__main__":
    decided = answers()
    show_make_ups(decided)
    show_findings(decided)
    show_refusals(decided)
