"""Questions of a benchmark: all different, drawn once with a seed, the machines of the invented shop in turn.

A cache of answers would win nothing here: no question comes twice in a round. All are answered with 200.
"""

import os
import sys
from collections.abc import Callable, Iterator
from fractions import Fraction
from functools import cache
from itertools import cycle
from random import Random
from typing import Any, Literal

from servers import ROOT, SHOP, Request

sys.path.insert(0, os.fspath(ROOT))

from api.app import create_app
from api.settings import from_environment

SEED, TRIES = 14, 300
TORQUE, PRESSURE = "/v1/torque/rotary-shouldered", "/v1/pressure"
Kind = Literal["torque", "make-up", "break-out"]
KINDS: tuple[Kind, ...] = ("torque", "make-up", "break-out")
DETAILS = ("short", "full")
Fields = dict[str, str]
# connection, outside diameters and bores, in
JOINTS = (
    ("NC31", 3.9, 4.5, 1.5, 2.1), ("NC38", 4.6, 5.2, 2.0, 2.5), ("NC46", 5.9, 6.8, 2.25, 3.0),
    ("NC50", 6.3, 7.2, 2.25, 3.1), ("NC56", 7.0, 8.0, 2.5, 3.2), ("6-5/8 REG", 7.5, 8.3, 2.5, 3.2),
    ("NC61", 8.0, 9.0, 2.5, 3.2), ("NC70", 9.0, 10.0, 2.5, 3.2),
)  # fmt: skip


def size(draw: Random, low: float, high: float) -> str:
    """A size as people write it: with decimals, as a fraction, or metric."""
    inches = draw.uniform(low, high)
    whole, rest = divmod(Fraction(round(inches * 64), 64), 1)
    return draw.choice([f"{inches:.4f} in", f"{whole} {rest or ''} in", f"{25.4 * inches:.2f} mm"])


def joint(draw: Random) -> Fields:
    """A new or worn rotary shouldered connection."""
    connection, *sizes = draw.choice(JOINTS)
    return {
        "connection": connection,
        "component": draw.choice(["drill_collar", "tool_joint"]),
        "box_outside_diameter": size(draw, *sizes[:2]),
        "pin_bore": size(draw, *sizes[2:]),
    }


def stated(draw: Random) -> Fields:
    """A joint that is no pipe, for a wrench."""
    target = draw.uniform(500, 4500)
    ends = {"minimum": 0.94, "target": 1.0, "maximum": 1.06}
    torques = {f"torque_{name}": f"{share * target:.1f} ft-lb" for name, share in ends.items()}
    return {"family": "stated", **torques, "torque_source": f"sheet {draw.randrange(1000)}"}


def job(draw: Random, machine: str, operation: str) -> Fields:
    """A joint on a machine."""
    of = stated(draw) if machine.startswith("bench") else {"family": "rotary_shouldered", **joint(draw)}
    known = (
        {"break_out_ratio": draw.choice(["1.0/1.3/1.6", "1.1/1.2/1.4"])} if operation == "break_out" else {}
    )
    return {
        **of,
        "machine": machine,
        "operation": operation,
        "thread_hand": draw.choice(["right", "right", "left"]),
        "arm_position": draw.choice(["square", "square", "unknown"]),
        "as_of": f"2026-{draw.randrange(2, 12):02}-{draw.randrange(1, 29):02}",
        **known,
    }


@cache
def drawn(kind: Kind, count: int) -> list[Fields]:
    """So many different questions of a kind, of machines in rotation."""
    draw = Random(f"{SEED} {kind}")
    client = create_app(from_environment(SHOP)).test_client()

    def answered(question: Callable[[], Fields]) -> Iterator[Fields]:
        """Drawn again and again, those that are answered; at an end if nothing is."""
        failed = 0
        while failed < TRIES:
            found = question()
            failed = (
                0
                if client.open(**_for_client(request(kind, found, "short"))).status_code == 200
                else failed + 1
            )
            if not failed:
                yield found

    if kind == "torque":
        turns = [answered(lambda: joint(draw))]
    else:
        operation = kind.replace("-", "_")
        shop = client.application.extensions["dialset"].shop
        turns = [answered(lambda each=each: job(draw, each, operation)) for each in sorted(shop.machines)]
    found: dict[str, Fields] = {}
    for turn in cycle([each for each in turns if next(each, None)]):
        one = next(turn)
        found[str(one)] = one
        if len(found) == count:
            return list(found.values())
    raise SystemExit("no machine of the shop answers")


def request(kind: Kind, fields: Fields, detail: str) -> Request:
    """A question as it is sent: a torque by GET, a pressure by POST."""
    if kind == "torque":
        return Request.get(TORQUE, {**fields, "detail": detail})
    return Request.post(PRESSURE, {**fields, "detail": detail})


def _for_client(sent: Request) -> dict[str, Any]:
    more = {"data": sent.body, "content_type": "application/json"} if sent.body else {}
    return {"method": sent.method, "path": sent.path, "query_string": sent.query, **more}
