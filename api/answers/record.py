"""What every answer carries besides its result: enough to check it later. Documented by `Record`."""

import hashlib
import hmac
from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from math import isfinite
from operator import attrgetter
from types import SimpleNamespace
from typing import Any

import orjson

from api.answers.answer import Answer, PolicyVersion
from api.answers.edition import DATA_EDITION, PROGRAM, PROGRAM_HASH
from api.engineering.checks import ranked
from api.engineering.provenance import Assumption, Source
from api.engineering.working import Step
from schemas.core.parts import DETAILS, Part, Pick, Reasons, names_of, pick_of
from schemas.core.quantity_fields import OutputUnits, written_in
from schemas.finding import FindingPart
from schemas.record import Record, VersionPart

_FINDING, _VERSION, _RECORD = FindingPart(), VersionPart(), Record()


@dataclass(frozen=True)
class Shown:
    """How an answer is to be shown.

    Attributes:
        units: of its quantities.
        pick: which of its members.
        steps: whether with its working.
        key: what seals it; None where the shop has no key.
        held: what it was computed from and a request only names, where the answer is to hold it.
    """

    units: OutputUnits
    pick: Pick = "full"
    steps: bool = False
    key: bytes | None = field(default=None, repr=False)
    held: Mapping[str, Any] | None = None


ALWAYS = ("reasons", "findings", "service_edition", "asked", "question", "fingerprint", "seal")
"""What is told with any members that are picked by name."""
HELD = "self_contained"
"""The member of ``inputs`` with the profiles and rows of a self-contained answer."""


def stamp(
    edition: str, path: str, question: str | None, pick: Pick, shown: Mapping[str, Any] | None = None
) -> dict[str, Any]:
    """What every answer and every refusal says of itself.

    Args:
        edition: of the service.
        path: where was asked.
        question: the hash of what was asked; None where that could not be understood.
        pick: which members were wanted.
        shown: the units and the form that were wanted, of an answer.
    """
    wanted: dict[str, str]
    if isinstance(pick, str):
        wanted = {"detail": pick}
    else:
        named = {name: inner for name, inner in pick.items() if name not in ALWAYS}
        wanted = {"answers": ",".join(names_of(named or pick))}
    return {
        "service_edition": edition,
        "asked": {"path": path, **wanted, **(shown or {})},
        "question": question,
    }


def with_record(
    answer: Answer,
    response: Part,
    shown: Shown,
    given: Mapping[str, Any],
    policy: PolicyVersion | None,
    stamped: Mapping[str, Any],
) -> dict[str, Any]:
    """An answer as asked for: its result, and the record.

    Args:
        answer: what was computed.
        response: schema of its result.
        shown: units and members.
        given: the request as it came.
        policy: that of the shop.
        stamped: by `stamp`.
    """
    reasons: Reasons = {}
    with written_in(shown.units):
        result = response.written(answer.result, reasons, "", shown.pick)
        findings = [_FINDING.dump(each) for each in ranked(answer.findings)]
    told: dict[str, Any] = {
        "status": answer.status,
        "reasons": shown.units.reasons(reasons),
        "assumptions": [_assumption(each) for each in answer.assumptions],
        "findings": findings,
        "inputs": given,
        **stamped,
    }
    wanted = _wanted(shown.pick)
    if "sources" in wanted:
        told["sources"] = [_source(each) for each in answer.sources]
    if "version" in wanted:
        told["version"] = _VERSION.written(_version(answer, policy), {}, "", pick_of(shown.pick, "version"))
    if shown.steps:
        told["steps"] = working(answer, answer.steps, shown.units)
    whole = result | {name: told[name] for name in wanted if name in told}
    if not isinstance(shown.pick, str):
        whole = {name: whole[name] for name in shown.pick if name in whole}
    if shown.held is not None:
        whole["inputs"] = {**given, HELD: shown.held}
    if "fingerprint" in wanted:
        whole |= marks(whole, shown.key)
    return whole


def marks(answer: Mapping[str, Any], key: bytes | None) -> dict[str, str]:
    """The fingerprint of an answer that has neither mark yet, and its seal where there is a key."""
    fingerprint = hashlib.sha256(canonical(answer)).hexdigest()
    return (
        {"fingerprint": fingerprint}
        if key is None
        else {"fingerprint": fingerprint, "seal": seal(fingerprint, key)}
    )


def seal(fingerprint: str, key: bytes) -> str:
    """The HMAC-SHA-256 of a fingerprint, in hex: who has no key cannot make it."""
    return hmac.digest(key, fingerprint.encode(), "sha256").hex()


