"""Whether two checkouts answer alike: ``python tests/bench/equal.py OTHER [--but NAME ...] [--absent]``.

Asks both 5,000 random questions of every calculation about the shop of this checkout, drawn with a seed, and
compares status and full answer leaf for leaf, refusals too. Differences are grouped by the name of the leaf;
``--but`` leaves out members by their names. Ends with 1 if any is left, with 0 if none.
"""

import argparse
import json
import re
import subprocess
import sys
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from copy import deepcopy
from pathlib import Path
from random import Random
from typing import Any, NamedTuple

from questions import SEED, job, joint
from servers import ROOT, SHOP

from api.registry.calculation import Calculation
from api.registry.calculations import CALCULATIONS
from api.registry.families import FAMILY

ASK = """
import json, os, sys
import api.app
from api.settings import from_environment
assert os.path.abspath(api.app.__file__).startswith(os.getcwd()), api.app.__file__
client = api.app.create_app(from_environment(os.environ)).test_client()
known = client.get("/v1/conversion?quantity=1 in&to=mm&detail=full").status_code == 200
full = {"detail": "full"} if known else {}
for name, method, fields in json.load(sys.stdin):
    if method == "GET":
        answer = client.get("/v1/" + name, query_string={**fields, **full})
    else:
        answer = client.post("/v1/" + name, query_string=full, json=fields)
    print(json.dumps([answer.status_code, json.loads(answer.data)]))
"""
"""Asks the checkout in which it runs, and prints each answer; one that knows no ``detail`` gives all."""
WRONG = (
    "", "none", 0, -1, 1.5, True, None, [], {}, "6,5 in", "1e9 in", "6.5", "5 furlong", "NC50", "square",
    "2026-11-24",
)  # fmt: skip
"""What may stand where something else is wanted."""
SHOWN = ({}, {}, {}, {"units": "si"}, {"units": "metric"}, {"torque_unit": "kN.m", "steps": True})
SHOWN_WHOLE = 5
"""Questions that are printed of those that are answered otherwise."""
QUANTITY = re.compile(r"([0-9]+(?:\.[0-9]+)?) (\S+)")


class Question(NamedTuple):
    """A calculation, how it is asked, and its fields."""

    calculation: str
    method: str
    fields: Mapping[str, Any]


class Answer(NamedTuple):
    """What came back."""

    status: int
    body: Any


class Difference(NamedTuple):
    """A leaf by its name, and what it is on both sides."""

    name: str
    kind: str
    there: str
    here: str


def drawn(count: int) -> Iterator[Question]:
    """Random questions, a quarter of them pressures; half of all are shaken."""
    draw = Random(SEED)
    machines = sorted(each.stem for each in Path(SHOP["DIALSET_MACHINES"]).glob("*.json"))
    pressure = next(each for each in CALCULATIONS if each.name == "pressure")
    for _ in range(count):
        calculation = draw.choice([*CALCULATIONS, *[pressure] * 5])
        fields = example(draw, calculation, machines)
        if calculation is pressure and draw.random() < 0.7:
            fields = {**job(draw, draw.choice(machines), draw.choice(["make_up", "break_out"]))}
        for _ in range(draw.choice([0, 0, 0, 1, 1, 3])):
            shake(draw, fields)
        fields |= draw.choice(SHOWN)
        flat = all(isinstance(each, str) for each in fields.values())
        method = "GET" if flat and not calculation.body_only and draw.random() < 0.5 else "POST"
        yield Question(calculation.name, method, fields)


def example(draw: Random, calculation: Calculation, machines: Sequence[str]) -> dict[str, Any]:
    """The example of a calculation with another family, size and machine."""
    fields = deepcopy({**calculation.example, **draw.choice([{}, calculation.query_example or {}])})
    if "family" in fields:
        family = draw.choice([*calculation.requests])
        kept = {name: each for name, each in fields.items() if name not in FAMILY[fields["family"]].example}
        fields = {**kept, **deepcopy(FAMILY[family].example), "family": family}
    if "box_outside_diameter" in fields:
        fields |= joint(draw)
    if "machine" in fields:
        fields["as_of"] = "2026-06-01"
    if isinstance(fields.get("machine"), str):
        fields["machine"] = draw.choice([fields["machine"], *machines])
    if "operation" in fields:
        fields["operation"] = draw.choice(["make_up", "break_out"])
    return fields


