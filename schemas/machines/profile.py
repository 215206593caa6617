"""Profiles of machines: what several kinds share, and the schema of each kind."""

from collections.abc import Mapping
from itertools import combinations, pairwise
from math import inf
from typing import Any

from marshmallow import ValidationError, fields, validates_schema

from schemas.core.faults import FieldFault, chosen, contradictions, load
from schemas.core.fields import Choice, Day, Number, Request, Slug, Text
from schemas.core.quantity_fields import DialQuantity, Quantity
from schemas.grip.parts import GripChain, GripCylinder, Jaws
from schemas.words import APPROVALS, CYLINDER_SIDES, GAUGE_PLACES

PERCENT = "_percent"
"""The end of the name of a tolerance that is a percentage of its size."""
ARM_ANGLE = "arm_angle"
"""The tolerance that is of no size: how far an arm may stand off its position."""

GAUGE_CLASSES = (
    *(f"ASME B40.100 {grade}" for grade in ("4A", "3A", "2A", "1A", "A", "B", "C", "D")),
    *(f"EN 837-1 {percent}" for percent in ("0.1", "0.25", "0.6", "1", "1.6", "2.5", "4")),
)
"""Accuracy classes by name; what each means stands in `api.engineering.gauges.accuracy_class`."""


SPAN = "Last mark of the dial."
DIVISION = "From mark to mark of the dial."


def rising(data: Mapping[str, Any], *names: str) -> bool:
    """Whether the values that are given stand in this order; one that is missing is another's fault."""
    values = [data[name] for name in names if data.get(name) is not None]
    return all(left <= right for left, right in pairwise(values))


class EfficiencyRange(Request):
    """Force at the arm pin over hydraulic force: lowest, nominal and highest to be expected."""

    low = Number(
        0.5, 1, required=True, metadata={"description": "Lowest to be expected; it decides the capacity."}
    )
    nominal = Number(0.5, 1, required=True, metadata={"description": "That of every nominal torque."})
    high = Number(
        0.5, 1, required=True, metadata={"description": "Highest to be expected; no limit is exceeded at it."}
    )

    @validates_schema(skip_on_field_errors=False)
    def _in_order(self, data: dict[str, float], **_: Any) -> None:
        if not rising(data, "low", "nominal", "high"):
            contradictions({"nominal": "low, nominal and high must be in this order"})


class DialGauge(Request):
    """A dial gauge; span and division in the unit printed on the dial."""

    serial = Text(40, required=True, metadata={"description": "What is engraved on the gauge."})
    span: fields.Field[Any] = DialQuantity("pressure", required=True, metadata={"description": SPAN})
    division: fields.Field[Any] = DialQuantity("pressure", required=True, metadata={"description": DIVISION})
    accuracy_percent_of_span = Number(
        0.01, 10, metadata={"description": "Largest error in percent of the span; or give accuracy_class."}
    )
    accuracy_class = Choice(
        GAUGE_CLASSES, metadata={"description": "Instead of a percentage: what is printed on the dial."}
    )
    display = Choice(
        ("dial", "digital"),
        metadata={"description": "dial if left out. A division of a display is one step of its last digit."},
    )
    connected_at = Choice(
        GAUGE_PLACES,
        required=True,
        metadata={"description": "Where it is connected; work_port: at the driven side or port."},
    )
    height = Quantity(
        "length",
        zero=True,
        limits=("1 mm", "30 m"),
        metadata={"description": "How far the gauge stands above or below the cylinder."},
    )
    drift_percent_of_span = Number(
        0,
        5,
        metadata={"description": "How far it may have drifted since the machine was calibrated with it."},
    )

    @validates_schema(skip_on_field_errors=False, pass_original=True)
    def _accuracy(self, data: dict[str, Any], given: Any, **_: Any) -> None:
        if not isinstance(given, Mapping):
            return
        both = {"accuracy_percent_of_span", "accuracy_class"} & set(given)
        if len(both) == 2:
            contradictions({"accuracy_class": "accuracy_percent_of_span is given too; leave one out"})
        if not both:
            detail = "give accuracy_percent_of_span, or accuracy_class"
            raise ValidationError({"accuracy_percent_of_span": [FieldFault("missing_field", detail)]})

    @validates_schema(skip_on_field_errors=False)
    def _marks(self, data: dict[str, Any], **_: Any) -> None:
        span, division = data.get("span"), data.get("division")
        if span is None or division is None:
            return
        if span.unit is not division.unit:
            contradictions({"division": f"span is in {span.unit.code}, so division must be too"})
        marks, most = span.value / division.value, 1_000_000 if data.get("display") == "digital" else 1000
        if not (4 <= marks <= most and abs(marks - round(marks)) < 1e-9 * marks):
            contradictions({"division": f"the span must be 4 to {most} whole divisions"})


def check_one_gauge_once(gauges: Mapping[str, Any]) -> None:
    """Refuse two gauges of one serial that are described in two ways: which is right cannot be known."""
    for (name, first), (other, second) in combinations(gauges.items(), 2):
        if first["serial"] == second["serial"] and first != second:
            contradictions({other: f"gauge {first['serial']} is described in another way as {name}"})


