"""The chance that an account's needs were there, against enumeration."""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.engine.needs import chance_of_needs
from tests.engine.enumeration import chance_of_state
from tests.engine.small_networks import Case, cases


def by_enumeration(case: Case, path: tuple[int, ...], needs: tuple[int, ...]) -> float:
    return sum(
        chance_of_state(case.network, case.figures, path, state)
        for state in product((0, 1), repeat=case.network.conditions)
        if all(state[c] for c in needs)
    )


@settings(max_examples=50, deadline=None)
@given(data=st.data(), case=cases(most=7))
def test_needs_given_the_path(data: st.DataObject, case: Case) -> None:
    paths = case.network.sets[:-1]
    some = st.lists(st.integers(0, case.network.conditions - 1), max_size=3, unique=True)
    needs = [tuple(data.draw(some)) for _ in paths]
    got = chance_of_needs(case.network, case.figures, paths, needs)
    want = [by_enumeration(case, path, wanted) for path, wanted in zip(paths, needs, strict=True)]
    assert got == pytest.approx(want, abs=1e-9)


@settings(max_examples=10, deadline=None)
@given(case=cases(most=5))
def test_no_needs_are_always_there(case: Case) -> None:
    paths = case.network.sets[:-1]
    got = chance_of_needs(case.network, case.figures, paths, [()] * len(paths))
    assert (got == 1.0).all()
