"""The strength of a round-thread joint as it is published, which is not what its torque goes by."""

from dataclasses import dataclass

from api.answers.round_thread_request import Joint
from api.engineering.provenance import Source
from api.engineering.round_thread import RoundThreadMakeUp, yield_strength_of_section

TUBING_STRENGTH = Source(
    "strength of a tubing joint, a yield strength", "reprint", "API Bul 5C3 cl. 4.4 (ISO/TR 10400)"
)


@dataclass(frozen=True)
class Strength:
    """The joint strength as it is published, N, what governs it, or why there is none."""

    force: float | None
    governing_mode: str | None
    reason: str
    source: Source | None = None


def joint_strength(joint: Joint, made_up: RoundThreadMakeUp) -> Strength:
    """The strength of the joint as published, which is not what its torque goes by."""
    thread, tubular = joint.thread, joint.tubular
    if tubular is None:
        text = (
            "for casing the lesser of fracture and pull-out, for tubing a yield strength: which is not said"
        )
        return Strength(None, None, text)
    match tubular.thread_type:
        case "NUE":
            force = yield_strength_of_section(thread.D - 2 * thread.h, thread.d, thread.Yp)
            return Strength(force, "yield", "tubing: yield under the last perfect thread", TUBING_STRENGTH)
        case "EUE":
            force = yield_strength_of_section(tubular.outside_diameter, thread.d, thread.Yp)
            text = "tubing: yield of the pipe body, the upset being stronger"
            return Strength(force, "yield", text, TUBING_STRENGTH)
        case "IJ":
            text = "tubing: yield of the weaker of pin and box, and the box is not held here"
            return Strength(None, None, text)
    mode = "fracture" if made_up.fracture < made_up.pull_out else "pull_out"
    text = "casing: the lesser of fracture and pull-out"
    return Strength(min(made_up.fracture, made_up.pull_out), mode, text)
