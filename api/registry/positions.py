"""What Dialset says of joints that are made up to a position, and of the torque found by trying."""

from api.answers.tubular.buttress import BUTTRESS_NOTICES, buttress_answer
from api.answers.tubular.sucker_rod import ROD_NOTICES, sucker_rod_answer
from api.answers.tubular.trial_make_up import TRIAL_NOTICES, trial_make_up_answer
from api.registry.calculation import Calculation
from api.registry.tags import POSITION
from schemas.tubular.buttress import ButtressPositionAnswer, ButtressPositionRequest
from schemas.tubular.sucker_rod import SuckerRodAnswer, SuckerRodRequest
from schemas.tubular.trial_make_up import TrialMakeUpAnswer, TrialMakeUpRequest

POSITION_CALCULATIONS = (
    Calculation(
        name="make-up-position/buttress",
        tag=POSITION,
        title="Where buttress casing is made up to, and whether a joint is there",
        description="Gives the base of the triangle stamp from the pipe end and the window of the "
        "coupling face, from one thread turn short of the base to the apex. With the face "
        "measured, it gives a verdict. API publishes no torque for buttress: torque and "
        "preload are null with their reasons. If you want a torque found by trying, ask "
        "/v1/trial-make-up/buttress.",
        requests={"": ButtressPositionRequest()},
        compute=buttress_answer,
        response=ButtressPositionAnswer(),
        notices=BUTTRESS_NOTICES,
        example={"size": "9-5/8", "face_short_of_base": "1/8 in"},
    ),
    Calculation(
        name="trial-make-up/buttress",
        tag=POSITION,
        title="A make-up torque of buttress casing from trial make-ups",
        description="Gives mean, spread and extremes of the torques that brought the coupling face to "
        "the base of the triangle, for one size, weight and grade. A trial short of the "
        "base, or past the apex, is left out with its reason. A trial that stands apart "
        "is flagged and counted. If you want the mark on a gauge, ask /v1/pressure with "
        "family=stated and the mean, and name the trials in torque_source.",
        requests={"": TrialMakeUpRequest()},
        compute=trial_make_up_answer,
        response=TrialMakeUpAnswer(),
        notices=TRIAL_NOTICES,
        example={
            "size": "9-5/8",
            "weight": "47 lb/ft",
            "pipe_grade": "L80",
            "trials": [
                {"joint": "1", "torque": "9800 ft-lb", "face_past_base": "1/16 in"},
                {"joint": "2", "torque": "9400 ft-lb", "position": "base_to_apex"},
                {"joint": "3", "torque": "9600 ft-lb", "position": "base_to_apex"},
                {"joint": "4", "torque": "7900 ft-lb", "face_short_of_base": "1/8 in"},
            ],
        },
        body_only=True,
    ),
    Calculation(
        name="make-up-position/sucker-rod",
        tag=POSITION,
        title="Circumferential displacement of a sucker-rod joint",
        description="Gives the minimum and maximum displacement past hand tight of API RP 11BR (from "
        "memory), and the turn and axial travel on the full-size coupling. With a "
        "displacement measured, it gives a verdict. No torque is published: torque and "
        "preload are null with their reasons. If you want all sizes and grades that are published, ask "
        "/v1/sucker-rods.",
        requests={"": SuckerRodRequest()},
        compute=sucker_rod_answer,
        response=SuckerRodAnswer(),
        notices=ROD_NOTICES,
        example={
            "size": "3/4",
            "rod_grade": "D",
            "run": "first",
            "coupling": "full_size",
            "displacement": "5/16 in",
        },
    ),
)
