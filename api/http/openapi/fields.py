"""How our fields appear in the OpenAPI document, with the same limits that they enforce."""

from typing import Any

from marshmallow import fields

from api.refusals.codes import CODES
from schemas.batch import Defaults, Lines
from schemas.calibration.parts import CalibratedPosition
from schemas.conversion import AnyQuantity, ConvertedQuantity
from schemas.core.fields import Choice, Day, Flag, Number, Request, Slug, Text, WholeNumber
from schemas.core.members import Members
from schemas.core.parts import KNOWABLE, Words
from schemas.core.quantity import LONGEST
from schemas.core.quantity_fields import AmountField, DialReading, EitherDial, Quantity, UnitName
from schemas.core.units import SI_UNITS, codes_of
from schemas.finding import CheckText, FaultText, FindingText, RemedyText
from schemas.flanges.sequence import PassShares
from schemas.listings import Taper
from schemas.machines.cylinder_parts import DistanceField
from schemas.machines.request import ArmPosition, Machine, Ratios
from schemas.tubular.weight import WeightLabel

TEXT_QUANTITY = {"type": "string", "minLength": 1, "maxLength": LONGEST}
VALUE_AND_UNIT = {
    "type": "object",
    "required": ["value", "unit"],
    "additionalProperties": False,
    "properties": {
        "value": {"type": ["number", "string"], "maxLength": LONGEST},
        "unit": {"type": "string", "minLength": 1, "maxLength": LONGEST},
    },
}


def _shown(kind: str) -> dict[str, Any]:
    article = "An" if kind[0] in "aeiou" else "A"
    return {
        "type": "object",
        "description": f"{article} {kind.replace('_', ' ')}.",
        "required": ["value", "unit"],
        "properties": {
            "value": {"type": "number"},
            "unit": {"type": "string", "enum": list(codes_of(kind))},
        },
    }


_PROBLEM = {
    "type": "object",
    "description": "A failure (RFC 9457). code is stable.",
    "required": ["type", "title", "status", "detail", "code", "service_edition", "asked", "question"],
    "properties": {
        "type": {"type": "string"},
        "title": {"type": "string"},
        "status": {"type": "integer"},
        "detail": {"type": "string"},
        "code": {"type": "string", "enum": list(CODES)},
        "errors": {"type": "array", "items": {"$ref": "#/components/schemas/ProblemError"}},
        "service_edition": {"type": "string", "description": "Of this service; see /v1/edition."},
        "asked": {"$ref": "#/components/schemas/AskedPart"},
        "question": {
            "type": ["string", "null"],
            "description": "Hash of the question, as of an answer; null where it could not be understood.",
        },
    },
}
_ERROR = {
    "type": "object",
    "description": "One fault: its place, its code, the value seen and what would be accepted.",
    "required": ["code", "detail"],
    "properties": {
        "pointer": {"type": ["string", "null"], "description": "JSON Pointer, for a body."},
        "parameter": {"type": ["string", "null"], "description": "Name, for a query."},
        "code": {"type": "string", "enum": list(CODES)},
        "detail": {"type": "string"},
        "value": {},
        "accepted": {"type": "string"},
    },
}


def _component(kind: str) -> str:
    return "".join(part.capitalize() for part in kind.split("_")) + "Shown"


PARTS: dict[str, dict[str, Any]] = {
    "QuantityText": {
        **TEXT_QUANTITY,
        "description": 'A number and a unit, such as "6 1/2 in" or "20000 ft-lb".',
    },
    "QuantityObject": {**VALUE_AND_UNIT, "description": "A number and a unit, apart."},
    "Problem": _PROBLEM,
    "ProblemError": _ERROR,
    **{_component(kind): _shown(kind) for kind in SI_UNITS},
}
"""Components that no schema of ours stands for."""

QUANTITY_IN = {
    "oneOf": [{"$ref": "#/components/schemas/QuantityText"}, {"$ref": "#/components/schemas/QuantityObject"}]
}
ANY_SHOWN = {
    "type": "object",
    "required": ["value", "unit"],
    "properties": {"value": {"type": "number"}, "unit": {"type": "string"}},
}


def _quantity(field: Quantity) -> dict[str, Any]:
    if isinstance(field.parent, Request):
        text = field.metadata.get("description", "")
        return {
            **QUANTITY_IN,
            "description": f"{text} {field.kind.capitalize()}, {field.range_text}.".strip(),
        }
    reference = {"$ref": f"#/components/schemas/{_component(field.kind)}"}
    return {"oneOf": [reference, {"type": "null"}]} if field.allow_none else reference


