"""A tightened bolt under an external load that pulls the joint apart: elastic, along its axis. SI."""


def bolt_load_share(bolt_stiffness: float, member_stiffness: float) -> float:
    """``C = kb / (kb + km)``: share of the external load that the bolt takes, 0 to 1.

    Args:
        bolt_stiffness: kb, in any unit, > 0.
        member_stiffness: km, of the parts clamped, in the same unit, > 0.

    Source: Shigley, Mechanical Engineering Design, 8-7, as the stiffness constant of the joint. M12 of the
    worked solutions, 744 and 2158 MN/m:

    >>> round(bolt_load_share(744.0, 2158.0), 3)
    0.256
    """
    return bolt_stiffness / (bolt_stiffness + member_stiffness)


def bolt_force(preload: float, load: float, C: float) -> float:
    """``Fb = Fi + C P`` while the joint is closed; all of the load once it is open. N.

    Args:
        preload: Fi, N, > 0.
        load: P, external load on this bolt, N, > 0.
        C: share of the load that the bolt takes, 0 to 1.

    Source: Shigley, Mechanical Engineering Design, 8-7. Example 8-3: 25 kip, 6 kip, 0.32:

    >>> bolt_force(25.0, 6.0, 0.32)
    26.92
    """
    return preload + C * load if safety_margin_to_separation(preload, load, C) > 1 else load


def safety_margin_to_proof(proof_load: float, preload: float, load: float, C: float) -> float:
    """``n = (Sp At - Fi) / (C P)``: by how much the load may grow before the bolt reaches its proof load.

    Where the joint opens before that, the bolt takes all of the load, and reaches it at ``Sp At / P``. The
    source calls it the load factor, a name that VDI 2230 gives to the share of the load that the bolt takes.

    Args:
        proof_load: Sp At, N; above the preload.
        preload: Fi, N, > 0.
        load: P, N, > 0.
        C: share of the load that the bolt takes, 0 to 1.

    Source: Shigley, Mechanical Engineering Design, 8-9, for the closed joint.

    >>> round(safety_margin_to_proof(600 * 0.0843, 37.9, 8.48, 0.256), 2)
    5.84
    """
    return min((proof_load - preload) / (C * load), proof_load / load)


def safety_margin_to_separation(preload: float, load: float, C: float) -> float:
    """``n0 = Fi / ((1 - C) P)``: by how much the load may grow before the joint opens.

    Source: Shigley, Mechanical Engineering Design, 8-9. M30 of the worked solutions:

    >>> round(safety_margin_to_separation(252.45, 80.0, 0.33), 2)
    4.71
    """
    return preload / ((1 - C) * load)
