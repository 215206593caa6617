"""Steps of working that several kinds of machine share."""

from api.engineering.working import Step

TORQUE_WANTED = Step(
    "T", "torque wanted", "target, or break-out ratio times target", "job.torque", "torque", "statics"
)
PRESSURE_READ = Step("p", "pressure read", "as given", "job.reading", "pressure", "statics")
EFFICIENCY = Step(
    "e", "nominal efficiency", "from the profile", "machine.efficiency.nominal", "number", "profile"
)
ARM_RADIUS = Step("a", "arm radius", "from the profile", "machine.arm_radius", "length", "profile")
OFF_SQUARE_ARM = Step(
    "h", "moment arm", "square, and the largest there is: a", "at.moment_arm", "length", "statics"
)
FORCE = Step("F", "force at the arm pin", "T / h", "job.force", "force", "statics")
LOST_PRESSURES = (
    Step(
        "p_breakaway",
        "breakaway pressure",
        "from the profile",
        "machine.breakaway_pressure",
        "pressure",
        "profile",
    ),
    Step("p_return", "return pressure", "from the profile", "machine.return_pressure", "pressure", "profile"),
)
PISTON_AREAS = (
    Step(
        "A",
        "area of the driven side",
        "cap: pi/4 D^2; rod: pi/4 (D^2 - d^2)",
        "at.driven_area",
        "area",
        "statics",
    ),
    Step("A'", "area of the returning side", "the other of the two", "at.returning_area", "area", "statics"),
)
PISTON_TO_READING = (
    FORCE,
    Step("p", "pressure", "p_breakaway + (F/e + A' p_return) / A", "job.reading", "pressure", "statics"),
)
PISTON_TO_TORQUE = (
    Step(
        "F", "force at the arm pin", "e (A (p - p_breakaway) - A' p_return)", "job.force", "force", "statics"
    ),
    Step("T", "torque", "F h", "job.torque", "torque", "statics"),
)
