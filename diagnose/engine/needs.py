"""The chance that what an account needs besides its own path was there as well."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from diagnose.engine.cliquetree import Floats
from diagnose.engine.model import Model
from diagnose.engine.network import Figures, Finding, Network
from diagnose.engine.posterior import Evidence, log_findings

SURELY_PRESENT = (1.0, -1.0, 0.0, 0.0)


def chance_of_needs(
    network: Network,
    figures: Figures,
    paths: Sequence[tuple[int, ...]],
    needs: Sequence[tuple[int, ...]],
) -> Floats:
    """Return P(all that the account needs is present | its path is set), for each account."""
    chances = np.ones(len(paths))
    needed = sorted({condition for some in needs for condition in some})
    if not needed:
        return chances
    looking = replace(
        network,
        findings=tuple(Finding((condition,)) for condition in needed),
        sets=(*paths, ()),
        root=np.full(len(paths) + 1, -1, dtype=np.intp),
        defect=np.full(len(paths) + 1, -1, dtype=np.intp),
    )
    sure = tuple(np.ones(1) for _ in needed)
    none = tuple(np.zeros(0) for _ in needed)
    model = Model(looking, replace(figures, low=sure, high=none), np.zeros(len(paths) + 1), [])
    for some in set(needs) - {()}:
        evidence = Evidence({}, {needed.index(condition): SURELY_PRESENT for condition in some})
        logs = log_findings(model, evidence).take(model.pattern_of_account)
        mine = [r for r, wanted in enumerate(needs) if wanted == some]
        chances[mine] = np.exp(logs[mine])
    return chances
