"""Every joint family, on one page."""

from api.answers.bolts.torque import bolt_window
from api.answers.rotary.torque import rotary_window
from api.answers.shop_tables.tabulated import tabulated_window
from api.answers.stated import stated_window
from api.answers.tubular.round_thread import round_thread_window
from api.registry.calculation import Family
from schemas.bolts.request import BoltJoint
from schemas.rotary.joint import RotaryShoulderedJoint, StatedJoint
from schemas.shop_tables.tabulated import TabulatedJoint
from schemas.tubular.round_thread import RoundThreadJoint

FAMILIES = (
    Family(
        "rotary_shouldered",
        RotaryShoulderedJoint,
        rotary_window,
        {
            "connection": "NC50",
            "component": "drill_collar",
            "box_outside_diameter": "6 3/4 in",
            "pin_bore": "2-13/16 in",
        },
        diameter_field="box_outside_diameter",
        of_pipe=True,
    ),
    Family(
        "round_thread",
        RoundThreadJoint,
        round_thread_window,
        {"size": "5-1/2", "weight": "17 lb/ft", "pipe_grade": "J55", "thread_type": "STC"},
        of_pipe=True,
    ),
    Family(
        "bolt",
        BoltJoint,
        bolt_window,
        {
            "thread": "1-1/2-8 UN",
            "bolt_grade": "B7",
            "yield_share": 0.5,
            "method": "heavy_hex_nut",
            "thread_friction": 0.13,
        },
        of_nut=True,
    ),
    Family(
        "tabulated",
        TabulatedJoint,
        tabulated_window,
        {
            "table": "double-shoulder",
            "table_key": {
                "connection": "bay joint 40",
                "box_outside_diameter": "5 1/4 in",
                "pin_bore": "2-11/16 in",
            },
        },
    ),
    Family(
        "stated",
        StatedJoint,
        stated_window,
        {"torque_target": "20000 ft-lb", "torque_source": "sheet 12 rev B of the tool maker"},
    ),
)
FAMILY = {family.key: family for family in FAMILIES}
