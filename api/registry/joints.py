"""What Dialset computes of a joint, whatever machine makes it up."""

from api.answers.bolts.torque import BOLTING, bolt_answer, bolt_preload_answer
from api.answers.rotary.preload import rotary_preload_answer
from api.answers.rotary.preload_notes import PRELOAD_NOTICES
from api.answers.rotary.torque import rotary_answer
from api.answers.shop_tables.tabulated import TABULATED_NOTICES, tabulated_answer
from api.answers.standing_notices import COMPUTED, PRELOAD_SCATTERS
from api.answers.tubular.round_thread import ROUND_THREAD_NOTICES, round_thread_answer
from api.registry.calculation import Calculation
from api.registry.families import FAMILY
from api.registry.tags import THE_JOINT
from schemas.bolts.answer import BoltPreloadAnswer, BoltTorqueAnswer
from schemas.bolts.request import BoltJoint, BoltPreloadRequest, BoltService, BoltStretch
from schemas.rotary.joint import RotaryShoulderedJoint, WindowChoice
from schemas.rotary.preload import RotaryPreloadAnswer, RotaryPreloadRequest
from schemas.shop_tables.tabulated import DayOfJob, TabulatedAnswer, TabulatedJoint
from schemas.torque_window import RotaryShoulderedAnswer
from schemas.tubular.round_thread import RoundThreadAnswer, RoundThreadJoint


class RotaryShoulderedRequest(WindowChoice, RotaryShoulderedJoint):
    """A rotary shouldered joint and how wide its window is."""


class BoltRequest(WindowChoice, BoltService, BoltStretch, BoltJoint):
    """A bolt, how far it is to be tightened, and how wide its window is."""


class TabulatedRequest(WindowChoice, DayOfJob, TabulatedJoint):
    """A joint of one of the shop's own tables, the day of the job, and how wide its window is."""


JOINT_CALCULATIONS = (
    Calculation(
        name="torque/rotary-shouldered",
        tag=THE_JOINT,
        title="Make-up torque of a rotary shouldered joint",
        description="Uses the formula of API RP 7G Appendix A for drill collars and tool joints, new "
        "or worn. The answer has the window, the weaker member, the preload, the "
        "torsional yield and the published row if there is one. If you want the mark on a gauge, ask "
        "/v1/pressure; the preload of a torque that was applied, /v1/preload/rotary-shouldered.",
        requests={"": RotaryShoulderedRequest()},
        compute=rotary_answer,
        response=RotaryShoulderedAnswer(),
        notices=(COMPUTED, PRELOAD_SCATTERS),
        example=FAMILY["rotary_shouldered"].example,
    ),
    Calculation(
        name="torque/round-thread",
        tag=THE_JOINT,
        title="Make-up torque of API round-thread casing and tubing",
        description="The target is 1 % of the pull-out strength (API RP 5C1, API Bul 5C3), the window "
        "75 to 125 % of it. The answer also has the printed rounding, the strengths, and "
        "the position to judge beside the torque. The pipe comes from the catalogue or "
        "from its dimensions. Buttress has no torque and is refused: ask "
        "/v1/make-up-position/buttress. If you want the mark on a gauge, ask /v1/pressure.",
        requests={"": RoundThreadJoint()},
        compute=round_thread_answer,
        response=RoundThreadAnswer(),
        notices=ROUND_THREAD_NOTICES,
        example=FAMILY["round_thread"].example,
    ),
    Calculation(
        name="torque/bolt",
        tag=THE_JOINT,
        title="Make-up torque of a bolt",
        description="Gives the torque of a preload, a bolt stress, or a share of proof or yield. The "
        "method is a nut factor, the exact helix, the simplified helix (ISO 16047), that with rounded "
        "coefficients (VDI 2230), or flange bolts with heavy hex nuts (API 6A). The answer "
        "has the split of the torque, the stress while tightening, the torque at "
        "yield, and on demand stretch and scatter. Dialset never assumes friction or nut "
        "factor. A bolt that would yield is refused. If you want the mark on a gauge, ask "
        "/v1/pressure; the passes of a flange, /v1/flange-sequence/torque; the preload of a torque that "
        "was applied, /v1/preload/bolt.",
        requests={"": BoltRequest()},
        compute=bolt_answer,
        response=BoltTorqueAnswer(),
        notices=BOLTING,
        example=FAMILY["bolt"].example,
    ),
    Calculation(
        name="torque/tabulated",
        tag=THE_JOINT,
        title="Make-up torque from one of the shop's own tables",
        description="Gives minimum, target and maximum of the row for exactly this joint: proprietary "
        "connections, values of a customer, a licensed copy of a standard. Where the file "
        "allows it, Dialset interpolates on a straight line between two rows and names "
        "them. It never extrapolates. It serves no table with a fault. If you want to know which "
        "tables there are, ask /v1/tables; the mark on a gauge, /v1/pressure.",
        requests={"": TabulatedRequest()},
        compute=tabulated_answer,
        response=TabulatedAnswer(),
        notices=TABULATED_NOTICES,
        example=FAMILY["tabulated"].example,
        needs_tables=True,
    ),
    Calculation(
        name="preload/rotary-shouldered",
        tag=THE_JOINT,
        title="Preload of a rotary shouldered joint at an applied torque",
        description="Uses F = T / (FF arm) by API RP 7G Appendix A, the factor of the compound "
        "divided out. The answer has stresses of pin and box, torsional yields, the "
        "tension that separates the shoulder or yields the pin (an estimate, from "
        "memory), and the joint under a tension. A torque or tension that yields the "
        "joint is refused. A tension that separates the shoulder is answered with that "
        "verdict. If you want the torque to make up to, ask /v1/torque/rotary-shouldered.",
        requests={"": RotaryPreloadRequest()},
        compute=rotary_preload_answer,
        response=RotaryPreloadAnswer(),
        notices=PRELOAD_NOTICES,
        example={
            "connection": "NC50",
            "component": "tool_joint",
            "box_outside_diameter": "6 5/8 in",
            "pin_bore": "3 1/4 in",
            "applied_torque": "30700 ft-lb",
            "axial_tension": "300000 lbf",
        },
    ),
    Calculation(
        name="preload/bolt",
        tag=THE_JOINT,
        title="Preload of a bolt at an applied torque",
        description="This is the exact inverse of /v1/torque/bolt, with the same stresses, shares and "
        "bounds. Beyond yield the preload is not known, and the question is refused. If you want the "
        "torque for a preload, ask /v1/torque/bolt.",
        requests={"": BoltPreloadRequest()},
        compute=bolt_preload_answer,
        response=BoltPreloadAnswer(),
        notices=BOLTING,
        example={
            "thread": "M20",
            "bolt_grade": "8.8",
            "method": "rounded_helix",
            "thread_friction": 0.12,
            "bearing_friction": 0.12,
            "applied_torque": "300 N.m",
        },
    ),
)
