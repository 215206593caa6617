"""Asks the invented shop: this joint, which machines can do it, what do I set, and why can the others not?"""

import json
from textwrap import fill
from typing import Any
from urllib.parse import urlencode

from in_words import in_words, mark, shown
from shop import ask, service

QUESTION = {
    "family": "rotary_shouldered",
    "connection": "NC50",
    "component": "drill_collar",
    "box_outside_diameter": "6 3/4 in",
    "pin_bore": "2-13/16 in",
    "operation": "make_up",
    "thread_hand": "right",
    "arm_position": "square",
    "break_out_ratio": "1.25",
    "as_of": "2026-11-24",
    "answers": "torque,able,unable,status,sources",
}
WIDTH = 100
ROW = "{:11}  {:>12}  {:5}  {:4}  {:>12}  {:>10}  {:>10}"
HEADS = (
    ("", "set this", "on", "cyl.", "torque at", "of 100", "breaks it"),
    ("machine", "mark", "gauge", "side", "the mark", "in window", "out too"),
)


def print_able(machines: list[dict[str, Any]]) -> None:
    """One line for each machine that can; below it what is found of it, STOP before LOOK before NOTE."""
    for head in HEADS:
        print(ROW.format(*head).rstrip())
    for machine in machines:
        print(row_of(machine))
        print_findings(machine, 4)


def row_of(machine: dict[str, Any]) -> str:
    """The line of a machine that can: what to set, and what comes of it."""
    within = machine["probability_in_window"]
    return ROW.format(
        machine["machine"],
        f"SET {mark(machine['gauge_setting'])}",
        machine["gauge"],
        machine.get("cylinder_side", "-"),
        f"{machine['torque_at_gauge_setting']['value']:,.0f}",
        "-" if within is None else f"{100 * within:.0f}",
        {True: "yes", False: "no", None: "-"}[machine["can_both"]],
    ).rstrip()


def print_findings(found: dict[str, Any], indent: int) -> None:
    """What is found, in the order of the answer: what stops the work first."""
    for finding in found["findings"]:
        print_hanging(" " * indent + finding["level"].upper(), indent + 5, in_words(finding["text"]))


def print_hanging(name: str, indent: int, text: str) -> None:
    """A name, and beside it a text of as many lines as it needs; a torque keeps its unit beside it."""
    text = (text[0].upper() + text[1:]).replace(" ft-lb", "\xa0ft-lb")
    head = f"{name:{indent}}"
    lines = fill(text, WIDTH, initial_indent=head, subsequent_indent=" " * indent, break_on_hyphens=False)
    print(lines.replace("\xa0", " "))


def show(address: str) -> None:
    """Ask and print."""
    with ask(f"{address}/v1/machine-choice?{urlencode(QUESTION)}") as given:
        answer = json.load(given)
    window = answer["torque"]
    print("\nJoint: NC50 drill collar, 6 3/4 in x 2-13/16 in; make-up, right hand, arm square")
    print(f"Torque: at least {shown(window['minimum'])}, at most {shown(window['maximum'])}")
    print_hanging("Source:", 8, f"{answer['sources'][0]['source']}; status: {answer['status']}")
    print("\nMachines of the invented shop that can, the surest first (torques in ft-lb):\n")
    print_able(answer["able"])
    print("\nMachines that cannot, and why:\n")
    for machine in answer["unable"]:
        for number, reason in enumerate(machine["reasons"]):
            print_hanging("" if number else machine["machine"], 13, in_words(reason["text"]))
    if answer["findings"]:
        print("\nOf the joint itself, on every machine:\n")
        print_findings(answer, 0)
    print("\nWhat is true of every job stands at /v1/standing-notices.")


if __name__ == "__main__":
    with service() as running:
        show(running)
