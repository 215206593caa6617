"""What answers say to whoever acts on them."""

COMPUTED = (
    "A computed figure is for the named connection, machine, gauge and compound only. It does not replace "
    "the machine maker's manual, the standard in force, local codes or the judgement of a qualified person."
)
WORKING_VALUES = (
    "Measure the actual outside diameter and bore; check the hand of the thread and the cylinder side before "
    "applying pressure. Stand clear of the arm, and depressurise before opening any line."
)
