"""What every open question is expected to tell about the responsible root condition.

The expected gain of a question is the mutual information, in bits, between its answer and the
root condition of the responsible account, given all that was found.

References
----------
D. V. Lindley, "On a measure of the information provided by an experiment", Ann. Math. Statist.
27 (1956) 986-1005 (from memory).

"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from diagnose.engine.cliquetree import Floats, Ints
from diagnose.engine.model import Model
from diagnose.engine.outlook import Outlook
from diagnose.engine.posterior import Evidence, posterior

LOG_2 = float(np.log(2.0))


def information(joint: Floats, starts: Sequence[int]) -> Floats:
    """Return the mutual information in bits for each of several tables stacked on one another.

    ``joint``: rows are answers, columns root conditions; rows ``starts[i]`` up to the next start
    are the answers of question i and add up to one.

    >>> information(np.array([[0.5, 0.0], [0.0, 0.5]]), [0]).tolist()
    [1.0]
    """
    answers = joint.sum(axis=1)
    roots = joint[: starts[1] if len(starts) > 1 else len(joint)].sum(axis=0)
    gain = np.add.reduceat(_entropy_terms(answers) - _entropy_terms(joint).sum(axis=1), starts)
    return np.asarray(gain + _entropy_terms(roots).sum())


def _entropy_terms(p: Floats) -> Floats:
    """Return -p log2 p, and 0 where p is 0."""
    terms = np.maximum(p, np.finfo(np.float64).tiny)
    np.log(terms, out=terms)
    terms *= p
    terms /= -LOG_2
    return np.asarray(terms)


@dataclass(frozen=True, slots=True)
class Grouping:
    """Some way to sort the accounts. ``of_account``: the group of each, out of ``groups``."""

    of_account: Ints
    groups: int


def look_tables(
    model: Model, probabilities: Floats, looks: Sequence[int], by: Grouping | None = None
) -> list[Floats]:
    """Return P(answer, root condition) for each of ``looks``: (answers, roots).

    ``by``: other groups of accounts than those of one root condition.
    """
    by = by or Grouping(model.root_of_account, len(model.root_number))
    return [model.looks[look].shares(probabilities, by.of_account, by.groups) for look in looks]


def finding_tables(
    model: Model,
    evidence: Evidence,
    probabilities: Floats,
    outcomes: Mapping[int, Floats],
    by: Grouping | None = None,
) -> list[Floats]:
    """Return P(what it shows, root condition) for each open finding: (outcomes, roots).

    ``outcomes``: finding -> weights (outcomes, 4) over its basis, one row for each thing it may
    show; the rows of one finding add up to (1, 0, 0, 0). ``by``: as of ``look_tables``.
    """
    cells = model.cells if by is None else model.cells_of(by.of_account)
    places, roots = model.forest.places, len(model.root_number) if by is None else by.groups
    mass = np.bincount(cells.of_account, probabilities, len(cells.pattern))
    tables: dict[int, Floats] = {}
    for tree, expected in Outlook(model, evidence).by_tree(outcomes).items():
        cell = places[tree].pattern_of.take(cells.pattern) * roots + cells.root
        weight: Floats = np.bincount(cell, mass, places[tree].rows * roots).astype(np.float64)
        chances = np.concatenate([outcomes[i] @ basis for i, basis in expected.items()])
        joint = chances @ weight.reshape(-1, roots)
        np.maximum(joint, 0.0, out=joint)
        end = 0
        for finding in expected:
            begin, end = end, end + len(outcomes[finding])
            tables[finding] = joint[begin:end]
    return [tables[i] for i in outcomes]


def rank(
    model: Model, evidence: Evidence, looks: Sequence[int], outcomes: Mapping[int, Floats]
) -> Floats:
    """Return the expected gains in bits of all open ``looks``, then of all open findings."""
    probabilities = posterior(model, evidence)
    tables = [
        *look_tables(model, probabilities, looks),
        *finding_tables(model, evidence, probabilities, outcomes),
    ]
    starts = np.cumsum([0, *(len(table) for table in tables[:-1])])
    return information(np.concatenate(tables), starts.tolist())
