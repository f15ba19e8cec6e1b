"""What the book says of rejects before anything is known of them."""

from __future__ import annotations

import math

from diagnose.reasoning.setup import Desk


def shares_of_causes(desk: Desk) -> dict[str, dict[str, float]]:
    """Return defect -> root condition -> its share of all rejects, the largest first.

    The shares of everything, with what is left for "none of these", add up to one.
    """
    found: dict[str, dict[str, float]] = {}
    for account, log_share in zip(desk.accounts, desk.model.log_prior, strict=False):
        causes = found.setdefault(account.defect, {})
        causes[account.root] = causes.get(account.root, 0.0) + math.exp(log_share)
    ordered = sorted(found.items(), key=lambda pair: -sum(pair[1].values()))
    return {
        defect: dict(sorted(causes.items(), key=lambda pair: -pair[1]))
        for defect, causes in ordered
    }