def _number(field: Number) -> dict[str, Any]:
    """A number of an answer; in a request a number or its text."""
    kind = "integer" if isinstance(field, WholeNumber) else "number"
    prop: dict[str, Any] = {"type": [kind, "null"] if field.allow_none else kind}
    if isinstance(field.parent, Request):
        prop = {"type": [kind, "string"], "maxLength": LONGEST}
    if field.low is not None:
        prop["exclusiveMinimum" if field.exclude_low else "minimum"] = field.low
    if field.high is not None:
        prop["exclusiveMaximum" if field.exclude_high else "maximum"] = field.high
    return prop


def describe_field(_: Any, field: fields.Field[Any], **__: Any) -> dict[str, Any]:
    """The JSON Schema of a field of ours; for marshmallow's own only what its null means."""
    if KNOWABLE not in field.metadata:
        return _described(field)
    text = f"{field.metadata.get('description', '')} Null where not known: reasons says why."
    return {**_described(field), "description": text.strip()}


def _described(field: fields.Field[Any]) -> dict[str, Any]:
    match field:
        case WeightLabel():
            described = _quantity(field)
            return {**described, "oneOf": [*described["oneOf"], {"type": "number"}]}
        case Quantity():
            return _quantity(field)
        case Number():
            return _number(field)
        case Choice() | Day() | Text() | UnitName() | PassShares():
            return _text(field)
        case Flag():
            return {"type": ["boolean", "string"], "pattern": f"^({'|'.join(field.words)})$"}
        case AnyQuantity() | EitherDial():
            return dict(QUANTITY_IN)
        case ArmPosition() | CalibratedPosition():
            words = {"type": "string", "enum": list(field.words)}
            return {"anyOf": [words, *QUANTITY_IN["oneOf"]]}
        case DistanceField():
            rows = {"$ref": "#/components/schemas/MeasuredDistance"}
            table = {"type": "array", "minItems": 2, "maxItems": 50, "items": rows}
            return {"anyOf": [*QUANTITY_IN["oneOf"], table]}
        case Machine():
            identifier = {"type": "string", "minLength": 1, "maxLength": 60}
            either = [identifier, {"$ref": "#/components/schemas/MachineProfile"}]
            return {"description": f"{field.accepted[0].upper()}{field.accepted[1:]}.", "anyOf": either}
        case DialReading() | ConvertedQuantity() | AmountField():
            return {**ANY_SHOWN, "type": ["object", "null"]} if field.allow_none else dict(ANY_SHOWN)
        case Members():
            return {
                "type": "object",
                "additionalProperties": {"anyOf": [{"type": "string"}, VALUE_AND_UNIT]},
            }
        case Lines():
            return {"type": "array", "minItems": 1, "items": {}}
        case Defaults():
            return {"type": "object", "additionalProperties": True}
        case Taper():
            return {"type": "number"}
        case CheckText() | FaultText() | FindingText() | RemedyText() | Words():
            return {"type": ["string", "null"] if field.allow_none else "string"}
    return {}


def _text(field: Choice | Day | Text | UnitName | PassShares) -> dict[str, Any]:
    """What is given as text of a form of its own."""
    match field:
        case Choice():
            return {"type": "string", "enum": list(field.choices)}
        case Day():
            return {"type": "string", "format": "date"}
        case Slug():
            return {"type": "string", "pattern": field.pattern, "minLength": 1, "maxLength": field.longest}
        case Text():
            return {"type": "string", "minLength": 1, "maxLength": field.longest}
        case PassShares():
            return {"type": "string", "pattern": field.pattern, "maxLength": field.longest}
    return {"type": "string", "minLength": 1, "maxLength": LONGEST}


def for_query(prop: dict[str, Any], field: fields.Field[Any]) -> dict[str, Any]:
    """The schema of a field as it stands in a query, where every quantity is text."""
    prop = dict(prop)
    if isinstance(field, (Number, Flag)) and not isinstance(field, Ratios):
        (prop["type"],) = (kind for kind in prop["type"] if kind != "string")
        return {name: value for name, value in prop.items() if name not in ("maxLength", "pattern")}
    if isinstance(field, (Quantity, AnyQuantity, EitherDial)):
        prop.pop("oneOf")
        return {**TEXT_QUANTITY, **prop}
    if isinstance(field, ArmPosition):
        prop.pop("anyOf")
        return {**TEXT_QUANTITY, **prop}
    if isinstance(field, Members):
        return {**prop, "additionalProperties": {"type": "string"}}
    if isinstance(field, Machine):
        prop.pop("anyOf")
        return {"type": "string", "minLength": 1, "maxLength": 60, **prop}
    return prop
