"""What the force across a pipe does to the joint between the two grips."""


def bending_at_joint(side_load: float, grip_spacing: float) -> float:
    """Largest bending moment across a joint between two grips: ``M = F s``, N.m (statics).

    The driven grip pushes the pipe sideways, the backup holds it at a distance: the moment grows from
    nothing at the driven grip to ``F s`` at the backup. The joint lies between them, so that it has no more.

    Args:
        side_load: F, force across the pipe, N, >= 0.
        grip_spacing: s, along the pipe from the middle of one grip to that of the other, m, >= 0.

    14,505 lbf at 30 in, in ft-lb:

    >>> bending_at_joint(14_505, 30 / 12)
    36262.5
    """
    return side_load * grip_spacing


def gravity_moment(weight: float, centre_of_mass: float) -> float:
    """Largest moment of the weight of an arm about the pipe: ``M = W r``, N.m (statics).

    With the pipe level and the arm level beside it; at any other angle it is less, and it turns the joint one
    way or the other.

    Args:
        weight: W, of all that swings with the arm, N, >= 0.
        centre_of_mass: r, from the centre of the pipe, m, >= 0.

    300 lbf at 18 in, in ft-lb:

    >>> gravity_moment(300, 18 / 12)
    450.0
    """
    return weight * centre_of_mass
