"""What castings of one heat have in common: how much more a rate differs than by chance.

Castings of one heat share its iron, its temperature and its ladle, so ten bad ones of one heat
say less than ten bad ones of ten heats. The model: every heat multiplies the rate of a fault by
its own factor of mean 1 and variance ``between``.
"""

from __future__ import annotations

import numpy as np

from diagnose.batch.statistics.cells import Cells, Floats, compact, counted, grouped


def expected(cells: Cells) -> Floats:
    """Return the bad castings of each row that its pattern's own rate leads one to expect."""
    stratum = compact(cells.stratum)
    groups = int(stratum.max(initial=0)) + 1
    poured = counted(stratum, groups, cells.poured)
    rate = grouped(stratum, groups, cells.bad) / np.maximum(poured, 1e-12)[:, None]
    return cells.poured[:, None] * rate[stratum]


def between_heats(cells: Cells) -> Floats:
    """Return for every fault the variance of the heats' factors; 0 where it is chance alone.

    By moments: what the squares of (found less expected) of the heats exceed chance by. Effects
    of plates and makers count as spread here, so that the tests err on the quiet side.
    """
    means = expected(cells)
    heat = compact(cells.heat)
    heats = int(heat.max(initial=0)) + 1
    rate = means / np.maximum(cells.poured, 1e-12)[:, None]
    off = grouped(heat, heats, cells.bad - means)
    mean = grouped(heat, heats, means)
    chance = grouped(heat, heats, means * (1 - rate))
    known = mean > 1e-9
    safe = np.where(known, mean, 1.0)
    excess = np.where(known, (off**2 - chance) / safe, 0.0).sum(axis=0)
    found: Floats = np.maximum(0.0, excess / np.maximum(mean.sum(axis=0), 1e-12))
    return found


def spread(cells: Cells) -> Floats:
    """Return for every fault the variance between heats over that of chance, 1 at least."""
    means = expected(cells)
    heat = compact(cells.heat)
    size = grouped(heat, int(heat.max(initial=0)) + 1, means)
    typical = (size**2).sum(axis=0) / np.maximum(size.sum(axis=0), 1e-12)
    wider: Floats = 1.0 + between_heats(cells) * typical
    return wider
