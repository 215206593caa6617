"""What changed between the service that gave an answer and this one."""

from collections.abc import Collection, Iterator

from api.answers.edition import DATA_EDITION, PROGRAM, PROGRAM_HASH
from api.answers.receipt.stored import Stored
from api.answers.record import HELD
from api.answers.shop import Shop

OF_EVERY_MACHINE = "/v1/machine-choice"
"""The question of which every machine of the shop is a part."""


def changed_since(stored: Stored, shop: Shop) -> list[str]:
    """What changed since, of what may enter an answer; of one without its version all that may have."""
    if stored.edition == shop.edition:
        return []
    if "program_hash" not in stored.version:
        return [*may_enter(stored, shop)] if stored.edition is not None else []
    return [*_changed(stored, shop)]


def may_enter(stored: Stored, shop: Shop) -> Collection[str]:
    """What may enter the answer to a question here; not what it holds itself."""
    inputs = stored.inputs or {}
    held = HELD in inputs
    found = ["program", "data"]
    if shop.policy.version is not None or not stored.version or stored.version.get("policy_hash"):
        found.append("policy")
    if not held and (isinstance(inputs.get("machine"), str) or _of_every_machine(stored)):
        found.append("profile")
    if not held and "table" in inputs:
        found.append("table")
    return found


def _of_every_machine(stored: Stored) -> bool:
    return stored.asked.get("path") == OF_EVERY_MACHINE


def _changed(stored: Stored, shop: Shop) -> Iterator[str]:
    version, policy = stored.version, shop.policy.version
    if (version.get("program"), version.get("program_hash")) != (PROGRAM, PROGRAM_HASH):
        yield "program"
    if version.get("data") != DATA_EDITION:
        yield "data"
    if version.get("policy_hash") != (policy.hash if policy else None):
        yield "policy"
    profile, table = shop.machines.get(str(version.get("profile_id"))), version.get("table_id")
    by_id = isinstance((stored.inputs or {}).get("machine"), str)
    if by_id and profile and profile.version.hash != version.get("profile_hash"):
        yield "profile"
    elif _of_every_machine(stored):
        yield "profile"  # the version names none of them, and the edition is another one
    here = shop.table_folder.tables.get(str(table))
    if here and here.hash != version.get("table_hash"):
        yield "table"
