"""The engine against pyAgrum and pgmpy on the rule base that is shipped, in full.

Both take the whole network in the compact form of ``encodings.py``. Word for word pyAgrum takes
it too, but the table of a condition with 19 links into it, times all accounts, needs half a
minute and some gigabytes (tried once by hand: they agree to 2e-16). So
``test_all_but_a_few_links_word_for_word`` keeps a few links into each condition, and prints how
many that leaves.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from diagnose.engine.ask import finding_tables
from diagnose.engine.model import Model
from diagnose.engine.posterior import Evidence, posterior
from diagnose.reasoning.evidence import evidence_of
from diagnose.reasoning.setup import Desk
from diagnose.reasoning.taking import measurement_found
from diagnose.reject.reject import Reject
from diagnose.rulebase.job import Job
from tests import shipped
from tests.engine.encodings import plain
from tests.engine.peers import (
    Pgmpy,
    PyAgrum,
    compact_encoding,
    compact_posterior,
    compact_tables,
    plain_posterior,
)

CLOSE = 1e-9
MOST = 7
"""Links into one condition that a table written out in full has room for."""

JOBS = {
    "any job": Job(),
    "thin grey iron in green sand": Job("grey iron", "green sand", 8.0),
    "heavy ductile iron in resin sand": Job("ductile iron", "resin-bonded sand", 60.0),
}


@cache
def desk(job: str) -> Desk:
    return shipped.first().library.desk(JOBS[job])


@cache
def agrum(job: str) -> PyAgrum:
    return PyAgrum(compact_encoding(desk(job).model))


def evidence_for(here: Desk, looks: int, findings: int, seed: int) -> Evidence:
    """Answers drawn without regard to what goes with what: the worst that can be found."""
    draw = np.random.default_rng(seed)
    model = here.model
    asked = draw.choice(len(model.looks), min(looks, len(model.looks)), replace=False)
    found = draw.choice(len(model.seats), min(findings, len(model.seats)), replace=False)
    names = list(here.findings)
    return Evidence(
        {int(k): (int(draw.integers(model.looks[k].answers)),) for k in asked},
        {int(i): tuple(draw.permutation(here.outcomes(names[i]))[0]) for i in found},
    )


def all_bad(here: Desk) -> Evidence:
    """Every check finds the bad answer, every reading lies below its window: of each fifth one.

    With all of them at once the peer's probability of the evidence is less than a double can hold.
    """
    bad = {i: tuple(here.outcomes(name)[0]) for name, i in here.findings.items() if i % 5 == 0}
    return Evidence({}, bad)


@pytest.mark.parametrize("job", JOBS)
@pytest.mark.parametrize("seed", range(3))
def test_random_evidence_against_pyagrum(job: str, seed: int) -> None:
    model = desk(job).model
    for looks, findings in ((2, 3), (8, 7), (13, 12), (0, 25), (40, 40)):
        evidence = evidence_for(desk(job), looks, findings, seed)
        theirs = compact_posterior(agrum(job), model, evidence)
        np.testing.assert_allclose(posterior(model, evidence), theirs, atol=CLOSE)


@pytest.mark.parametrize("job", JOBS)
def test_everything_bad_at_once_against_pyagrum(job: str) -> None:
    """Nothing is further from what the rule base expects: here rounding would show."""
    evidence = all_bad(desk(job))
    theirs = compact_posterior(agrum(job), desk(job).model, evidence)
    np.testing.assert_allclose(posterior(desk(job).model, evidence), theirs, atol=CLOSE)


@pytest.mark.parametrize("job", JOBS)
def test_open_findings_against_pyagrum(job: str) -> None:
    here, model = desk(job), desk(job).model
    evidence = evidence_for(here, 6, 5, 0)
    names = list(here.findings)
    some = {
        i: here.outcomes(names[i]) for i in range(0, len(names), 6) if i not in evidence.findings
    }
    ours = finding_tables(model, evidence, posterior(model, evidence), some)
    for mine, theirs in zip(ours, compact_tables(agrum(job), model, evidence, some), strict=True):
        np.testing.assert_allclose(mine, theirs, atol=CLOSE)


@pytest.mark.parametrize("seed", range(3))
def test_random_evidence_against_pgmpy(seed: int) -> None:
    here = desk("thin grey iron in green sand")
    peer = Pgmpy(compact_encoding(here.model))
    for looks, findings in ((2, 3), (8, 7), (0, 25), (40, 40)):
        evidence = evidence_for(here, looks, findings, seed)
        theirs = compact_posterior(peer, here.model, evidence)
        np.testing.assert_allclose(posterior(here.model, evidence), theirs, atol=CLOSE)


def with_fewer_links(model: Model, most: int) -> Model:
    """Keep at most so many links into each condition, and everything else."""
    network, figures = model.network, model.figures
    links, seen = [], dict.fromkeys(range(network.conditions), 0)
    for i, link in enumerate(network.links):
        seen[link.child] += 1
        if seen[link.child] <= most:
            links.append(i)
    shape = replace(network, links=tuple(network.links[i] for i in links))
    part = replace(figures, strength=figures.strength[links])
    return Model(shape, part, model.log_prior, model.looks)


def test_all_but_a_few_links_word_for_word() -> None:
    """All conditions, accounts, looks and findings; at most so many links into a condition."""
    here = desk("thin grey iron in green sand")
    part = with_fewer_links(here.model, most=MOST)
    looks = [np.exp(look.log_likelihood) for look in part.looks]
    peer = PyAgrum(plain(part.network, part.figures, np.exp(part.log_prior), looks))
    whole = len(here.model.network.links)
    print(f"\nword for word: {len(part.network.links)} of {whole} links")
    bodies = [evidence_for(here, 8, 8, seed) for seed in range(3)]
    for evidence in [*bodies, gauged(here)]:
        np.testing.assert_allclose(
            posterior(part, evidence), plain_posterior(peer, evidence), atol=CLOSE
        )


def gauged(here: Desk) -> Evidence:
    """Readings on the casting, one of them on the edge of two bands, beside one of the sand."""
    found = [
        measurement_found(here.book, name, text)
        for name, text in (
            ("brinell-hardness", "252"), ("joint-step", "1.4 mm"),
            ("casting-bow", "1.6 mm"), ("sand-moisture", "5.6 %"),
        )
    ]  # fmt: skip
    evidence = evidence_of(here, Reject(found=tuple(found)))
    assert len(evidence.graded) == 3
    assert all(0.0 <= min(told) < max(told) <= 1.0 for told in evidence.graded.values())
    return evidence
