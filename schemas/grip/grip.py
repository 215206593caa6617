"""Whether a grip holds a torque, as asked and as answered."""

from marshmallow import fields

from schemas.core.fields import Day, Number, Request
from schemas.core.parts import Entry, Part, Words, amount, knowable
from schemas.core.quantity_fields import Quantity
from schemas.grip.parts import GripChain, GripCylinder, Jaws
from schemas.machines.answer import CheckPart
from schemas.machines.request import Machine


class GripRequest(Request):
    """A torque to be held on an outside diameter, and by what."""

    torque = Quantity(
        "torque",
        required=True,
        metadata={"description": "Torque that the grip must hold.", "example": "10000 ft-lb"},
    )
    outside_diameter = Quantity(
        "length",
        limits=("0.5 in", "60 in"),
        required=True,
        metadata={"description": "Outside diameter that the grip holds.", "example": "5 in"},
    )
    friction = Number(
        0.01,
        1,
        required=True,
        metadata={
            "description": "Coefficient of friction between grip and pipe. Never assumed; the answer names "
            "what is published.",
            "example": 0.3,
        },
    )
    margin = Number(
        1,
        10,
        required=True,
        metadata={
            "description": "Torque at which the grip would slip over the torque it must hold. Never assumed.",
            "example": 1.5,
        },
    )
    squeeze = Quantity(
        "force",
        metadata={"description": "Sum of the radial forces of all jaws, to learn what torque it holds."},
    )
    machine = Machine(metadata={"description": "A machine whose profile has jaws, chain or grip_cylinder."})
    jaws = fields.Nested(Jaws, metadata={"description": "Jaws, if not those of the machine."})
    chain = fields.Nested(GripChain, metadata={"description": "Chain, if not that of the machine."})
    grip_cylinder = fields.Nested(
        GripCylinder, metadata={"description": "Grip cylinder, if not that of the machine."}
    )
    as_of = Day(
        metadata={"description": "Day of the job; the profile must be in force and calibrated then."},
    )


class JawsPart(Part):
    """The jaws: the friction above which they tighten themselves, and whether they do."""

    friction_to_lock = Number(
        allow_none=True,
        metadata={"description": "Friction above which wedge or cam jaws tighten themselves: tan(wedge)."},
    )
    wedge = Words(
        metadata={"description": "locks or does_not_lock, at the friction given; none for other jaws."}
    )


class ChainPart(Part):
    """The tensions that the chain needs."""

    tension_ratio = Number(metadata={"description": "Tight over slack side when it slips: e^(mu theta)."})
    tight_tension = Quantity(
        "force",
        metadata={"description": "Tension of the tight side when the torque times the margin would slip."},
    )
    slack_tension = Quantity(
        "force",
        metadata={"description": "Tension of the slack side. Hold it with this, or the chain holds nothing."},
    )
    slip_torque_at_rated_load = Quantity("torque")


class LinkRangePart(Part):
    """Outside diameters that take one number of links."""

    minimum = Quantity("length")
    maximum = Quantity("length")
    links = Number()

    def in_a_cell(self, entry: Entry) -> str:
        """An entry as one cell shows it."""
        return f"{amount(entry['minimum'])} to {amount(entry['maximum'])}: {entry['links']} links"


class LinksPart(Part):
    """The links that the chain needs."""

    links = Number(metadata={"description": "Whole number, with the tails."})
    basis = Words(metadata={"description": "table of the maker, or rule of arc and chord."})
    by_arc = Number(allow_none=True, metadata={"description": "Links on the pipe by the arc rule."})
    by_chord = Number(allow_none=True, metadata={"description": "Links on the pipe by the chord rule."})
    ranges = fields.List(
        fields.Nested(LinkRangePart),
        metadata={
            "description": "Diameters where the number changes: by the table, or by the arc rule over "
            "the range of the grip. Empty where neither is known."
        },
    )


class GripCylinderPart(Part):
    """Where the grip cylinder stands, and its pressure."""

    travel_used = Quantity("length", metadata={"description": "When the jaws touch."})
    travel_left = Quantity(
        "length", metadata={"description": "Travel left for the squeeze, worn dies and wear."}
    )
    pressure = Quantity(
        "pressure", metadata={"description": "Pressure on the squeezing side, for needed_squeeze."}
    )


class FrictionPart(Part):
    """A published range of friction."""

    what = Words(attribute="source.what")
    low = Number()
    high = Number()
    status = Words(attribute="source.status")
    source = Words(attribute="source.source")

    def in_a_cell(self, entry: Entry) -> str:
        """An entry as one cell shows it."""
        ends = f"{entry['low']} to {entry['high']}"
        return f"{entry['what']}, {ends} ({entry['status']}): {entry['source']}"


class GripAnswer(Part):
    """What holds a torque on a pipe: squeeze, chain, links and grip cylinder, each where it is known."""

    only_full = frozenset({"published_friction", "checks"})

    needed_squeeze = Quantity(
        "force", metadata={"description": "Sum of the radial forces of all jaws: margin torque / (mu r)."}
    )
    slip_torque = knowable(
        Quantity(
            "torque", metadata={"description": "Torque at which the squeeze given slips, without margin."}
        )
    )
    jaws = knowable(fields.Nested(JawsPart))
    chain = knowable(fields.Nested(ChainPart))
    links = knowable(fields.Nested(LinksPart))
    grip_cylinder = knowable(fields.Nested(GripCylinderPart))
    published_friction = fields.List(
        fields.Nested(FrictionPart),
        metadata={"description": "Published friction, for comparison. The answer uses none of it."},
    )
    checks = fields.List(fields.Nested(CheckPart))
