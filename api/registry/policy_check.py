"""Whether a policy can be served, with every fault, before a service is started with it."""

from typing import Any

from api.answers.policy_file import policy_from
from api.engineering.checks import ranked
from api.refusals.errors import errors_of
from api.registry.examples import EXAMPLE_POLICY
from api.registry.file_check import ANYTHING, FileCheck
from api.registry.tags import RUN_THE_SERVICE
from schemas.core.faults import InvalidInput
from schemas.core.quantity_fields import SystemOfUnits
from schemas.policy import RULES, PolicyCheckAnswer


def check_policy(given: Any, system: str) -> dict[str, Any]:
    """What ``/v1/policy-check`` finds: faults by pointer, and which rules are stated."""
    try:
        policy = policy_from(given)
    except InvalidInput as refusal:
        faults = errors_of(refusal, given, system)
        return {"valid": False, "faults": faults, "findings": [], "hash": None, "rules": [], "silent": []}
    assert policy.version is not None
    return {
        "valid": True,
        "faults": [],
        "findings": ranked(policy.findings(None)),
        "hash": policy.version.hash,
        "rules": [rule for rule in RULES if rule in given],
        "silent": [rule for rule in RULES if rule not in given],
    }


POLICY_CHECK = FileCheck(
    name="policy-check",
    tag=RUN_THE_SERVICE,
    title="Check a policy of the shop",
    description="Tells every fault of a policy by JSON Pointer, before a service is started with it. A "
    "service with a broken policy does not start.",
    operation="checkPolicy",
    media_type="application/json",
    body={
        "description": "A policy.",
        "anyOf": [{"$ref": "#/components/schemas/ShopPolicy"}, ANYTHING],
    },
    query=SystemOfUnits(),
    check=check_policy,
    response=PolicyCheckAnswer(),
    example=dict(EXAMPLE_POLICY),
)
