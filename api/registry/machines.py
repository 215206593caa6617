"""What Dialset computes of a machine: settings, and what its parts can do."""

from api.answers.calibration.calibration import CALIBRATION_NOTICES, calibration_answer
from api.answers.grip.grip import GRIPPING, grip_answer
from api.answers.machines.choice import check_site, machine_choice_answer
from api.answers.machines.delivered_torque import DELIVERED_NOTICES, delivered_torque_answer
from api.answers.machines.preload_pressure import TENSIONING, preload_pressure_answer
from api.answers.machines.pressure import check_machine, pressure_answer
from api.answers.machines.stroke import STROKE_NOTICES, stroke_answer
from api.answers.standing_notices import COMPUTED, PROVE_LIMIT, WORKING_VALUES
from api.registry.calculation import Calculation, for_family, requests_for
from api.registry.examples import EXAMPLE_CALIBRATION, EXAMPLE_PROFILE, EXAMPLE_TENSIONER
from api.registry.families import FAMILY
from schemas.calibration.answer import CalibrationAnswer
from schemas.calibration.request import CalibrationRequest
from schemas.grip.grip import GripAnswer, GripRequest
from schemas.machines.answer import DeliveredTorqueAnswer, PressureAnswer
from schemas.machines.choice import MachineChoiceAnswer
from schemas.machines.preload_pressure import PreloadPressureAnswer, PreloadRequest
from schemas.machines.request import MachineJob, Reading, SiteJob
from schemas.machines.stroke import StrokeAnswer, StrokeRequest

_ROTARY = FAMILY["rotary_shouldered"]
_JOB = {"operation": "make_up", "thread_hand": "right", "arm_position": "square"}

MACHINE_CALCULATIONS = (
    Calculation(
        name="pressure",
        title="What to set on the gauge for a joint on a machine",
        description="Gives the mark nearest the target whose torque lies within the window, the "
        "cylinder side, and every check of the machine. If the machine cannot do the "
        "joint, the refusal has all reasons.",
        requests=requests_for(FAMILY, MachineJob, "Pressure"),
        compute=for_family(FAMILY, pressure_answer, check_machine),
        response=PressureAnswer(),
        notices=(WORKING_VALUES, PROVE_LIMIT, COMPUTED),
        example={"family": _ROTARY.key, **_ROTARY.example, "machine": EXAMPLE_PROFILE, **_JOB},
        query_example={"family": _ROTARY.key, **_ROTARY.example, "machine": "south-bay-9", **_JOB},
    ),
    Calculation(
        name="delivered-torque",
        title="Torque behind a gauge reading",
        description="Gives the torque that a machine delivers at a reading, at nominal efficiency, "
        "with its worst case. This is the inverse of /v1/pressure.",
        requests={"": Reading()},
        compute=delivered_torque_answer,
        response=DeliveredTorqueAnswer(),
        notices=DELIVERED_NOTICES,
        example={"machine": EXAMPLE_PROFILE, "gauge_reading": "640 psi", **_JOB},
        query_example={"machine": "south-bay-9", "gauge_reading": "860 psi", **_JOB},
    ),
    Calculation(
        name="machine-choice",
        title="Which machines can do a joint, and why the others cannot",
        description="Compares one joint with every machine of a site. Machines that can do it have "
        "their setting and bounds, fit machines first and then the surest. The others have every reason.",
        requests=requests_for(FAMILY, SiteJob, "Choice"),
        compute=for_family(FAMILY, machine_choice_answer, check_site),
        response=MachineChoiceAnswer(),
        notices=(WORKING_VALUES, PROVE_LIMIT, COMPUTED),
        example={"family": _ROTARY.key, **_ROTARY.example, **_JOB, "as_of": "2026-11-24"},
        needs_machines=True,
    ),
    Calculation(
        name="stroke",
        title="What one stroke of a machine does: rotation, torque from end to end, strokes for a rotation",
        description="Uses the triangle of pipe centre, arm pin and base pin. Gives the rotation of a "
        "stroke or the part in use, and the torque factor h/a at its ends and extremes "
        "with its mean over the angle. Gives also the strokes for a rotation or an axial "
        "travel. It needs a machine whose cylinder and base are known.",
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
        name="grip",
        title="Whether a grip holds a torque: squeeze, chain, links, grip cylinder",
        description="Gives the squeeze N = m T / (mu r) that jaws need, and the result of each "
        "described part: jaws, chain (capstan), links of the chain, grip cylinder. "
        "Dialset never assumes friction or margin. A part that is not described is null "
        "with its reason. A part that would be overloaded is a refusal. Describe the "
        "parts in the profile of the machine or in the body.",
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
        name="preload-pressure",
        title="What to set on the gauge of a stud tensioner for a preload",
        description="Gives the pressure p = F LTF / A and the mark nearest the preload wanted, within "
        "its window. The answer has the load and the stress of the stud under the tool, "
        "and every check of tensioner and stud. Dialset never assumes the load-loss "
        "factor. If it cannot be done, the refusal has all reasons.",
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
        name="calibration",
        title="What a calibration says of a machine, and the profile it makes",
        description="Gives lines of torque over pressure with and without offset, and which to use. "
        "Compares figures level by level with class limits as a yardstick, and efficiency "
        "with geometry, with the likely mistake. Makes a profile of kind calibrated. Each "
        "side and gauge is on its own.",
        requests={"": CalibrationRequest()},
        compute=calibration_answer,
        response=CalibrationAnswer(),
        notices=CALIBRATION_NOTICES,
        example=EXAMPLE_CALIBRATION,
        body_only=True,
    ),
)