class Gauges(Request):
    """The gauge read in each operation, and that on which relief is set; may be the same one."""

    make_up = fields.Nested(DialGauge, required=True, metadata={"description": "Read to make up."})
    break_out = fields.Nested(DialGauge, required=True, metadata={"description": "Read to break out."})
    system = fields.Nested(
        DialGauge,
        metadata={
            "description": "Shows the pressure of the system while relief is set. Without it, relief is set "
            "on the gauge of the operation."
        },
    )

    @validates_schema(skip_on_field_errors=True)
    def _one_gauge_once(self, data: dict[str, Any], **_: Any) -> None:
        check_one_gauge_once(data)


class FixedRelief(Request):
    """System relief valve that cannot be set, or whose setting is never changed."""

    cracking = Quantity(
        "pressure", required=True, metadata={"description": "Pressure at which it begins to open."}
    )
    full_flow = Quantity(
        "pressure",
        required=True,
        metadata={"description": "Pressure at which it passes the full flow of the pump."},
    )

    @validates_schema(skip_on_field_errors=False)
    def _in_order(self, data: dict[str, float], **_: Any) -> None:
        if not rising(data, "cracking", "full_flow"):
            contradictions({"full_flow": "full flow cannot lie below cracking"})


RELIEF_FORMS = {"fixed": ("cracking", "full_flow"), "adjustable": ("lowest", "highest", "override")}
"""The members of a relief valve: of one that cannot be set, and of one that is set for the job."""


class Relief(Request):
    """System relief valve: fixed (cracking, full_flow), or adjustable (lowest, highest, override)."""

    cracking = Quantity(
        "pressure", metadata={"description": "Of a fixed valve: pressure at which it begins to open."}
    )
    full_flow = Quantity(
        "pressure",
        metadata={"description": "Of a fixed valve: pressure at which it passes the full flow of the pump."},
    )
    lowest = Quantity(
        "pressure",
        metadata={"description": "Of an adjustable valve: lowest pressure at which it can begin to open."},
    )
    highest = Quantity("pressure", metadata={"description": "Highest such pressure."})
    override = Quantity(
        "pressure",
        zero=True,
        metadata={"description": "Pressure at the full flow of the pump less that at which it opens."},
    )

    @validates_schema(skip_on_field_errors=False, pass_original=True)
    def _one_form(self, data: dict[str, float], given: Any, **_: Any) -> None:
        if not isinstance(given, Mapping):
            return
        fixed, adjustable = RELIEF_FORMS.values()
        if any(name in given for name in fixed):
            detail = "the valve is fixed, as it has cracking or full_flow: give these two alone"
            contradictions({name: detail for name in adjustable if name in given})
        form = adjustable if any(name in given for name in adjustable) else fixed
        detail = "give cracking and full_flow of a fixed valve, or lowest, highest and override of another"
        if missing := [name for name in form if name not in given]:
            raise ValidationError({name: [FieldFault("missing_field", detail)] for name in missing})

    @validates_schema(skip_on_field_errors=False)
    def _in_order(self, data: dict[str, float], **_: Any) -> None:
        if not rising(data, "cracking", "full_flow"):
            contradictions({"full_flow": "full flow cannot lie below cracking"})
        if not rising(data, "lowest", "highest"):
            contradictions({"highest": "the highest cannot lie below the lowest"})


class DiameterRange(Request):
    """Smallest and largest outside diameter that the machine grips."""

    minimum = Quantity("length", required=True, metadata={"description": "Smallest diameter gripped."})
    maximum = Quantity("length", required=True, metadata={"description": "Largest diameter gripped."})

    @validates_schema(skip_on_field_errors=False)
    def _in_order(self, data: dict[str, float], **_: Any) -> None:
        if not data.get("minimum", 0.0) < data.get("maximum", inf):
            contradictions({"maximum": "the maximum must be larger than the minimum"})


class Certificate(Request):
    """Calibration certificate of the machine."""

    certificate = Text(60, required=True, metadata={"description": "Number of the certificate."})
    due = Day(required=True, metadata={"description": "Day by which the next calibration is due."})


class Rated(Quantity):
    """The highest pressure or pull that the maker of a part allows."""

    def __init__(self, part: str, kind: str = "pressure", *, required: bool = True) -> None:
        what = "pull" if kind == "force" else kind
        text = f"Highest {what} that the maker of the {part} allows."
        super().__init__(kind, required=required, metadata={"description": text})


class ReturnPressure(Quantity):
    """The pressure on the side or port that is not driven."""

    def __init__(self) -> None:
        text = "Pressure on the side or port that is not driven, while the joint turns; 0 psi if none."
        super().__init__("pressure", zero=True, required=True, metadata={"description": text})


class KindName(Choice):
    """The one word of a kind of machine."""

    def __init__(self, word: str) -> None:
        super().__init__((word,), required=True, metadata={"description": "Kind of machine."})