NOT_SORTED_ALIKE = range(0xF0, 0xF5)
"""The first bytes of a sign beyond U+FFFF: only with one do UTF-8 and UTF-16 sort names differently."""
WHOLE = 2.0**53
LEAST = 1e-5
"""Down to here the fast encoder writes a number as RFC 8785 does; up to `WHOLE` a whole one as an integer."""


def canonical(value: Any) -> bytes:
    """JSON in the one form of RFC 8785, whoever wrote it: ``750.0`` and ``750`` are one number.

    Raises:
        ValueError: for a number that is not finite.

    >>> canonical({"b": 750.0, "a": [1e-06, 1e21, True, None]})
    b'{"a":[0.000001,1e+21,true,null],"b":750}'
    """
    plain = _plain(value)
    written = orjson.dumps(plain, option=orjson.OPT_SORT_KEYS)
    alike = written.isascii() or not any(byte in written for byte in NOT_SORTED_ALIKE)
    return written if alike else orjson.dumps(_in_order(plain))


def _plain(value: Any) -> Any:
    """A value with every number as the fast encoder writes it in the form of RFC 8785."""
    kind = type(value)
    if kind is dict:
        return {name: each if type(each) is str else _plain(each) for name, each in value.items()}
    if kind is float:
        if value.is_integer():
            return int(value) if -WHOLE < value < WHOLE else _number(value)
        return value if LEAST <= abs(value) < WHOLE else _number(value)
    if kind is list or kind is tuple:
        return [each if type(each) is str else _plain(each) for each in value]
    if kind is int and not -WHOLE < value < WHOLE:
        return _number(float(value))
    return value


def _number(value: float) -> orjson.Fragment:
    """A number as ECMAScript writes it."""
    if not isfinite(value):
        raise ValueError(f"{value} is no number of JSON")
    sign, figures, exponent = Decimal(repr(value)).normalize().as_tuple()
    assert isinstance(exponent, int)
    digits = "".join(map(str, figures))
    point = len(digits) + exponent
    if -6 < point <= 21:
        text = f"{abs(Decimal(repr(value))):f}"
        text = text.rstrip("0").rstrip(".") if "." in text else text
    else:
        text = f"{digits[0]}{'.' * (len(digits) > 1)}{digits[1:]}e{point - 1:+d}"
    return orjson.Fragment(("-" if sign else "") + text)


def _in_order(value: Any) -> Any:
    """A value with the members of every object in the order of RFC 8785, that of UTF-16."""
    if isinstance(value, dict):
        names = sorted(value, key=lambda name: name.encode("utf-16-be"))
        return {name: _in_order(value[name]) for name in names}
    return [_in_order(each) for each in value] if isinstance(value, list) else value


_OF_DETAIL: Mapping[str, tuple[str, ...]] = {detail: tuple(_RECORD.members(detail)) for detail in DETAILS}


def _wanted(pick: Pick) -> Collection[str]:
    """The members of the record that are wanted."""
    return _OF_DETAIL[pick] if isinstance(pick, str) else _RECORD.members(pick)


def working(answer: Answer, steps: tuple[Step, ...], units: OutputUnits) -> list[dict[str, Any]]:
    """The working of an answer in the asked units; a step that this machine does not have is left out."""
    objects = SimpleNamespace(**answer.working)
    values = ((step, attrgetter(step.attribute)(objects)) for step in steps)
    return [
        {
            "symbol": step.symbol,
            "name": step.name,
            "equation": step.equation,
            "value": units.show(step.kind, value),
            "source": step.source,
        }
        for step, value in values
        if value is not None
    ]


def _source(source: Source) -> dict[str, str]:
    return {"what": source.what, "status": source.status, "source": source.source}


def _assumption(assumption: Assumption) -> dict[str, str]:
    return {"field": assumption.field, "value": assumption.value, "reason": assumption.reason}


def _version(answer: Answer, policy: PolicyVersion | None) -> dict[str, str | None]:
    profile, table = answer.profile, answer.table
    return {
        "program": PROGRAM,
        "program_hash": PROGRAM_HASH,
        "data": DATA_EDITION,
        "policy_revision": policy.revision if policy else None,
        "policy_hash": policy.hash if policy else None,
        "profile_id": profile.id if profile else None,
        "profile_revision": profile.revision if profile else None,
        "profile_hash": profile.hash if profile else None,
        "table_id": table.id if table else None,
        "table_revision": table.revision if table else None,
        "table_hash": table.hash if table else None,
    }


def stops(answer: Mapping[str, Any]) -> list[str]:
    """The texts of what is to be settled before the lever is pulled, of an answer as written."""
    return [each["text"] for each in answer["findings"] if each["level"] == "stop"]
