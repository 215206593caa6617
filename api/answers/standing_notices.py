"""What is true of every job, said once by its id: at ``/v1/standing-notices``, on sheets and charts.

A notice is never a finding: what stands on every answer is read by nobody.
"""

from dataclasses import dataclass


@dataclass(frozen=True)
class StandingNotice:
    """A notice that holds for every job of some questions.

    Attributes:
        id: stable, for programs.
        text: short sentences, one instruction each.
    """

    id: str
    text: str


COMPUTED = StandingNotice(
    "computed_figures",
    "A computed figure is for the named connection, machine, gauge and compound only. It does not "
    "replace the machine maker's manual, the standard in force, local codes or a qualified person's "
    "judgement.",
)
WORKING_VALUES = StandingNotice(
    "before_pressure",
    "Measure the actual outside diameter and bore. Check the hand of the thread and the cylinder side "
    "before applying pressure. Stand clear of the arm. Depressurise before opening any line.",
)


STATED_NUT_FACTOR = StandingNotice(
    "stated_nut_factor",
    "A nut factor holds for one lubricant, finish and hardness only. Measure or agree it. It does not tell "
    "the torsion in the bolt. The bolt yields at a lower torque than the checks show.",
)
HEAVY_HEX_NUTS = StandingNotice(
    "heavy_hex_nuts",
    "The torque of a flange bolt is for heavy hex nuts (API 6A). Do not use it for other nuts. Some flanges "
    "have a lower stress limit than half of the yield strength. Look up the limit of this flange.",
)
STEADY_LOAD = StandingNotice(
    "steady_external_load",
    "Figures under an external load hold for a steady load along the bolt axis, at the mean preload. They "
    "exclude fatigue, bending, scatter, relaxation and torsion left from tightening.",
)
FLANGE_PRACTICE = StandingNotice(
    "flange_practice",
    "Order and steps are practice, which no standard requires. The procedure for this flange and its gasket "
    "comes first.",
)
FLANGE_TORQUE = StandingNotice(
    "flange_by_torque",
    "Before the first pass, clean and align faces and gasket. Lubricate threads and nut faces as the torque "
    "assumes. Number the bolts clockwise. Do not go on with an uneven gap. The torque of each pass is that "
    "of one bolt.",
)
FLANGE_TENSION = StandingNotice(
    "flange_by_tension",
    "Before the first pass, clean and align faces and gasket. Run all nuts down by hand. Number the studs "
    "clockwise. Check that the gap is even all round after each pass. Do not go on with an uneven gap.",
)
FIRST_GROUP = StandingNotice(
    "first_group_of_studs",
    "With half coverage, the factor of the first group has no published value. Measure the stretch of some "
    "studs of both groups after the last pass.",
)
TENSIONER_AXIS = StandingNotice(
    "tensioner_axis",
    "Stand clear of the axis of the stud, at both ends, while the tensioner is under pressure. A failed part "
    "is ejected along that axis.",
)
TENSIONER_LIMITS = StandingNotice(
    "tensioner_limits",
    "Never exceed the pressure or the stroke that the tensioner's maker allows. At the end of the stroke, "
    "let the pressure off before taking up again. The maker's manual and local codes come first.",
)
TENSIONER_SEAT = StandingNotice(
    "tensioner_seat",
    "Before applying pressure, check that puller and nut engage sound threads over the length that the maker "
    "asks for. Check that the tool stands square on its seat.",
)
TENSIONER_LOSS = StandingNotice(
    "tensioner_load_loss",
    "The load-loss factor holds for this stud and its length between the nuts. Another stud has its own "
    "factor.",
)
TENSIONER_SCATTER = StandingNotice(
    "tensioner_scatter",
    "The bounds of a preload hold the error of the gauge only. Preload also scatters from stud to stud: 15 % "
    "either way for hydraulic tensioners (published table, NASA). Measure the stretch where it matters.",
)
