"""A hydraulic tensioner: it stretches a stud and leaves a preload, not a torque."""

from dataclasses import dataclass

from api.engineering.checks import Check, Verdict, at_most

LARGEST_SHARE_OF_YIELD = 0.95
"""Of the yield of a stud that is used under the tool (trade guidance; no standard says so)."""


@dataclass(frozen=True)
class StudTensioner:
    """A tensioner on its stud, SI. No torsion comes into the stud.

    Attributes:
        effective_area: of all its pistons, from the maker, m2.
        load_loss_factor: load under the tool over the preload left once the nut has taken it, >= 1. It
            depends on the length of the stud between its nuts; there is no value that is right for all, so
            it is that of the maker for this stud, or measured.
    """

    effective_area: float
    load_loss_factor: float

    def tool_load(self, pressure: float) -> float:
        """``F = p A``: what the stud carries while the tool is under pressure, N from Pa.

        >>> StudTensioner(5.5, 1.25).tool_load(15_000.0)
        82500.0
        """
        return pressure * self.effective_area

    def preload_from_pressure(self, pressure: float) -> float:
        """``F = p A / load_loss_factor``: what is left when the tool is let off, N from Pa.

        >>> StudTensioner(5.5, 1.25).preload_from_pressure(15_000.0)
        66000.0
        """
        return self.tool_load(pressure) / self.load_loss_factor

    def pressure_from_preload(self, preload: float) -> float:
        """The inverse of `preload_from_pressure`, Pa from N.

        >>> StudTensioner(5.5, 1.25).pressure_from_preload(66_000.0)
        15000.0
        """
        return preload * self.load_loss_factor / self.effective_area

    def stud_stress(self, pressure: float, tensile_area: float) -> float:
        """``F / At``: stress of the stud while the tool is under pressure, Pa from Pa and m2.

        >>> StudTensioner(5.5, 1.25).stud_stress(15_000.0, 1.25)
        66000.0
        """
        return self.tool_load(pressure) / tensile_area

    def stud_stress_check(
        self,
        pressure: float,
        tensile_area: float,
        yield_strength: float,
        name: str = "stud_stress",
        where: str = "under the tool",
        bad: Verdict = "fail",
    ) -> Check:
        """Whether the stud bears the tool: ``F / At`` against 95 % of yield, which itself passes.

        Args:
            pressure: gauge pressure at the tool, Pa.
            tensile_area: At, tensile stress area of the thread of the stud, m2, > 0.
            yield_strength: least yield strength of the stud, Pa.
            name, where: of the check, and at which pressure that is, in words.
            bad: the verdict where it does not bear it.
        """
        return at_most(
            name=name,
            code="stud_overstressed" if bad == "fail" else "",
            text=f"stress of the stud {where} {{value}} against 95 % of its yield (trade guidance) {{limit}}",
            kind="stress",
            value=self.stud_stress(pressure, tensile_area),
            limit=LARGEST_SHARE_OF_YIELD * yield_strength,
            bad=bad,
        )
