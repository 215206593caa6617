"""Closed lists of words that questions and answers share, or that the handbook owns.

The border knows no engineering: what is a list there stands here too, and a test compares both.
"""

OPERATIONS = ("make_up", "break_out")
HANDS = ("right", "left")
CYLINDER_SIDES = ("cap", "rod")
MOTOR_PORTS = ("A", "B")
SIDES = (*CYLINDER_SIDES, *MOTOR_PORTS)
"""What can be under pressure."""
GAUGE_PLACES = ("work_port", "pump")
MEMBERS = ("pin", "box")
YES_NO = ("yes", "no")
APPROVALS = ("draft", "approved")

LEVELS = ("stop", "look", "note")
STAGES = (
    "identify", "choose", "prepare_grip", "prepare_pipe", "oil", "relief", "limit", "dope_and_mark", "grip",
    "make_up", "hold", "read", "verdict", "record", "break_out",
)  # fmt: skip
"""The stages of the work, in their order."""
VERDICTS = ("pass", "caution", "not_checked")
"""Of a check in an answer; one that fails is a refusal."""

STATUSES = ("read", "reprint", "fitted", "from memory")
"""Of published figures, from the surest to the least sure."""
STATED = "stated"
NO_STATUS = "none"