class RightHandMakeUpSide(Choice):
    """The side of a cylinder that makes up a right-hand thread."""

    def __init__(self) -> None:
        text = "Side of the cylinder under pressure to make up a right-hand thread, at this arm station."
        super().__init__(CYLINDER_SIDES, required=True, metadata={"description": text})


class AngleOffSquare(Quantity):
    """The farthest that a force ever stands off square to its arm."""

    def __init__(self) -> None:
        text = "Farthest that the force ever stands off square to the arm; without it, square only."
        super().__init__("angle", limits=("0.1 deg", "60 deg"), metadata={"description": text})


class GovernedProfile(Request):
    """What every profile says: which machine, who answers for it, and when it holds."""

    id = Slug(required=True, metadata={"description": "Id by which requests name the machine."})
    site = Text(60, metadata={"description": "Where it stands; a machine choice can be of one site."})
    revision = Text(20, required=True, metadata={"description": "Revision of the profile; answers name it."})
    status = Choice(
        APPROVALS,
        required=True,
        metadata={"description": "A draft is answered from with a stop, or refused, as the policy says."},
    )
    approved_by = Text(100, metadata={"description": "Who approved it. An approval needs the day too."})
    approved_on = Day(metadata={"description": "Day of the approval; it holds from then at the earliest."})
    effective_from = Day(metadata={"description": "First day on which it holds."})
    effective_to = Day(
        allow_none=True, metadata={"description": "Last day on which it holds; no end if null or left out."}
    )
    calibration = fields.Nested(Certificate)

    @property
    def key(self) -> str:
        """The kind of machine that it describes: the one word that its ``kind`` may be.

        Raises:
            TypeError: where a profile does not declare it.
        """
        kind = self.fields.get("kind")
        if not isinstance(kind, Choice) or len(kind.choices) != 1:
            raise TypeError(f"{type(self).__name__} has no field kind with the one word of its kind")
        return next(iter(kind.choices))

    @property
    def sizes(self) -> dict[str, str]:
        """The sizes of which it may state a tolerance, with its kind of quantity; ``number`` of a share."""
        part = self.fields.get("tolerances")
        stated = part.schema.fields if isinstance(part, fields.Nested) else {}
        return {
            name.removesuffix(PERCENT): field.kind if isinstance(field, Quantity) else "number"
            for name, field in stated.items()
            if name != ARM_ANGLE
        }

    @validates_schema(skip_on_field_errors=False)
    def _dates(self, data: dict[str, Any], **_: Any) -> None:
        if not rising(data, "effective_from", "effective_to"):
            contradictions({"effective_to": "the profile ends before it begins"})


class MachineProfile(GovernedProfile):
    """What every profile of a machine that gives torque says besides: its rating, and how it grips."""

    torque_rating = Quantity(
        "torque", required=True, metadata={"description": "Most torque that the maker of the machine allows."}
    )
    jaws = fields.Nested(Jaws)
    chain = fields.Nested(GripChain)
    grip_cylinder = fields.Nested(GripCylinder)


class PressureDriven(Request):
    """What drives a machine by pressure that is read on its gauges."""

    gauges = fields.Nested(Gauges, required=True)
    relief = fields.Nested(Relief, required=True)
    lowest_setting = Quantity(
        "pressure",
        zero=True,
        required=True,
        metadata={"description": "Lowest pressure to be set to make up; it does not bind a break-out."},
    )


GRIP_PARTS = ("jaws", "chain", "grip_cylinder")


class HydraulicProfile(MachineProfile, PressureDriven):
    """A machine that gives torque by pressure that is read on its gauges."""

    grip_supply = Choice(
        ("common", "separate", "locked"),
        metadata={
            "description": "Where the oil of the grip comes from: the same relief valve as that of the arm, "
            "another one, or locked in before the arm moves. Required with a grip_cylinder."
        },
    )

    @validates_schema(skip_on_field_errors=False, pass_original=True)
    def _grip_supply(self, data: dict[str, Any], given: Any, **_: Any) -> None:
        if not isinstance(given, Mapping):
            return
        if "grip_supply" in given and not any(name in given for name in GRIP_PARTS):
            contradictions({"grip_supply": "the profile has no jaws, chain or grip_cylinder"})
        if "grip_cylinder" in given and "grip_supply" not in given:
            detail = "say whether the grip_cylinder has a common, a separate or a locked supply"
            raise ValidationError({"grip_supply": [FieldFault("missing_field", detail)]})


PROFILES: dict[str, GovernedProfile] = {}
"""The schema of a profile by its ``kind``: filled by the one list of kinds, in which each names its schema,
`api.answers.machine_kinds.registry`."""


def load_profile(given: Any) -> dict[str, Any]:
    """A profile as plain values in SI.

    Raises:
        InvalidInput: with every fault, or with that of the kind alone, on which the other fields depend.
    """
    assert PROFILES, "no kind of machine is known before api.answers.machine_kinds.registry is imported"
    return load(chosen(PROFILES, given, "kind"), given)
