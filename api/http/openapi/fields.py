"""How our fields appear in the OpenAPI document, with the same limits that they enforce."""

from collections.abc import Iterable
from typing import Any

from marshmallow import fields

from api.refusals.codes import CODES
from schemas.batch import Defaults, Lines
from schemas.calibration.answer import TorquePerPressure
from schemas.calibration.parts import CalibratedPosition
from schemas.conversion import AnyQuantity, ConvertedQuantity
from schemas.core.fields import Choice, Day, Flag, Members, Number, Request, Slug, Text, WholeNumber
from schemas.core.parts import KNOWABLE, AsGiven, Count, OneOf, Words
from schemas.core.quantity import LONGEST
from schemas.core.quantity_fields import AmountField, DialReading, EitherDial, Quantity, UnitName
from schemas.core.units import SI_UNITS, UNITS, codes_of
from schemas.finding import CheckText, FaultText, FindingText, ProblemCode, RemedyText
from schemas.flanges.sequence import PassShares
from schemas.listings import Taper
from schemas.machines.cylinder_parts import DistanceField
from schemas.machines.request import ArmPosition, Machine, Ratios
from schemas.tubular.round_thread import PrintedFootPounds, ThreadsPerInch
from schemas.tubular.weight import WeightLabel

TEXT_QUANTITY = {"type": "string", "minLength": 1, "maxLength": LONGEST}


def _shown(description: str, units: Iterable[str] = ()) -> dict[str, Any]:
    """A quantity of an answer, in one of these units."""
    unit = {"type": "string", "description": "The unit, by its code."}
    return {
        "type": "object",
        "description": description,
        "required": ["value", "unit"],
        "properties": {
            "value": {"type": "number", "description": "How many of the unit, to 10 digits."},
            "unit": {**unit, "enum": list(units)} if units else unit,
        },
    }


def _of_kind(kind: str) -> dict[str, Any]:
    article = "An" if kind[0] in "aeiou" else "A"
    return _shown(f"{article} {_in_words(kind)}.", codes_of(kind))


def _in_words(kind: str) -> str:
    """A kind of quantity as a sentence has it."""
    return kind.replace("_", " ")


_CODE = {"$ref": "#/components/schemas/ProblemCode"}
_PROBLEM = {
    "type": "object",
    "description": "A failure (RFC 9457). code is stable.",
    "required": ["type", "title", "status", "detail", "code", "service_edition", "asked", "question"],
    "properties": {
        "type": {"type": "string", "description": "Where the code is explained."},
        "title": {"type": "string", "description": "What the code means."},
        "status": {"type": "integer", "description": "Status of the response, or of a line of a batch."},
        "detail": {"type": "string", "description": "What is wrong here; of several faults, how many."},
        "code": {**_CODE, "description": "Stable, for programs; several_faults where they differ."},
        "errors": {
            "type": "array",
            "items": {"$ref": "#/components/schemas/ProblemError"},
            "description": "Every fault, all at once.",
        },
        "service_edition": {"type": "string", "description": "Of this service; see /v1/edition."},
        "asked": {"$ref": "#/components/schemas/AskedPart"},
        "question": {
            "type": ["string", "null"],
            "description": "Hash of the question, as of an answer; null where it could not be understood.",
        },
    },
    "example": {
        "type": "/v1/problems/bare_number",
        "title": CODES["bare_number"],
        "status": 422,
        "detail": "2.8125 has no unit",
        "code": "bare_number",
        "errors": [
            {
                "pointer": "/pin_bore",
                "code": "bare_number",
                "detail": "2.8125 has no unit",
                "value": "2.8125",
                "accepted": "a number and a unit, such as 2-13/16 in",
            }
        ],
        "service_edition": "35f30fd14cf9",
        "asked": {"path": "/v1/torque/rotary-shouldered", "detail": "short"},
        "question": None,
    },
}
_ERROR = {
    "type": "object",
    "description": "One fault: its place, its code, the value seen and what would be accepted.",
    "required": ["code", "detail"],
    "properties": {
        "pointer": {"type": ["string", "null"], "description": "JSON Pointer, for a body."},
        "parameter": {"type": ["string", "null"], "description": "Name, for a query."},
        "code": {**_CODE, "description": "Stable, for programs."},
        "detail": {"type": "string", "description": "What is wrong with it."},
        "value": {"description": "What was given, shortened; absent where nothing was."},
        "accepted": {"type": "string", "description": "What would be accepted; absent where detail says it."},
    },
}


def _component(kind: str) -> str:
    return "".join(part.capitalize() for part in kind.split("_")) + "Shown"


