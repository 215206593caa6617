"""What Dialset computes of a machine: settings, and what its parts can do."""

from api.answers.calibration.calibration import CALIBRATION_NOTICES, calibration_answer
from api.answers.grip.grip import GRIPPING, grip_answer
from api.answers.machines.choice import check_site, machine_choice_answer
from api.answers.machines.delivered_torque import DELIVERED_NOTICES, delivered_torque_answer
from api.answers.machines.preload_pressure import TENSIONING, preload_pressure_answer
from api.answers.machines.pressure import check_machine, pressure_answer
from api.answers.machines.stroke import STROKE_NOTICES, stroke_answer
from api.answers.machines.verdict import check_verdict, verdict_answer
from api.answers.machines.verdict_log import VerdictLog
from api.answers.standing_notices import COMPUTED, PROVE_LIMIT, WORKING_VALUES
from api.registry.calculation import Calculation, Logged, for_family, requests_for
from api.registry.examples import EXAMPLE_CALIBRATION, EXAMPLE_PROFILE, EXAMPLE_TENSIONER
from api.registry.families import FAMILY
from api.registry.tags import SET_THE_MACHINE, THE_MACHINE
from schemas.calibration.answer import CalibrationAnswer
from schemas.calibration.request import CalibrationRequest
from schemas.grip.grip import GripAnswer, GripRequest
from schemas.machines.answer import DeliveredTorqueAnswer, PressureAnswer
from schemas.machines.choice import MachineChoiceAnswer
from schemas.machines.preload_pressure import PreloadPressureAnswer, PreloadRequest
from schemas.machines.request import MachineJob, Reading, SiteJob
from schemas.machines.stroke import StrokeAnswer, StrokeRequest
from schemas.machines.verdict import VerdictAnswer, VerdictLogPart, WorkDone

_ROTARY = FAMILY["rotary_shouldered"]
_JOB = {"operation": "make_up", "thread_hand": "right", "arm_position": "square"}
_TOLD = {
    "as_of": "2026-11-24",
    "gauge_zero": "0 psi",
    "marks_moved": "yes",
    "moved_in_last_stroke": "yes",
    "held": "5 s",
}

