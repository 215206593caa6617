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

# machines, grips and calibrations

GAUGE_AT_PUMP = StandingNotice(
    "gauge_at_pump",
    "The gauge is connected at the pump. During flow it reads higher than the cylinder pressure. "
    "Read it at stall.",
)
LINE_ONLY_PULLS = StandingNotice(
    "line_only_pulls",
    "A line only pulls. Lead it square to the arm, so that it turns the joint the wanted way. "
    "Stand clear of it.",
)
WRENCH_DIRECTION = StandingNotice(
    "wrench_direction",
    "If you turn the wrench over, it turns in the opposite direction. Check its direction before "
    "applying pressure. Check that its reaction member bears fully.",
)
AXIS_OF_THE_STUD = StandingNotice(
    "axis_of_the_stud",
    "Stand clear of the axis of the stud, at both ends, while the tensioner is under pressure. A "
    "failed part is ejected along that axis.",
)
TENSIONER_STROKE = StandingNotice(
    "tensioner_stroke",
    "Never exceed the pressure or the stroke that the tensioner's maker allows. At the end of the "
    "stroke, let the pressure off before taking up again. The maker's manual and local codes come "
    "first.",
)
TENSIONER_THREADS = StandingNotice(
    "tensioner_threads",
    "Before applying pressure, check that puller and nut engage sound threads over the length that "
    "the maker asks for. Check that the tool stands square on its seat.",
)
BOTH_GRIPS = StandingNotice(
    "both_grips",
    "Both grips, the one that turns and the backup, must hold the torque. Support the pipe against the "
    "side load of the arm. Secure the backup first.",
)
WHERE_TO_GRIP = StandingNotice(
    "where_to_grip",
    "Grip only where the maker of the tool allows it. Never grip threads, seals, hardbanding, thin "
    "mandrels, sensor housings or elastomer. Check that the wall stands the squeeze.",
)
SHARP_DIES = StandingNotice(
    "sharp_dies",
    "Use clean, sharp dies seated over their whole length. Worn dies slip below the computed torque. "
    "For painted, wet, hardfaced or chromed surfaces, use the lowest friction.",
)
HANDS_OFF = StandingNotice(
    "hands_off",
    "Keep hands off while the valve is live. Stand clear of the swing of the arm and the line of every "
    "chain and rope. A part that slips releases its energy suddenly. Release the pressure before you "
    "grip anew.",
)
SLACK_SIDE = StandingNotice(
    "slack_side", "Hold the slack side of the chain. A chain that hangs loose holds nothing."
)
CHAIN_INSPECTED = StandingNotice(
    "chain_inspected",
    "Inspect pins and plates of the chain. Never join it with a bolt. Discard a chain that is 3 % "
    "longer than new.",
)
LAST_STROKE = StandingNotice(
    "last_stroke",
    "The arm stalls where the last stroke ends. The torque there is between the smallest and the largest.",
)
BETWEEN_STROKES = StandingNotice(
    "between_strokes", "Release the pressure before you open the grip for the next stroke."
)
YARDSTICK_ONLY = StandingNotice(
    "yardstick_only",
    "Class limits are those of a standard for force testing machines, as a yardstick only. Dialset "
    "claims no conformity to any standard. Each side, gauge and arm position is a calibration of "
    "its own.",
)
