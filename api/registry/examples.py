"""Examples that work on a service without machines: an invented machine, tensioner, calibration, policy."""

from collections.abc import Mapping
from typing import Any

EXAMPLE_PROFILE: Mapping[str, Any] = {
    "id": "example-bay-1",
    "kind": "cylinder_on_arm",
    "revision": "1",
    "status": "approved",
    "approved_by": "workshop manager",
    "approved_on": "2026-01-15",
    "calibration": {"certificate": "EX-0001", "due": "2027-01-15"},
    "cylinder": {"bore": "5 in", "rod": "2.5 in", "closed_length": "40 in", "open_length": "62 in"},
    "arm_radius": "36 in",
    "base_distance": "60 in",
    "right_hand_make_up_side": "cap",
    "efficiency": {"low": 0.92, "nominal": 0.95, "high": 0.98},
    "breakaway_pressure": "30 psi",
    "return_pressure": "0 psi",
    "gauges": {
        "make_up": {
            "serial": "EX-1",
            "span": "3000 psi",
            "division": "20 psi",
            "accuracy_percent_of_span": 1.0,
            "connected_at": "work_port",
        },
        "break_out": {
            "serial": "EX-2",
            "span": "5000 psi",
            "division": "100 psi",
            "accuracy_percent_of_span": 1.6,
            "connected_at": "work_port",
        },
    },
    "relief": {"lowest": "300 psi", "highest": "2500 psi", "override": "100 psi"},
    "rated_pressure": {"cylinder": "3000 psi", "hoses": "3000 psi"},
    "torque_rating": "60000 ft-lb",
    "outside_diameter": {"minimum": "3 in", "maximum": "10 in"},
    "lowest_setting": "150 psi",
}

EXAMPLE_POLICY: Mapping[str, Any] = {
    "revision": "1",
    "status": "approved",
    "approved_by": "workshop manager",
    "approved_on": "2026-01-15",
    "effective_from": "2026-02-01",
    "accepted_statuses": ["read", "reprint"],
    "unfit_profiles": "refuse",
    "break_out_ratio": "1.0/1.3/1.6",
    "torque_tolerance": {"tool_joint": 0.05},
    "relief_margin": 0.1,
    "numbers": "strict",
}

_TENSIONER_GAUGE = {
    "serial": "EX-3",
    "span": "30000 psi",
    "division": "250 psi",
    "accuracy_percent_of_span": 1.0,
    "connected_at": "pump",
}
EXAMPLE_TENSIONER: Mapping[str, Any] = {
    "id": "example-bench-1",
    "kind": "stud_tensioner",
    "revision": "1",
    "status": "approved",
    "approved_by": "workshop manager",
    "approved_on": "2026-01-15",
    "calibration": {"certificate": "EX-0002", "due": "2027-01-15"},
    "effective_area": "8 in2",
    "gauges": {"make_up": _TENSIONER_GAUGE, "break_out": _TENSIONER_GAUGE},
    "relief": {"cracking": "19500 psi", "full_flow": "20500 psi"},
    "rated_pressure": {"tensioner": "21000 psi", "hoses": "22000 psi"},
    "load_rating": "168000 lbf",
    "lowest_setting": "1000 psi",
}


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