def shake(draw: Random, fields: dict[str, Any]) -> None:
    """Change one leaf: its number, all of it, or whether it is there; or add a member that there is not."""
    at: Any = fields
    key = draw.choice(list(fields))
    while isinstance(at[key], (dict, list)) and at[key]:
        at = at[key]
        key = draw.choice([*at]) if isinstance(at, dict) else draw.randrange(len(at))
    way = draw.random()
    if way < 0.6 and isinstance(at[key], str) and (found := QUANTITY.fullmatch(at[key])):
        at[key] = f"{float(found[1]) * draw.uniform(0.7, 1.4):.6g} {found[2]}"
    elif way < 0.8:
        at[key] = deepcopy(draw.choice(WRONG))
    elif way < 0.95 and len(fields) > 1:
        del at[key]
    else:
        fields["colour"] = "red"


def answers(checkout: Path, questions: Sequence[Question]) -> list[Answer]:
    """The answers of a checkout."""
    command = [sys.executable, "-W", "ignore", "-c", ASK]
    given = json.dumps(questions)
    ran = subprocess.run(
        command, cwd=checkout, env=SHOP, input=given, stdout=subprocess.PIPE, text=True, check=True
    )
    return [Answer(*json.loads(line)) for line in ran.stdout.splitlines()]


def leaves(body: Any, but: Sequence[str], path: str = "") -> Iterator[tuple[str, Any]]:
    """Every leaf with its path; an empty list or object is one."""
    if isinstance(body, (dict, list)) and body:
        for key, value in body.items() if isinstance(body, dict) else enumerate(body):
            if key not in but:
                yield from leaves(value, but, f"{path}/{key}")
    else:
        yield path, body


def differences(before: Answer, after: Answer, but: Sequence[str], absent: bool) -> Iterator[Difference]:
    """What differs between two answers to a question."""
    if before.status != after.status:
        yield Difference("status", "differs", str(before.status), f"{after.status} {after.body}")
        return
    old, new = dict(leaves(before.body, but)), dict(leaves(after.body, but))
    for path in {**old, **new}:
        name = re.sub(r"/[0-9]+(?=/|$)", "/*", path)
        was, now = (json.dumps(each[path]) if path in each else "absent" for each in (old, new))
        lacking = (was, now) == ("null", "absent") or ("reasons" in path and "absent" in (was, now))
        if was != now and not (absent and lacking):
            kind = "only here" if was == "absent" else "only there" if now == "absent" else "differs"
            yield Difference(name, kind, was, now)


def main() -> int:
    """Ask both and print what differs."""
    parser = argparse.ArgumentParser(description=str(__doc__).partition(":")[0])
    parser.add_argument("other", type=Path, help="another checkout")
    parser.add_argument("--but", nargs="*", default=[], help="members that are not compared")
    parser.add_argument(
        "--absent", action="store_true", help="what is null there, and its reason, may be absent here"
    )
    parser.add_argument("--questions", type=int, default=5000)
    given = parser.parse_args()
    questions = [*drawn(given.questions)]
    before, after = answers(given.other, questions), answers(ROOT, questions)
    found: dict[tuple[str, str], list[tuple[int, Difference]]] = defaultdict(list)
    for number, both in enumerate(zip(before, after, strict=True)):
        for each in differences(*both, given.but, given.absent):
            found[each.name, each.kind].append((number, each))
    apart = {number for each in found.values() for number, _ in each}
    print(f"{len(questions)} questions: {dict(Counter(each.status for each in after))} here")
    print(f"{len(questions) - len(apart)} answered alike, {len(apart)} not")
    for (name, kind), those in sorted(found.items(), key=lambda item: -len(item[1])):
        number, first = those[0]
        print(f"{len(those):6} {name} {kind}: {first.there[:60]} there, {first.here[:60]} here in {number}")
    for number in sorted(apart)[:SHOWN_WHOLE]:
        print(f"question {number}: {json.dumps(questions[number])}")
    return 1 if apart else 0


if __name__ == "__main__":
    sys.exit(main())
