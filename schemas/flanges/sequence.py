"""Requests and answers of the passes of a flange, by torque and by stud tensioners."""

import re
from collections.abc import Mapping
from itertools import pairwise
from typing import Any

from marshmallow import ValidationError, fields, validates_schema

from schemas.core.faults import FieldFault, fault
from schemas.core.fields import Choice, Day, Number, Request, WholeNumber
from schemas.core.parts import Entry, Part, Words, amount, knowable
from schemas.core.quantity import bare
from schemas.core.quantity_fields import DialReading, Quantity
from schemas.machines.answer import SettingPart
from schemas.machines.preload_pressure import PreloadPressureAnswer, PreloadRequest
from schemas.machines.request import ArmPosition, Machine
from schemas.record import SourcePart
from schemas.torque_window import TorqueWindowPart

FEWEST, MOST = 4, 128
"""Bolts of a flange; fewer or more are taken for a slip (own judgement)."""


class BoltCount(WholeNumber):
    """A number of bolts."""

    def __init__(self, **options: Any) -> None:
        super().__init__(FEWEST, MOST, **options)


MOST_PASSES = 6
LEAST_SHARE = 5
"""Per cent of the target; less is no pass (own judgement)."""


class PassShares(fields.Field[Any]):
    """Shares of a target torque in per cent, separated by slashes; loads to shares, the last of them 1."""

    pattern = r"^[0-9]{1,3}(\.[0-9]{1,4})?(/[0-9]{1,3}(\.[0-9]{1,4})?)*$"
    longest = 60
    accepted = (
        f"1 to {MOST_PASSES} shares of the target torque in per cent with slashes between them, each at "
        f"least {LEAST_SHARE} and above the one before, the last 100, such as 30/60/100"
    )

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> tuple[float, ...]:
        text = bare(value)
        if not isinstance(text, str) or len(text) > self.longest or not re.fullmatch(self.pattern, text):
            raise self._refused("not shares with slashes between them")
        percents = [float(percent) for percent in text.split("/")]
        if len(percents) > MOST_PASSES:
            raise self._refused(f"{len(percents)} passes are more than are taken")
        if percents[0] < LEAST_SHARE:
            raise self._refused("the first share is no pass")
        if not all(left < right for left, right in pairwise(percents)):
            raise self._refused("a share is not above the one before")
        if percents[-1] != 100:
            raise self._refused("the last share is not 100: the bolts would not reach their target")
        return tuple(percent / 100 for percent in percents)

    def _refused(self, detail: str) -> ValidationError:
        return fault("not_pass_percentages", detail, self.accepted)


NEEDED = ("operation", "thread_hand")
OF_A_MACHINE = (*NEEDED, "arm_position", "gripped_outside_diameter")


class FlangeTask(Request):
    """The bolts of a flange and the steps in which they are tightened; if wanted, with which machine."""

    bolt_count = BoltCount(
        required=True,
        metadata={
            "description": (
                "Number of bolts. Orders exist for 4, 8, 12, 16, 20 and 24; Dialset makes none up."
            ),
            "example": 8,
        },
    )
    pass_percentages = PassShares(
        required=True,
        metadata={
            "description": "Shares of the target torque for the cross passes, in per cent, the last 100. A "
            "choice of practice, never assumed.",
            "example": "30/60/100",
        },
    )
    machine = Machine(
        metadata={"description": "Id of the wrench; in JSON also its profile. Without one: torques only."}
    )
    operation = Choice(
        ("make_up", "break_out"),
        metadata={"description": "Required with a machine: make_up. Dialset has no order for loosening."},
    )
    thread_hand = Choice(
        ("right", "left"), metadata={"description": "Required with a machine: hand of the thread."}
    )
    arm_position = ArmPosition(
        metadata={
            "description": "Required with a machine that has an arm: how it stands at the end of a pass."
        }
    )
    gripped_outside_diameter = Quantity(
        "length",
        limits=("0.5 in", "60 in"),
        metadata={"description": "Required by a machine whose grip is not self-centring."},
    )
    as_of = Day(
        metadata={
            "description": "Day of the job; profile and rows of a table must be in force then. Required "
            "where the rows of a table are dated."
        }
    )

    @validates_schema(pass_original=True, skip_on_field_errors=False)
    def _all_of_a_machine(self, _: Any, original: Any, **__: Any) -> None:
        given = set(original) if isinstance(original, Mapping) else set()
        if "machine" in given:
            missing = {name: "required with a machine" for name in NEEDED if name not in given}
        else:
            stray = ", ".join(name for name in OF_A_MACHINE if name in given)
            missing = {"machine": f"without a machine there is no meaning in {stray}"} if stray else {}
        if missing:
            raise ValidationError(
                {
                    name: [FieldFault("missing_field", detail, getattr(self.fields[name], "accepted", None))]
                    for name, detail in missing.items()
                }
            )


