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

SEEN = ("yes", "no", "not_seen")
"""What was seen at the machine."""
WORK = ("as_ordered", "not_as_ordered", "cannot_tell")
TORQUE_VERDICTS = ("pass", "low", "high", "cannot_tell")
DECISION_RULES = ("simple", "guarded")
WINDOW_ENDS = ("minimum", "maximum")
ACTIONS = ("accept", "ask", "tell", "repeat", "redo", "other_machine", "quarantine")
REASON_CODES = (
    "off_the_mark", "marks_did_not_move", "marks_not_seen", "static_check", "last_stroke_not_seen",
    "gauge_zero_off", "machine_unfit", "no_ordered_mark", "not_told", "torque_in_window",
    "torque_below_minimum", "torque_above_maximum", "within_guard_band", "nothing_moved", "no_window",
    "motion_not_known",
)  # fmt: skip
"""Why a verdict is what it is."""
TREND_PER = ("day", "line")

STATUSES = ("read", "reprint", "fitted", "from memory")
"""Of published figures, from the surest to the least sure."""
STATED = "stated"
NO_STATUS = "none"
