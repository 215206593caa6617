"""Sends the 500 invented work orders of the shop through the service, and shows what came back.

The short answer is a table, written for a spreadsheet to ``build/``; what is printed is from the same answer
as JSON, which has a summary, with the worst case beside it.
"""

import csv
import io
import json
from collections import Counter
from textwrap import shorten, wrap
from typing import Any
from urllib.parse import urlencode
from urllib.request import Request

from in_words import in_words, mark
from shop import TOP, ask, service

ORDERS = TOP / "deploy" / "demo" / "work_orders.csv"
ANSWERED = TOP / "build" / "work_orders_answered.csv"
FIRST = 20
"""Lines shown as a table."""
WIDTH = 110
ROW = "{:6}  {:11}  {:>14}  {:5}  {:4}  {:12}  {:18}  {:>7}  {:>17}"
HEADS = (
    ("", "", "set, or", "on", "cyl.", "", "", "torque,", "worst case ft-lb,"),
    ("order", "machine", "expect", "gauge", "side", "operation", "joint", "ft-lb", "or the limit"),
)


PRINTED = (
    "torque,gauge_setting,gauge,cylinder_side,torque_lower_bound,torque_upper_bound,break_out_torque,"
    "expected,do_not_exceed"
)
"""The members of an answer that a line shows, besides its findings."""


def answer_to(orders: bytes, how: dict[str, str], address: str) -> bytes:
    """The answer to a table of work orders."""
    url = f"{address}/v1/pressure/batch?{urlencode(how)}"
    with ask(Request(url, orders, {"Content-Type": "text/csv"})) as given:
        return bytes(given.read())


def joint_of(order: dict[str, str]) -> str:
    """What is turned, in a few words."""
    if order["family"] == "stated":
        return order["tool"]
    return f"{order['connection']} {order['component']}".replace("drill_", "").replace("_", " ")


def why(line: dict[str, Any]) -> str:
    """The faults of a refused line: what stands where, and what is wrong with it."""
    faults = []
    for error in line["problem"]["errors"]:
        parts = [(error["pointer"] or "").strip("/"), str(error.get("value", ""))]
        place = " ".join(part for part in parts if part)
        faults.append(": ".join(part for part in (place, in_words(error["detail"])) if part))
    return "; ".join(faults)


def row_of(order: dict[str, str], line: dict[str, Any]) -> str:
    """One line for the person at the machine: the setting first, or that there is none."""
    if "problem" in line:
        place = f"{order['order']:6}  {order['machine']:11}  "
        return place + shorten(f"REFUSED: {why(line)}", WIDTH - len(place), placeholder=" ...")
    result = line["result"]
    if order["operation"] == "make_up":
        target, do = result["torque"]["target"], f"SET {mark(result['gauge_setting'])}"
        low, high = result["torque_lower_bound"]["value"], result["torque_upper_bound"]["value"]
        limit = f"{low:,.0f} to {high:,.0f}"
    else:
        target, do = result["break_out_torque"]["likely"], f"about {mark(result['expected']['likely'])}"
        limit = f"stop at {mark(result['do_not_exceed'])}"
    return ROW.format(
        order["order"],
        order["machine"],
        do,
        result["gauge"],
        result["cylinder_side"],
        order["operation"].replace("_", " ") + (" LH" if order["thread_hand"] == "left" else ""),
        joint_of(order),
        f"{target['value']:,.0f}",
        limit,
    )


def print_refusals(codes: dict[str, int], lines: list[dict[str, Any]]) -> None:
    """Every reason with how often, and one line as its example."""
    for code, count in codes.items():
        example = next(line for line in lines if line["problem_code"] == code)
        text = wrap(why(example), WIDTH - 43, max_lines=2, placeholder=" ...")
        print(f"{count:4}  {code:27}  {example['carried']['order']:6}  {text[0]}")
        for rest in text[1:]:
            print(" " * 43 + rest)


def print_findings(results: list[dict[str, Any]]) -> None:
    """Every finding with its level, what stops the work first, and how many lines have none to act on."""
    found = [finding for result in results for finding in result["findings"]]
    texts = {(each["level"], each["code"]): in_words(each["text"]) for each in reversed(found)}
    lines = Counter(key for each in results for key in {(it["level"], it["code"]) for it in each["findings"]})
    for level in ("stop", "look", "note"):
        for key in sorted((key for key in lines if key[0] == level), key=lambda key: -lines[key]):
            head = f"{lines[key]:4}  {level.upper()}  "
            print("\n".join(wrap(texts[key], WIDTH, initial_indent=head, subsequent_indent=" " * 12)))
    quiet = sum(all(each["level"] == "note" for each in result["findings"]) for result in results)
    print(f"{quiet:4}  of them have neither STOP nor LOOK")


def show(address: str) -> None:
    """Ask and print."""
    text = ORDERS.read_bytes()
    ANSWERED.parent.mkdir(exist_ok=True)
    ANSWERED.write_bytes(answer_to(text, {"format": "csv"}, address))
    answer = json.loads(answer_to(text, {"format": "json", "answers": PRINTED}, address))
    orders = list(csv.DictReader(io.StringIO(text.decode(), newline="")))
    summary, lines = answer["summary"], answer["lines"]
    asked, answered, refused = summary["lines"], summary["answered"], summary["refused"]
    print(f"{asked} work orders of the invented shop: {answered} answered, {refused} refused")
    print(f"What to do on each line, for a spreadsheet: {ANSWERED.relative_to(TOP)}")
    print(f"\nThe first {FIRST} (LH: left-hand thread):\n")
    for head in HEADS:
        print(ROW.format(*head).rstrip())
    for order, line in zip(orders[:FIRST], lines, strict=False):
        print(row_of(order, line))
    print(f"\nThe {refused} refused lines, to be corrected and sent again, by reason:\n")
    print_refusals(summary["problem_codes"], lines)
    print(f"\nFindings on the {answered} answered lines, each with how many have it, and the text of one:\n")
    print_findings([line["result"] for line in lines if "result" in line])


if __name__ == "__main__":
    with service() as running:
        show(running)