class TorquePassPart(Part):
    """One pass over all bolts."""

    number = fields.Integer(metadata={"description": "Number of the pass, from 1."})
    name = Words(metadata={"description": "snug, cross, circular, or check: circular again, hours later."})
    order = Words(metadata={"description": "The bolts in their turn, numbered clockwise from 1."})
    instruction = Words()
    share = Number(allow_none=True, metadata={"description": "Torque over the target; null for snug."})
    torque = Quantity(
        "torque", allow_none=True, metadata={"description": "Torque of the pass; null for snug."}
    )
    torque_minimum = Quantity(
        "torque",
        allow_none=True,
        metadata={
            "description": "Lowest torque of a snug nut; null where the maximum lies below what is usual."
        },
    )
    torque_maximum = Quantity(
        "torque", allow_none=True, metadata={"description": "Highest torque of a snug nut."}
    )
    gauge_setting = DialReading(
        allow_none=True, metadata={"description": "The mark to set; null for snug and without a machine."}
    )
    torque_at_gauge_setting = Quantity(
        "torque", allow_none=True, metadata={"description": "Torque at the mark, at nominal efficiency."}
    )
    share_at_gauge_setting = Number(
        allow_none=True, metadata={"description": "Torque at the mark over the target."}
    )

    def in_a_cell(self, entry: Entry) -> str:
        """An entry as one cell shows it: the amount, or the ends of it, and the mark to set."""
        share = f" {100 * entry['share']:.6g} %" if entry["share"] is not None else ""
        wanted = (entry[name] for name in ("torque", "torque_minimum", "torque_maximum"))
        mark, given = entry["gauge_setting"], entry["share_at_gauge_setting"]
        gives = f" = {100 * given:.3g} %" if given else ""
        setting = f", set {amount(mark)}{gives}" if mark else ""
        amounts = " to ".join(amount(each) for each in wanted if each)
        return f"{entry['number']} {entry['name']}{share}: {amounts}{setting} ({entry['order']})"


class FlangeSequenceAnswer(Part):
    """How the bolts of a flange are tightened to a torque."""

    torque = fields.Nested(TorqueWindowPart, metadata={"description": "Torque window of one bolt."})
    cross_order = Words(metadata={"description": "The cross pattern, bolts numbered clockwise from 1."})
    passes = fields.List(fields.Nested(TorquePassPart))
    agrees_with = fields.List(
        fields.Nested(SourcePart), metadata={"description": "Published practices with these steps."}
    )
    setting = knowable(
        fields.Nested(
            SettingPart, metadata={"description": "What is set at 100 %, as /v1/pressure answers it."}
        )
    )


class TensionerSequenceRequest(PreloadRequest):
    """A preload wanted in every stud of a flange, and the tensioners that are to give it."""

    bolt_count = BoltCount(
        required=True, metadata={"description": "Number of studs in the flange.", "example": 16}
    )
    coverage = Choice(
        ("full", "half"),
        required=True,
        metadata={
            "description": "Studs tensioned at once: all (100 %), or every second one (50 %), then "
            "the others. Dialset has no practice for fewer.",
            "example": "half",
        },
    )
    first_pass_factor = Number(
        1,
        1.5,
        metadata={
            "description": "Pressure of the first group over that of the second, since the first loses load "
            "when the second is tensioned. From the maker of the tensioner or measured; no value is "
            "published. Required with half coverage.",
            "example": 1.1,
        },
    )

    @validates_schema(pass_original=True, skip_on_field_errors=False)
    def _fits_coverage(self, data: Mapping[str, Any], original: Any, **_: Any) -> None:
        given = isinstance(original, Mapping) and "first_pass_factor" in original
        coverage, found = data.get("coverage"), {}
        if coverage == "half" and not given:
            text = "with half coverage the first group loses load to the second: how much is not published"
            accepted = "1 to 1.5, from the maker of the tensioner or measured"
            found["first_pass_factor"] = [FieldFault("coefficient_required", text, accepted)]
        if coverage == "full" and given:
            text = "with full coverage all studs are tensioned at once and none relaxes another"
            found["first_pass_factor"] = [FieldFault("coefficient_not_taken", text, "leave it out")]
        if coverage == "half" and data.get("bolt_count", 2) % 2:
            text = "with half coverage the number of studs is even"
            found["bolt_count"] = [FieldFault("contradiction", text, "an even number, or coverage full")]
        if found:
            raise ValidationError(found)


class PreloadPassPart(Part):
    """One pass over some of the studs."""

    number = fields.Integer(metadata={"description": "Number of the pass, from 1."})
    name = Words(metadata={"description": "first, second, or check."})
    order = Words(metadata={"description": "The studs tensioned at once, numbered clockwise from 1."})
    instruction = Words()
    preload = Quantity("force", metadata={"description": "Aimed at when the tool is let off."})
    pressure = Quantity("pressure", metadata={"description": "Exact pressure of that preload."})
    gauge_setting = DialReading(metadata={"description": "The mark to set."})
    preload_at_gauge_setting = Quantity("force")
    tool_load = Quantity("force", metadata={"description": "Load on each stud under its tool."})
    stud_stress_share_of_yield = Number(metadata={"description": "0.95 is the most that is accepted."})

    def in_a_cell(self, entry: Entry) -> str:
        """An entry as one cell shows it."""
        setting = f"{amount(entry['preload'])}, set {amount(entry['gauge_setting'])}"
        return f"{entry['number']} {entry['name']}: {setting} ({entry['order']})"


class PreloadSettingPart(PreloadPressureAnswer):
    """A setting of a stud tensioner, as ``/v1/preload-pressure`` answers it."""


class TensionerSequenceAnswer(Part):
    """How the studs of a flange are tensioned to a preload."""

    tools_needed = fields.Integer(metadata={"description": "Tensioners that work at once."})
    passes = fields.List(fields.Nested(PreloadPassPart))
    setting = fields.Nested(
        PreloadSettingPart,
        metadata={"description": "What is set for the preload itself, as /v1/preload-pressure answers it."},
    )
    first_setting = knowable(
        fields.Nested(
            PreloadSettingPart,
            metadata={
                "description": "What is set for the first group; its preload is let down by the second, so "
                "that the window of the preload does not bind it."
            },
        )
    )
