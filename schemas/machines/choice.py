"""A choice among the machines of a shop, as answered."""

from marshmallow import fields

from schemas.core.fields import Number
from schemas.core.parts import Basis, Count, Entry, Part, Words, amount, knowable
from schemas.core.quantity_fields import DialReading, Quantity
from schemas.finding import FindingPart
from schemas.machines.answer import Capability, CylinderSide, ExpectedPart, ReasonPart
from schemas.record import Reasoned
from schemas.torque_window import TorqueWindowPart


class NamedMachine(Part):
    """A machine and the profile it was judged by."""

    machine = Words(metadata={"description": "Id of the machine."})
    site = Words(allow_none=True, metadata={"description": "Site of the machine; null where it names none."})
    profile_revision = Words(metadata={"description": "Revision of the profile it was judged by."})
    profile_hash = Words(metadata={"description": "Hash of the profile it was judged by."})


class ExpectedThere(ExpectedPart):
    """Readings of the dial of a machine to be expected, in its unit whatever units are asked."""


class AbleMachinePart(NamedMachine, Reasoned):
    """A machine that can do the joint, in a line; ask /v1/pressure for the whole."""

    may_lack = frozenset(
        {
            "cylinder_side",
            "gauge_setting",
            "torque_at_gauge_setting",
            "probability_in_window",
            "capability",
            "expected",
            "do_not_exceed",
            "do_not_exceed_basis",
        }
    )

    fit = fields.Boolean(
        metadata={"description": "Whether its profile is approved, in force and calibrated on the day."}
    )
    can_both = knowable(
        fields.Boolean(metadata={"description": "Whether it can make the joint up and break it out."})
    )
    gauge_setting = DialReading(metadata={"description": "The mark to set to make up."})
    torque_at_gauge_setting = Quantity(
        "torque", metadata={"description": "Torque at the mark, at nominal efficiency."}
    )
    probability_in_window = knowable(
        Number(metadata={"description": "Probability that the torque lies within the window."})
    )
    capability = knowable(Capability())
    expected = fields.Nested(
        ExpectedThere, metadata={"description": "Readings to be expected of a break-out."}
    )
    do_not_exceed = DialReading(metadata={"description": "The mark at which a break-out stops."})
    do_not_exceed_basis = Basis(allow_none=False)
    gauge = Words(metadata={"description": "Serial of the gauge."})
    cylinder_side = CylinderSide()
    findings = fields.List(
        fields.Nested(FindingPart), metadata={"description": "What to know of this machine here."}
    )

    def in_a_cell(self, entry: Entry) -> str:
        """An entry as one cell shows it: the setting, or what to expect, first."""
        words = amount(entry["gauge_setting"]) if "gauge_setting" in entry else _expected(entry)
        where = f"on {entry['gauge']}"
        if "cylinder_side" in entry:
            where += f", {entry['cylinder_side']} side"
        found = "".join(f" ({FindingPart().in_a_cell(each)})" for each in entry["findings"])
        return f"{entry['machine']}: {words} {where}{found}"


def _expected(entry: Entry) -> str:
    likely, limit = amount(entry["expected"]["likely"]), amount(entry["do_not_exceed"])
    return f"expect {likely}, stop at {limit}"


class UnableMachinePart(NamedMachine):
    """A machine that cannot do the joint, with every reason."""

    reasons = fields.List(
        fields.Nested(ReasonPart), metadata={"description": "Every reason why it cannot do the joint."}
    )

    def in_a_cell(self, entry: Entry) -> str:
        """An entry as one cell shows it."""
        return f"{entry['machine']}: {', '.join(map(ReasonPart().in_a_cell, entry['reasons']))}"


class MachineChoiceAnswer(Part):
    """Which machines can do a joint, and why the others cannot."""

    torque = fields.Nested(TorqueWindowPart, metadata={"description": "Make-up torque window of the joint."})
    able_count = Count(metadata={"description": "Machines that can do the joint, listed or not."})
    unable_count = Count(metadata={"description": "Machines that cannot, listed or not."})
    able = fields.List(
        fields.Nested(AbleMachinePart),
        metadata={"description": "Fit machines first, then those whose torque is surest."},
    )
    unable = fields.List(
        fields.Nested(UnableMachinePart), metadata={"description": "The others, with every reason."}
    )
