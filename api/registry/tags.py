"""The subjects of the document, in the order of the work: each operation belongs to one."""

from typing import NamedTuple


class Tag(NamedTuple):
    """A subject: its name, and a sentence on what is asked there."""

    name: str
    text: str


SET_THE_MACHINE = Tag(
    "Set the machine",
    "From a joint to the mark on the gauge, and back from a reading to the torque: begin here.",
)
THE_JOINT = Tag("The joint", "Torque and preload of a joint, whatever machine makes it up.")
POSITION = Tag(
    "Position instead of torque",
    "Joints that are made up to a position, since no torque is published for them.",
)
THE_MACHINE = Tag(
    "The machine",
    "What one machine does at each mark, in a stroke and with its grip; what measuring it says.",
)
FLANGES = Tag("Flanges", "In which order, and in how many passes, the bolts of a flange are tightened.")
LOOK_UP = Tag(
    "Look up", "Connections, pipe, bolts, machines, tables, units, sources and codes, as they are held."
)
RUN_THE_SERVICE = Tag(
    "Run the service", "Whether it is up and right, and whether a file can be put into service."
)

TAGS = (SET_THE_MACHINE, THE_JOINT, POSITION, THE_MACHINE, FLANGES, LOOK_UP, RUN_THE_SERVICE)
