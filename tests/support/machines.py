"""Machine profiles for tests, made from the invented example machine."""

from copy import deepcopy
from typing import Any

from api.registry.examples import EXAMPLE_PROFILE


def profile(**changed: Any) -> dict[str, Any]:
    """The example profile with members changed; ``a__b`` reaches inside, None takes a member out."""
    made = deepcopy(dict(EXAMPLE_PROFILE))
    for name, value in changed.items():
        *path, last = name.split("__")
        place = made
        for part in path:
            place = place[part]
        if value is None:
            del place[last]
        else:
            place[last] = value
    return made


STATED = {"family": "stated", "torque_target": "20000 ft-lb", "torque_source": "invented sheet 1"}
JOB = {"operation": "make_up", "thread_hand": "right", "arm_position": "square"}
V_SEAT = {
    # 45 deg flanks: the centre moves sqrt(2)/2 of a diameter; here 0.7 of it, for round numbers
    "arm_radius": [
        {"outside_diameter": "4 in", "distance": "34.8 in"},
        {"outside_diameter": "8 in", "distance": "37.6 in"},
        {"outside_diameter": "10 in", "distance": "39 in"},
    ],
    "base_distance": [
        {"outside_diameter": "4 in", "distance": "60 in"},
        {"outside_diameter": "10 in", "distance": "63 in"},
    ],
}
