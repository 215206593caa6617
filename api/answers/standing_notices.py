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
