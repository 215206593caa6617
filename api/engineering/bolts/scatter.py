"""How far preloads scatter about the one aimed at: plus and minus a share, or the tightening factor of VDI.

``alpha_A = F_max / F_min`` (VDI 2230) and plus and minus a share g about the mean (NASA) say the same:
``g = (alpha_A - 1) / (alpha_A + 1)``. Relaxation and thermal change are not in it.
"""


def plus_minus_from_tightening_factor(alpha_A: float) -> float:
    """Share by which preloads lie above or below their mean, alpha_A >= 1.

    Printed beside alpha_A = 1.4: plus and minus 17 % (VDI 2230:1986):

    >>> round(plus_minus_from_tightening_factor(1.4), 2)
    0.17
    """
    return (alpha_A - 1) / (alpha_A + 1)


def tightening_factor_from_plus_minus(g: float) -> float:
    """alpha_A of preloads within a share g, 0 <= g < 1, of their mean: ``(1 + g) / (1 - g)``.

    >>> round(tightening_factor_from_plus_minus(0.25), 2)
    1.67
    """
    return (1 + g) / (1 - g)


def preload_bounds(F: float, g: float) -> tuple[float, float]:
    """Lowest and highest preload N about a mean F: ``(1 - g) F`` and ``(1 + g) F`` (NASA)."""
    return (1 - g) * F, (1 + g) * F


def lowest_preload(F_max: float, alpha_A: float) -> float:
    """Lowest preload N where F_max is the highest: ``F_min = F_max / alpha_A`` (VDI 2230).

    M12 8.8 at 41.9 kN with alpha_A = 1.8 is printed as 23.3 kN:

    >>> round(lowest_preload(41.9, 1.8), 1)
    23.3
    """
    return F_max / alpha_A
