"""What changed between the service that gave an answer and this one."""

from collections.abc import Collection, Iterator, Mapping
from typing import Any

from api.answers.edition import DATA_EDITION, PROGRAM, PROGRAM_HASH
from api.answers.receipt.stored import Stored
from api.answers.record import HELD
from api.answers.shop import Shop
from api.answers.shop_file import hash_of

OF_EVERY_MACHINE = "/v1/machine-choice"
"""The question of which every machine of the shop is a part."""


def changed_since(stored: Stored, shop: Shop) -> list[str]:
    """What changed since, of what the version of an answer names; of one without it all that may enter."""
    if stored.edition == shop.edition:
        return []
    if not stored.version:
        return [*may_enter(stored, shop)] if stored.edition is not None else []
    return [*_changed(stored, shop)]


def causes(stored: Stored, shop: Shop) -> list[str]:
    """What changed and may have made a difference: not a profile or table that the answer holds.

    Other machines may have too, which findings name as surer. If what the version names does not explain the
    edition of the answer, some other machine or table has changed.
    """
    entering = may_enter(stored, shop)
    found = [each for each in changed_since(stored, shop) if each in entering]
    if "profile" in entering and "profile" not in found and not _explained(stored, shop):
        found.append("profile")
    return found


def may_enter(stored: Stored, shop: Shop) -> Collection[str]:
    """What may enter the answer to a question here; not what it holds itself."""
    inputs = stored.inputs or {}
    held = HELD in inputs
    found = ["program", "data"]
    if shop.policy.version is not None or not stored.version or stored.version.get("policy_hash"):
        found.append("policy")
    if not held and ("machine" in inputs or stored.asked.get("path") == OF_EVERY_MACHINE):
        found.append("profile")
    if not held and "table" in inputs:
        found.append("table")
    return found


def _changed(stored: Stored, shop: Shop) -> Iterator[str]:
    version, policy = stored.version, shop.policy.version
    if (version.get("program"), version.get("program_hash")) != (PROGRAM, PROGRAM_HASH):
        yield "program"
    if version.get("data") != DATA_EDITION:
        yield "data"
    if version.get("policy_hash") != (policy.hash if policy else None):
        yield "policy"
    profile = shop.machines.get(str(version.get("profile_id")))
    by_id = isinstance((stored.inputs or {}).get("machine"), str)
    if by_id and profile and profile.version.hash != version.get("profile_hash"):
        yield "profile"
    table = shop.table_folder.tables.get(str(version.get("table_id")))
    if table and table.hash != version.get("table_hash"):
        yield "table"


def _explained(stored: Stored, shop: Shop) -> bool:
    """Whether the edition of an answer is that of this shop but for what its version names."""
    version = stored.version
    policy = {"revision": version.get("policy_revision"), "hash": version.get("policy_hash")}
    then = {
        **shop.parts,
        "program": {"revision": version.get("program"), "hash": version.get("program_hash")},
        "data": {"hash": version.get("data")},
        "policy": policy if policy["hash"] else None,
        "machines": [_as_then(each, version, "profile") for each in shop.parts["machines"]],
        "tables": [_as_then(each, version, "table") for each in shop.parts["tables"]],
    }
    return stored.edition in (shop.edition, hash_of(then))


def _as_then(part: Mapping[str, Any], version: Mapping[str, Any], kind: str) -> dict[str, Any]:
    """A machine or table of the edition as a version names it, if it is the one that is named."""
    if part["id"] != version.get(f"{kind}_id"):
        return dict(part)
    return {name: version.get(f"{kind}_{name}") for name in part}
