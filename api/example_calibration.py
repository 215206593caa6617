"""An invented calibration, for examples that must work on every service."""

from collections.abc import Mapping
from typing import Any

# two rising runs on the cap side of a machine that gives about 55 ft-lb/psi beyond some 20 psi of breakaway
_RUNS = {
    1: {"500 psi": "26300 ft-lb", "1000 psi": "54200 ft-lb", "1500 psi": "82300 ft-lb"},
    2: {"500 psi": "26400 ft-lb", "1000 psi": "54400 ft-lb", "1500 psi": "82200 ft-lb"},
}
EXAMPLE_CALIBRATION: Mapping[str, Any] = {
    "arm_position": "square",
    "readings": [
        {
            "pressure": pressure,
            "torque": torque,
            "run": run,
            "direction": "rising",
            "side": "cap",
            "gauge": "EX-9",
        }
        for run, read in _RUNS.items()
        for pressure, torque in read.items()
    ],
}
