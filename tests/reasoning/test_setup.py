"""A desk that comes out of kept arrays is the one that was worked out."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from diagnose.basics.arrayfile import from_bytes, to_bytes
from diagnose.engine.ask import rank
from diagnose.engine.frame import framed
from diagnose.engine.model import Model
from diagnose.engine.posterior import Evidence, posterior
from diagnose.reasoning.layout import desk_arrays
from diagnose.reasoning.setup import DESK_LIKE, Desk, desk_from
from diagnose.rulebase.graph import accounts
from diagnose.rulebase.job import Job
from diagnose.rulebase.load import load

JOB = Job("grey iron", "green sand", 8.0)


@cache
def kept() -> dict[str, np.ndarray]:
    return from_bytes(to_bytes(desk_arrays(load(), JOB)))


@cache
def desk() -> Desk:
    return desk_from(load(), JOB, kept())


def evidence(here: Desk, seed: int) -> Evidence:
    draw = np.random.default_rng(seed)
    looks = draw.choice(len(here.looks), 6, replace=False)
    found = draw.choice(len(here.findings), 6, replace=False)
    names = list(here.findings)
    return Evidence(
        {int(k): (int(draw.integers(here.model.looks[k].answers)),) for k in looks},
        {int(i): tuple(here.outcomes(names[i])[0].tolist()) for i in found},
    )


def test_the_accounts_are_those_of_the_book() -> None:
    """Every one, path by path and link by link, in the order of the walk through the graph."""
    ours = desk().accounts
    assert list(ours) == accounts(load(), JOB)
    assert ours[3:5] == [ours[3], ours[4]]


@pytest.mark.parametrize("seed", range(3))
def test_a_kept_desk_weighs_and_ranks_as_one_laid_out_anew(seed: int) -> None:
    here, model = desk(), desk().model
    anew = Model(model.network, model.figures, model.log_prior, model.looks)
    some = evidence(here, seed)
    np.testing.assert_array_equal(posterior(model, some), posterior(anew, some))
    outcomes = {i: here.outcomes(name) for name, i in here.findings.items()}
    ours, theirs = (rank(one, some, range(len(model.looks)), outcomes) for one in (model, anew))
    np.testing.assert_allclose(ours, theirs, rtol=0, atol=1e-12)


def test_the_network_comes_back_whole() -> None:
    frame, network = desk().model.frame, desk().model.network
    anew = framed(network, desk().model.figures)
    assert frame.ancestors == anew.ancestors
    assert len(frame.seats) == len(desk().findings) == len(network.findings)
    cliques = [[place.clique for place in one.forest.places] for one in (frame, anew)]
    assert cliques[0] == cliques[1]
    assert frame.forest.home == anew.forest.home


@pytest.mark.parametrize("name", sorted(DESK_LIKE))
def test_arrays_of_a_wrong_shape_are_refused(name: str) -> None:
    """One row less, another kind of number, or not there at all."""
    rest = {other: array for other, array in kept().items() if other != name}
    for some in (
        rest,
        {**rest, name: kept()[name].astype(complex)},
        *([] if name == "draws" else [{**rest, name: kept()[name][:-1]}]),  # of draws any number
    ):
        with pytest.raises((ValueError, LookupError)):
            desk_from(load(), JOB, some)