MACHINE_CALCULATIONS = (
    Calculation(
        name="pressure",
        tag=SET_THE_MACHINE,
        title="What to set on the gauge for a joint on a machine",
        description="Gives the mark to set, the one nearest the target or a surer one within the window, "
        "the cylinder side, and every check of the machine. If the machine cannot do the "
        "joint, the refusal has all reasons. If you want to know which machine to use, ask "
        "/v1/machine-choice; the torque alone, the path of the joint below /v1/torque; every mark "
        "of a machine at once, its chart.",
        requests=requests_for(FAMILY, MachineJob, "Pressure"),
        compute=for_family(FAMILY, pressure_answer, check_machine),
        response=PressureAnswer(),
        notices=(WORKING_VALUES, PROVE_LIMIT, COMPUTED),
        example={"family": _ROTARY.key, **_ROTARY.example, "machine": EXAMPLE_PROFILE, **_JOB},
        query_example={"family": _ROTARY.key, **_ROTARY.example, "machine": "south-bay-9", **_JOB},
    ),
    Calculation(
        name="machine-choice",
        tag=SET_THE_MACHINE,
        title="Which machines can do a joint, and why the others cannot",
        description="Compares one joint with every machine of a site. Machines that can do it have "
        "their setting, fit ones first, then the surest. The others have every reason. If you want "
        "the whole answer for one of them, ask /v1/pressure.",
        requests=requests_for(FAMILY, SiteJob, "Choice"),
        compute=for_family(FAMILY, machine_choice_answer, check_site),
        response=MachineChoiceAnswer(),
        notices=(WORKING_VALUES, PROVE_LIMIT, COMPUTED),
        example={"family": _ROTARY.key, **_ROTARY.example, **_JOB, "as_of": "2026-11-24"},
        needs_machines=True,
    ),
    Calculation(
        name="delivered-torque",
        tag=SET_THE_MACHINE,
        title="Torque behind a gauge reading",
        description="Gives the torque that a machine delivers at a reading, at nominal efficiency, "
        "with its worst case. If you want the setting for a torque, ask /v1/pressure.",
        requests={"": Reading()},
        compute=delivered_torque_answer,
        response=DeliveredTorqueAnswer(),
        notices=DELIVERED_NOTICES,
        example={"machine": EXAMPLE_PROFILE, "gauge_reading": "640 psi", **_JOB},
        query_example={"machine": "south-bay-9", "gauge_reading": "860 psi", **_JOB},
    ),
    Calculation(
        name="verdict",
        tag=SET_THE_MACHINE,
        title="Whether a make-up was done as ordered, and whether its torque passes",
        description="Judges what was read as a joint was made up. Two judgements: the work (as_ordered, "
        "not_as_ordered, cannot_tell) and the torque (pass, low, high, cannot_tell), the latter by the "
        "decision rule of the shop's policy, with probabilities and capability. What was not told is never "
        "assumed. next_step says what to do. The summary of a batch, such as a day's log, counts both and "
        "tells how each machine drifts. A break-out has no verdict. If you want the mark to set beforehand, "
        "ask /v1/pressure; the torque behind any reading, /v1/delivered-torque.",
        requests=requests_for(FAMILY, WorkDone, "Verdict"),
        compute=for_family(FAMILY, verdict_answer, check_verdict),
        response=VerdictAnswer(),
        notices=(WORKING_VALUES, COMPUTED),
        example={
            **{"family": _ROTARY.key, **_ROTARY.example, "machine": EXAMPLE_PROFILE, **_JOB, **_TOLD},
            **{"gauge_reading": "640 psi", "slips": 0, "limit_proved": True},
        },
        query_example={
            **{"family": _ROTARY.key, **_ROTARY.example, "machine": "south-bay-9", **_JOB, **_TOLD},
            **{"gauge_reading": "860 psi", "slips": "0", "limit_proved": "true"},
        },
        of_work_done=True,
        log=Logged(VerdictLog, VerdictLogPart()),
    ),
    Calculation(
        name="preload-pressure",
        tag=SET_THE_MACHINE,
        title="What to set on the gauge of a stud tensioner for a preload",
        description="Gives the pressure p = F LTF / A and the mark nearest the preload wanted, within "
        "its window. The answer has the load and the stress of the stud under the tool, "
        "and every check of tensioner and stud. Dialset never assumes the load-loss "
        "factor. If it cannot be done, the refusal has all reasons. If you want all passes of a "
        "flange, ask /v1/flange-sequence/preload.",
        requests={"": PreloadRequest()},
        compute=preload_pressure_answer,
        response=PreloadPressureAnswer(),
        notices=TENSIONING,
        example={
            "machine": EXAMPLE_TENSIONER,
            "preload_target": "78000 lbf",
            "load_loss_factor": 1.25,
            "stress_area": "1.492 in2",
            "yield_strength": "105000 psi",
        },
        query_example={"machine": "bench-2"},
    ),
    Calculation(
        name="grip",
        tag=THE_MACHINE,
        title="Whether a grip holds a torque: squeeze, chain, links, grip cylinder",
        description="Gives the squeeze N = m T / (mu r) that jaws need, and the result of each "
        "described part: jaws, chain (capstan), links of the chain, grip cylinder. "
        "Dialset never assumes friction or margin. A part that is not described is null "
        "with its reason. A part that would be overloaded is a refusal. Describe the "
        "parts in the profile of the machine or in the body. If you want to know whether the machine "
        "gives that torque, ask /v1/pressure.",
        requests={"": GripRequest()},
        compute=grip_answer,
        response=GripAnswer(),
        notices=GRIPPING,
        example={
            "torque": "10000 ft-lb",
            "outside_diameter": "5 in",
            "friction": 0.3,
            "margin": 1.5,
            "machine": EXAMPLE_PROFILE,
        },
        query_example={"machine": "north-bay-2"},
    ),
    Calculation(
        name="stroke",
        tag=THE_MACHINE,
        title="What one stroke of a machine does: rotation, torque from end to end, strokes for a rotation",
        description="Uses the triangle of pipe centre, arm pin and base pin. Gives the rotation of a "
        "stroke or the part in use, and the torque factor h/a at its ends and extremes "
        "with its mean over the angle. Gives also the strokes for a rotation or an axial "
        "travel. It needs a machine whose cylinder and base are known. If you want the torque at a "
        "reading, ask /v1/delivered-torque.",
        requests={"": StrokeRequest()},
        compute=stroke_answer,
        response=StrokeAnswer(),
        notices=STROKE_NOTICES,
        example={
            "machine": EXAMPLE_PROFILE,
            "used_from": "42 in",
            "used_to": "54 in",
            "lost_motion": "2 deg",
            "rotation": "60 deg",
        },
        query_example={"machine": "north-bay-2"},
    ),
    Calculation(
        name="calibration",
        tag=THE_MACHINE,
        title="What a calibration says of a machine, and the profile it makes",
        description="Gives lines of torque over pressure with and without offset, and which to use. "
        "Compares figures level by level with class limits as a yardstick, and efficiency "
        "with geometry, with the likely mistake. Makes a profile of kind calibrated. Each "
        "side and gauge is on its own. If you want to check a profile before it is served, ask "
        "/v1/profile-check.",
        requests={"": CalibrationRequest()},
        compute=calibration_answer,
        response=CalibrationAnswer(),
        notices=CALIBRATION_NOTICES,
        example=EXAMPLE_CALIBRATION,
        body_only=True,
    ),
)
