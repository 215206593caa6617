"""Working steps as data: rendered only when asked for."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Step:
    """One line of working.

    Attributes:
        symbol: as in the source.
        name: what it is.
        equation: how it comes from the lines above.
        attribute: where its SI value stands among the objects of the computation, such as ``make_up.Ap``.
        kind: kind of quantity, or ``number``.
        source: where the equation stands.
    """

    symbol: str
    name: str
    equation: str
    attribute: str
    kind: str
    source: str
