"""What Dialset computes of a whole flange: its passes, in their order."""

from api.answers.flanges.sequence import FLANGE_BY_TORQUE, check_flange, flange_sequence_answer
from api.answers.flanges.tensioner_sequence import FLANGE_BY_TENSION, tensioner_sequence_answer
from api.registry.calculation import Calculation, for_family, requests_for
from api.registry.examples import EXAMPLE_TENSIONER
from api.registry.families import FAMILY
from api.registry.tags import FLANGES
from schemas.flanges.sequence import (
    FlangeSequenceAnswer,
    FlangeTask,
    TensionerSequenceAnswer,
    TensionerSequenceRequest,
)

OF_BOLTS = ("bolt", "tabulated", "stated")
"""The families that a bolt of a flange can be of."""

_BOLT = FAMILY["bolt"]

FLANGE_CALCULATIONS = (
    Calculation(
        name="flange-sequence/torque",
        tag=FLANGES,
        title="Passes and cross pattern of a flange that is tightened to a torque",
        description="Gives a snug pass, the stated shares of the target torque crosswise, then "
        "clockwise passes at the target. With a machine it gives the mark for every pass; "
        "that at the target is the setting of /v1/pressure. Orders exist for 4, 8, 12, "
        "16, 20 and 24 bolts, from memory. This is practice; no standard requires it. If you want "
        "one bolt alone, ask /v1/torque/bolt; studs that are tensioned, /v1/flange-sequence/preload.",
        requests=requests_for({key: FAMILY[key] for key in OF_BOLTS}, FlangeTask, "Flange"),
        compute=for_family(FAMILY, flange_sequence_answer, check_flange),
        response=FlangeSequenceAnswer(),
        notices=FLANGE_BY_TORQUE,
        example={"family": _BOLT.key, **_BOLT.example, "bolt_count": 8, "pass_percentages": "30/60/100"},
    ),
    Calculation(
        name="flange-sequence/preload",
        tag=FLANGES,
        title="Passes of a flange whose studs are tensioned to a preload",
        description="Tensions all studs at once, or every second one at a higher pressure and then "
        "the others, and adds a check pass. Each pass has its mark and every check of "
        "tensioner and stud. Dialset never assumes how much more pressure the first group "
        "needs. This is practice; no standard requires it. If you want one stud alone, ask "
        "/v1/preload-pressure; bolts that are tightened to a torque, /v1/flange-sequence/torque.",
        requests={"": TensionerSequenceRequest()},
        compute=tensioner_sequence_answer,
        response=TensionerSequenceAnswer(),
        notices=FLANGE_BY_TENSION,
        example={
            "machine": EXAMPLE_TENSIONER,
            "preload_target": "78000 lbf",
            "load_loss_factor": 1.25,
            "stress_area": "1.492 in2",
            "yield_strength": "105000 psi",
            "bolt_count": 16,
            "coverage": "half",
            "first_pass_factor": 1.1,
        },
        query_example={"machine": "bench-2"},
    ),
)
