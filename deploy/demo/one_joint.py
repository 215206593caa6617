"""Asks the invented shop: this joint, which machines can do it, what do I set, and why can the others not?"""

import json
from typing import Any
from urllib.parse import urlencode
from urllib.request import urlopen

from in_words import in_words, mark, shown
from shop import service

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


def driven(machine: dict[str, Any]) -> str:
    """What is put under pressure, where there is a choice."""
    if machine["motor_port"]:
        return f", port {machine['motor_port']} of the motor"
    if machine["second_cylinder_side"]:
        return f", {machine['cylinder_side']} and {machine['second_cylinder_side']} side"
    return f", {machine['cylinder_side']} side" if machine["cylinder_side"] else ""


def report_able(machine: dict[str, Any]) -> None:
    """What to set on a machine that can."""
    where = f"gauge {machine['gauge']}{driven(machine)}"
    low, high = shown(machine["torque_lower_bound"]), shown(machine["torque_upper_bound"])
    print(f"\n  {machine['machine']}: SET {mark(machine['gauge_setting'])} on {where}")
    print(f"      gives {shown(machine['torque_at_gauge_setting'])}, in the worst case {low} to {high}")
    print(f"      break-out may need {shown(machine['break_out_torque'])}")
    for check in machine["checks"]:
        if check["verdict"] == "caution":
            print(f"      caution: {in_words(check['text'])}")


def main() -> None:
    """Ask and print."""
    with service() as address, urlopen(f"{address}/v1/machine-choice?{urlencode(QUESTION)}") as given:
        answer = json.load(given)
    window = answer["torque"]
    print("Joint: NC50 drill collar, 6 1/2 in x 2-13/16 in; make-up, right hand, arm square")
    print(f"Torque: at least {shown(window['minimum'])}, at most {shown(window['maximum'])}")
    print(f"Status of the figures: {answer['status']}; {answer['sources'][0]['source']}")
    print("\nMachines of the invented shop that can, the finest gauge first:")
    for machine in answer["able"]:
        report_able(machine)
    print("\nMachines that cannot, and why:")
    for machine in answer["unable"]:
        print(f"\n  {machine['machine']}")
        for reason in machine["reasons"]:
            print(f"      {in_words(reason['text'])}")
    print()
    for caution in answer["cautions"]:
        print(f"Caution: {caution}")


if __name__ == "__main__":
    main()
