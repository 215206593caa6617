"""An uncertainty budget as answers show it."""

from typing import Any

from api.engineering.checks import Amount
from api.engineering.uncertainty.combined import COVERAGE_FACTOR, Budget, Term


def budget_shown(budget: Budget) -> dict[str, Any]:
    """The budget term by term, and what is not in it."""
    return {
        "best_estimate": budget.estimate,
        "expanded": budget.expanded_amount,
        "expanded_share": budget.expanded,
        "coverage_factor": COVERAGE_FACTOR,
        "combined_share": budget.combined,
        "terms": [_term_shown(term) for term in budget.terms],
        "left_out": [{"name": each.name, "reason": each.reason} for each in budget.left_out],
    }


def _term_shown(term: Term) -> dict[str, Any]:
    return {
        "name": term.name,
        "half_width": Amount(term.kind, term.half_width),
        "distribution": term.distribution,
        "standard_uncertainty_share": term.contribution,
        "shift_share": term.shift,
    }
