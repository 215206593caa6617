"""Asks the invented shop: this joint, which machines can do it, what do I set, and why can the others not?"""

import json
from string import ascii_lowercase
from textwrap import fill
from typing import Any
from urllib.parse import urlencode

from in_words import in_words, mark, shown
from shop import ask, service

QUESTION = {
    "family": "rotary_shouldered",
    "connection": "NC50",
    "component": "drill_collar",
    "box_outside_diameter": "6 1/2 in",
    "pin_bore": "2-13/16 in",
    "operation": "make_up",
    "thread_hand": "right",
    "arm_position": "square",
    "break_out_ratio": "1.25",
    "as_of": "2026-11-24",
}
WIDTH = 100
ROW = "{:11}  {:>12}  {:5}  {:11}  {:>9}  {:>16}  {:>9}  {}"
HEADS = (
    ("", "set this", "on", "side or", "torque at", "worst case at", "break-out", ""),
    ("machine", "mark", "gauge", "port", "the mark", "the mark", "may need", "caution"),
)


def driven(machine: dict[str, Any]) -> str:
    """What is put under pressure, where there is a choice."""
    if machine["motor_port"]:
        return f"port {machine['motor_port']}"
    sides = (machine["cylinder_side"], machine["second_cylinder_side"])
    return " and ".join(side for side in sides if side) or "-"


def cautions_of(machine: dict[str, Any]) -> dict[str, float | None]:
    """What its user must know: sentences, and the torque of each that stands in it as ``{}``."""
    told: dict[str, float | None] = {
        text: None for text in machine["cautions"] if not text.endswith(": see checks.")
    }
    for check in machine["checks"]:
        if check["verdict"] == "caution":
            text, torque = in_words(check["text"]), shown(check["value"])
            own = torque.endswith(" ft-lb") and torque in text
            told[text.replace(torque, "{}") if own else text] = check["value"]["value"] if own else None
    return told


def filled(caution: str, torques: list[float | None]) -> str:
    """A sentence with the torque of its machine, or with the lowest and highest of its machines."""
    known = sorted(torque for torque in torques if torque is not None)
    if not known:
        return caution
    ends = dict.fromkeys(f"{torque:,.0f}" for torque in (known[0], known[-1]))
    return caution.replace("{}", f"{' to '.join(ends)} ft-lb")


def print_able(machines: list[dict[str, Any]]) -> None:
    """One line for each machine that can; below them the cautions, those of all machines first."""
    all_told = [cautions_of(machine) for machine in machines]
    torques: dict[str, list[float | None]] = {}
    for told in all_told:
        for caution, torque in told.items():
            torques.setdefault(caution, []).append(torque)
    of_some = [caution for caution, each in torques.items() if len(each) < len(machines)]
    letters = dict(zip(of_some, ascii_lowercase, strict=False))
    for head in HEADS:
        print(ROW.format(*head).rstrip())
    for machine, told in zip(machines, all_told, strict=True):
        print(row_of(machine, ", ".join(sorted(letters[caution] for caution in told if caution in letters))))
    print("\nCautions, for all of these machines or for those with the letter:\n")
    for caution in sorted(torques, key=lambda caution: letters.get(caution, "")):
        print_hanging(letters.get(caution, "all"), 5, filled(caution, torques[caution]))


def row_of(machine: dict[str, Any], letters: str) -> str:
    """The line of a machine that can: what to set, and what comes of it."""
    low, high = machine["torque_lower_bound"]["value"], machine["torque_upper_bound"]["value"]
    return ROW.format(
        machine["machine"],
        f"SET {mark(machine['gauge_setting'])}",
        machine["gauge"],
        driven(machine),
        f"{machine['torque_at_gauge_setting']['value']:,.0f}",
        f"{low:,.0f} to {high:,.0f}",
        f"{machine['break_out_torque']['value']:,.0f}",
        letters,
    ).rstrip()


def print_hanging(name: str, indent: int, text: str) -> None:
    """A name, and beside it a text of as many lines as it needs; a torque keeps its unit beside it."""
    text = (text[0].upper() + text[1:]).replace(" ft-lb", "\xa0ft-lb")
    head = f"{name:{indent}}"
    print(fill(text, WIDTH, initial_indent=head, subsequent_indent=" " * indent).replace("\xa0", " "))


def show(address: str) -> None:
    """Ask and print."""
    with ask(f"{address}/v1/machine-choice?{urlencode(QUESTION)}") as given:
        answer = json.load(given)
    window = answer["torque"]
    print("\nJoint: NC50 drill collar, 6 1/2 in x 2-13/16 in; make-up, right hand, arm square")
    print(f"Torque: at least {shown(window['minimum'])}, at most {shown(window['maximum'])}")
    print_hanging("Source:", 8, f"{answer['sources'][0]['source']}; status: {answer['status']}")
    print("\nMachines of the invented shop that can, the finest gauge first (torques in ft-lb):\n")
    print_able(answer["able"])
    print("\nMachines that cannot, and why:\n")
    for machine in answer["unable"]:
        for number, reason in enumerate(machine["reasons"]):
            print_hanging("" if number else machine["machine"], 13, in_words(reason["text"]))
    print()
    for caution in answer["cautions"]:
        print_hanging("Caution:", 9, caution)


if __name__ == "__main__":
    with service() as running:
        show(running)
