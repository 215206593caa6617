"""The policy of a shop, read once at start: whole, or the service does not start.

A profile or a table with a fault is left out, and the others are served: each answers for itself. A policy is
one file and decides every answer. There is nothing left to serve without it, and half of it would answer by
rules that nobody approved. A bad setting does not start the service either, for the same reason: who changed
the file is still there and reads every fault with its place, and no path of the program can forget to ask
whether there is a policy. `/v1/policy-check` of a running service tells the faults before.
"""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from api.answers.answer import PolicyVersion
from api.answers.shop import Approval, Policy
from api.answers.shop_file import hash_of, read_json_file
from schemas.core.faults import InputFault, InvalidInput, Malformed, load, pointer
from schemas.policy import POLICY


class BadPolicy(ValueError):
    """The policy of the shop has a fault; the message names every one by JSON Pointer."""


def policy_from(given: Any) -> Policy:
    """The policy that a file or a body holds.

    Raises:
        InvalidInput: with every fault.
    """
    loaded = load(POLICY, given)
    statuses = loaded.get("accepted_statuses")
    return Policy(
        version=PolicyVersion(loaded["revision"], hash_of(given)),
        approval=_approval(loaded),
        accepted_statuses=None if statuses is None else frozenset({*statuses, "stated"}),
        unfit_profiles=loaded.get("unfit_profiles"),
        break_out_ratios=loaded.get("break_out_ratio"),
        torque_tolerance=loaded.get("torque_tolerance", {}),
        largest_distance_without_window=loaded.get("largest_distance_without_window"),
        wrong_torque_probability=loaded.get("wrong_torque_probability"),
        relief_margin=loaded.get("relief_margin"),
        decision_rule=loaded.get("decision_rule"),
        numbers=loaded.get("numbers"),
    )


def _approval(loaded: Mapping[str, Any]) -> Approval:
    return Approval(
        status=loaded["status"],
        approved_by=loaded.get("approved_by"),
        approved_on=loaded.get("approved_on"),
        effective_from=loaded.get("effective_from"),
        effective_to=loaded.get("effective_to"),
    )


def read_policy(path: Path | None) -> Policy:
    """The policy of a file; one that is silent throughout where there is no file.

    Raises:
        BadPolicy: naming the file and every fault.
    """
    if path is None:
        return Policy()
    try:
        return policy_from(read_json_file(path))
    except InvalidInput as refusal:
        faults = "; ".join(map(_told, refusal.faults))
    except Malformed as malformed:
        faults = f"{malformed.code} ({malformed})"
    except OSError as error:
        faults = error.strerror or str(error)
    raise BadPolicy(f"the policy {path} has a fault, so Dialset does not start: {faults}")


def _told(fault: InputFault) -> str:
    accepted = f"; accepted: {fault.accepted}" if fault.accepted else ""
    return f"{pointer(fault.path)} {fault.code} ({fault.detail}{accepted})"
