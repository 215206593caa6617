"""The closed lists of the border are those of the handbook and of answers, which the border does not know."""

from collections.abc import Collection
from itertools import chain
from typing import get_args

import pytest

from api.answers.machine_kinds.registry import KINDS
from api.answers.shop import EVERY_STATUS
from api.answers.tubular import buttress as buttress_answer
from api.answers.tubular import round_thread as round_thread_answer
from api.answers.tubular import sucker_rod as rod_answer
from api.engineering import checks, provenance
from api.engineering.bolts.thread import Standard
from api.engineering.calibration.levels import Direction
from api.engineering.calibration.likely_mistake import Verdict as Plausibility
from api.engineering.flanges.passes import PassName
from api.engineering.machine_kinds.machine import Driven
from api.engineering.machine_kinds.motor_through_gears import Port
from api.engineering.machines import verdict
from api.engineering.machines.cylinder import Hand, Operation, Side
from api.engineering.machines.drift import PER
from api.engineering.machines.relief import Protects
from api.engineering.machines.stroke import SquarePosition
from api.engineering.torque_window import End
from api.engineering.uncertainty.combined import Distribution
from api.reference.bolt_threads import THREADS
from api.reference.calibration_classes import CLASSES, FIGURES
from api.reference.sucker_rods import RUNS
from api.reference.tubulars import TUBULARS
from schemas import provenance as written
from schemas import words
from schemas.bolts import answer as bolts
from schemas.bolts import listings as bolt_listings
from schemas.calibration import answer as calibration
from schemas.calibration import request as calibrated
from schemas.flanges import sequence
from schemas.machines import profile, relief, stroke, uncertainty
from schemas.tubular import buttress, round_thread, sucker_rod
from schemas.tubular import listings as pipe

NO_END = End(provenance.NotKnown("not published"))
LISTS: dict[str, tuple[Collection[str], Collection[str]]] = {
    "operations": (words.OPERATIONS, get_args(Operation)),
    "hands of a thread": (words.HANDS, get_args(Hand)),
    "sides of a cylinder": (words.CYLINDER_SIDES, get_args(Side)),
    "ports of a motor": (words.MOTOR_PORTS, get_args(Port)),
    "what is under pressure": (words.SIDES, tuple(chain(*map(get_args, get_args(Driven))))),
    "levels of findings": (words.LEVELS, checks.LEVELS),
    "stages of the work": (words.STAGES, get_args(checks.Stage)),
    "verdicts of checks": ((*words.VERDICTS, "fail"), get_args(checks.Verdict)),
    "statuses": (words.STATUSES, provenance.STATUSES),
    "every status": (written.ANY_STATUS, EVERY_STATUS),
    "no end of a window": ((words.NO_STATUS,), (NO_END.status,)),
    "kinds of machines": (profile.PROFILES, KINDS),
    "what relief protects": (relief.PROTECTS, get_args(Protects)),
    "where a cylinder is square": (stroke.SQUARE_POSITIONS, get_args(SquarePosition)),
    "distributions": (uncertainty.DISTRIBUTIONS, get_args(Distribution)),
    "directions": (calibrated.DIRECTIONS, get_args(Direction)),
    "plausibility": (calibration.PLAUSIBILITY, get_args(Plausibility)),
    "figures of merit": (calibration.FIGURES, FIGURES),
    "classes": (calibration.CLASSES, [each.name for each in CLASSES]),
    "passes of a flange": (sequence.PASS_NAMES, get_args(PassName)),
    "standards of areas": (bolts.AREA_STANDARDS, get_args(Standard)),
    "series of threads": (bolt_listings.SERIES, {each.series for each in THREADS}),
    "systems of threads": (bolt_listings.THREAD_SYSTEMS, {each.system for each in THREADS}),
    "kinds of pipe": (pipe.PRODUCTS, {each.product for each in TUBULARS}),
    "types of round thread": (round_thread.ROUND_THREAD_TYPES, {each.thread_type for each in TUBULARS}),
    "adjustments of a torque": (round_thread.ADJUSTMENTS, round_thread_answer.ADJUSTMENTS),
    "positions of a face": (buttress.POSITIONS, buttress_answer.BASES),
    "verdicts on a rod": (sucker_rod.ROD_VERDICTS, rod_answer.VERDICTS),
    "grades of rods": (sucker_rod.ROD_GRADES, rod_answer.GRADES),
    "runs of rods": (sucker_rod.RUNS, RUNS),
    "what was seen": (words.SEEN, get_args(verdict.Seen)),
    "judgements of the work": (words.WORK, verdict.WORK),
    "verdicts on a torque": (words.TORQUE_VERDICTS, verdict.TORQUE_VERDICTS),
    "rules of decision": (words.DECISION_RULES, get_args(verdict.Rule)),
    "ends of a window": (words.WINDOW_ENDS, verdict.ENDS),
    "what to do next": (words.ACTIONS, verdict.NEXT_STEPS),
    "reasons of a verdict": (words.REASON_CODES, verdict.REASON_CODES),
    "what a trend is counted against": (words.TREND_PER, PER),
}


@pytest.mark.parametrize("ours, theirs", LISTS.values(), ids=LISTS)
def test_a_list_is_the_one_that_it_stands_for(ours: Collection[str], theirs: Collection[str]) -> None:
    assert sorted(ours) == sorted(theirs)
