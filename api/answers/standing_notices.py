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

PROVE_LIMIT = StandingNotice(
    "prove_the_limit",
    "Before a make-up, prove the make-up limit with open grips: pull to the end of the stroke and read it. "
    "Relief seldom protects the joint, since its margin and override go beyond the maximum.",
)

# joints

PRELOAD_ESTIMATE = StandingNotice(
    "preload_estimate",
    "Separation and tension are an estimate. Stiffness is taken proportional to area, and pin and box "
    "as equally long. Bending, pressure, temperature and shock are not in it. It has no margin.",
)
SECTIONS_COMPUTED = StandingNotice(
    "sections_computed",
    "Dialset computes only the pin 3/4 in from its shoulder, the box 3/8 in from its shoulder, and "
    "their contact. It does not compute the pipe body, the upset or the threads.",
)
PRELOAD_SCATTERS = StandingNotice(
    "preload_scatters",
    "The preload is for the compound friction factor used here. It assumes a coefficient of friction "
    "of 0.08 with the reference compound. Another compound gives another preload. Real friction "
    "scatters from make-up to make-up, and the preload with it.",
)
TORQUE_AND_POSITION = StandingNotice(
    "torque_and_position",
    "The torque of a round thread is a guide. Judge torque and made-up position together. Neither "
    "alone accepts the joint (API RP 5C1).",
)
NEW_THREADS = StandingNotice(
    "new_threads",
    "The torque is for new API threads, zinc- or phosphate-coated couplings and API modified thread "
    "compound. If finish, compound or gauging differ, the torque may need trial make-ups (from memory).",
)
SPIN_IN = StandingNotice(
    "spin_in",
    "Start slowly to notice cross-threading. API RP 5C1 keeps power tongs under about 25 rpm (from memory).",
)
PIPE_IN_HAND = StandingNotice(
    "pipe_in_hand",
    "Dialset does not know which grades are made in which weight. Make sure that this pipe is the one "
    "in hand. For unlike mates, use the lower grade and the thinner wall (common practice, no source).",
)
ROUND_THREAD_BREAK_OUT = StandingNotice(
    "round_thread_break_out",
    "A torque at break-out is no measure of the make-up. Accept or reject no joint on it. Grip the "
    "pipe near the coupling, not on it. If you must hammer a coupling, hammer lightly, with a flat "
    "face, never near its ends (from memory).",
)
SHOPS_OWN_TABLE = StandingNotice(
    "shops_own_table",
    "The torque is that of the shop's own table. Dialset did not calculate it. The sheet of the "
    "connection's maker that is in force comes before it.",
)
BUTTRESS_BOTH = StandingNotice(
    "buttress_torque_and_position",
    "Judge torque and made-up position both. Neither alone accepts a joint. The stamp on the pipe "
    "counts. Check that it is there and in its place before you rely on it.",
)
BUTTRESS_QUESTIONABLE = StandingNotice(
    "buttress_questionable",
    "A joint that does not come into the window, or is past the apex, is questionable. Back it out and "
    "lay it down. Inspect, repair or replace both members. Do not use a parted joint again without "
    "reshopping or regauging.",
)
BUTTRESS_SPIN_IN = StandingNotice(
    "buttress_spin_in",
    "Clean both threads and dope them fresh. Start slowly to notice cross-threading. Stay under about "
    "25 rpm (API RP 5C1, from memory). If the pipe wobbles, slow down. If it still wobbles, lay it "
    "down.",
)
BUTTRESS_ONLY = StandingNotice(
    "buttress_only",
    "This is API buttress with API couplings. For a modified, special-clearance or proprietary thread, "
    "follow its maker's rule. Follow the standard in force and the procedure of the job too.",
)
TRIAL_CONDITIONS = StandingNotice(
    "trial_conditions",
    "The torque is for this size, weight and grade, with the compound, coupling finish, machine and "
    "gauge of the trials. Make new trials after any change of them.",
)
TRIAL_IS_A_GUIDE = StandingNotice(
    "trial_is_a_guide",
    "The torque is a guide. Accept each joint by its made-up position too. A torque read with the face "
    "past the base is above that at the base.",
)
RODS_FROM_MEMORY = StandingNotice(
    "rods_from_memory",
    "The displacements are from memory. Check them against API RP 11BR before use.",
)
RODS_SCRIBED = StandingNotice(
    "rods_scribed",
    "Clean both faces and threads. Make up hand tight to full contact of the faces. Scribe one line "
    "across pin shoulder and coupling. Make up, then measure along the coupling how far its ends have "
    "parted.",
)
RODS_TONGS = StandingNotice(
    "rods_tongs",
    "Set the tongs by the displacement they give. Measure again at intervals and after any change of "
    "size, grade or oil temperature.",
)
RODS_FULL_SIZE = StandingNotice(
    "rods_full_size",
    "The displacements are for rods of API grades on full-size couplings only. The rod maker's "
    "procedure and the standard in force come first.",
)

# bolts and flanges

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

# charts

THIS_CHART_ONLY = StandingNotice(
    "this_chart_only",
    "This chart is for this machine, arm position, gauge, hand of thread and profile only. Do not use "
    "it for a different machine, arm station, gauge, thread or compound, or after a repair. It does "
    "not replace the machine maker's manual, the standard in force, local codes or licensed practice. "
    "It does not replace the judgement of a qualified person.",
)
LIVE_VALVE = StandingNotice(
    "live_valve",
    "Confirm the hand of the thread and what is under pressure. Stand clear of the arm while the valve "
    "is live. Depressurise before opening any line or changing the grip. Do not use a gauge that does "
    "not return to zero.",
)
CHART_OF_BREAK_OUT = StandingNotice(
    "chart_of_break_out",
    "Break-out: this is machine output, not joint demand. Never exceed the last mark.",
)