PARTS: dict[str, dict[str, Any]] = {
    "QuantityText": {
        **TEXT_QUANTITY,
        "description": 'A number and a unit, such as "6 1/2 in" or "20000 ft-lb".',
    },
    "QuantityObject": {
        "type": "object",
        "description": "A number and a unit, apart.",
        "required": ["value", "unit"],
        "additionalProperties": False,
        "properties": {
            "value": {"type": "number", "description": "How many of the unit."},
            "unit": {
                "type": "string",
                "minLength": 1,
                "maxLength": LONGEST,
                "description": "The unit, in any spelling that is listed at /v1/units.",
            },
        },
    },
    "ProblemCode": {
        "type": "string",
        "enum": list(CODES),
        "description": "A code of refusals; /v1/problems says what each means.",
    },
    "Problem": _PROBLEM,
    "ProblemError": _ERROR,
    **{_component(kind): _of_kind(kind) for kind in SI_UNITS},
    "ReadingShown": _shown(
        "A reading of a dial, in the unit of that dial whatever units are asked.",
        (*codes_of("pressure"), *codes_of("force")),
    ),
    "AmountShown": _shown("An amount of any kind; a plain number has the unit 1.", ("1", *UNITS)),
    "PrintedTorqueShown": _shown(
        "A torque as tables print it, in ft-lb whatever units are asked.", ["lbf.ft"]
    ),
    "SlopeShown": _shown("A torque for each unit of pressure; the unit is both codes with / between."),
}
"""Components that no schema of ours stands for."""

QUANTITY_IN = {
    "oneOf": [{"$ref": "#/components/schemas/QuantityText"}, {"$ref": "#/components/schemas/QuantityObject"}]
}


def _quantity(field: Quantity) -> dict[str, Any]:
    if isinstance(field.parent, Request):
        text = field.metadata.get("description", "")
        return {
            **QUANTITY_IN,
            "description": f"{text} {_in_words(field.kind).capitalize()}, {field.range_text}.".strip(),
        }
    return _reference(_component(field.kind), field)


def _reference(component: str, field: fields.Field[Any]) -> dict[str, Any]:
    """What a field holds that is a component, or null where it may be."""
    reference = {"$ref": f"#/components/schemas/{component}"}
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
        case ThreadsPerInch():
            either = [
                {"type": "integer", "enum": list(field.pitches)},
                {"type": "string", "maxLength": LONGEST},
            ]
            return {"anyOf": either}
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
            return {"anyOf": either}
        case Members():
            return {
                "type": "object",
                "additionalProperties": {
                    "anyOf": [{"type": "string"}, {"$ref": "#/components/schemas/QuantityObject"}]
                },
            }
        case Lines():
            carried = {"type": "object", "additionalProperties": {"description": "Carried along."}}
            line = {"allOf": [{"$ref": f"#/components/schemas/{field.question}"}, carried]}
            return {"type": "array", "minItems": 1, "items": line}
        case Defaults():
            each = [{"$ref": f"#/components/schemas/{name}"} for name in (field.question, "Portion")]
            return {"allOf": each, "unevaluatedProperties": False}
    return _written(field)


def _written(field: fields.Field[Any]) -> dict[str, Any]:
    """What stands in answers alone."""
    match field:
        case PrintedFootPounds():
            return _reference("PrintedTorqueShown", field)
        case DialReading():
            return _reference("ReadingShown", field)
        case TorquePerPressure():
            return _reference("SlopeShown", field)
        case ConvertedQuantity() | AmountField():
            return _reference("AmountShown", field)
        case Taper():
            return {"type": "number"}
        case AsGiven():
            return _reference(field.component, field)
        case Count():
            return {"type": ["integer", "null"] if field.allow_none else "integer", "minimum": 0}
        case OneOf():
            return _words(field.words, field)
        case ProblemCode():
            return _reference("ProblemCode", field)
        case CheckText() | FaultText() | FindingText() | RemedyText() | Words():
            return {"type": ["string", "null"] if field.allow_none else "string"}
    return {}


def _words(words: Iterable[str], field: fields.Field[Any]) -> dict[str, Any]:
    """The words of a closed list, which may be a null too."""
    if field.allow_none:
        return {"type": ["string", "null"], "enum": [*words, None]}
    return {"type": "string", "enum": list(words)}


def _text(field: Choice | Day | Text | UnitName | PassShares) -> dict[str, Any]:
    """What is given as text of a form of its own."""
    match field:
        case Choice():
            return {"type": "string", "enum": list(field.choices)}
        case Day():
            return {"type": ["string", "null"] if field.allow_none else "string", "format": "date"}
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
    if isinstance(field, ThreadsPerInch):
        whole, _ = prop.pop("anyOf")
        return {**whole, **prop}
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
