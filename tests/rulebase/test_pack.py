from __future__ import annotations

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.rulebase.book import Condition, Link, Scope
from diagnose.rulebase.pack import pack, unpack

words = st.text(max_size=5)
figures = words | st.floats(0, 1)
scopes = st.builds(
    Scope,
    metal=st.lists(words, max_size=2).map(tuple),
    section=st.none() | st.tuples(st.none() | st.floats(0, 9), st.none() | st.floats(0, 9)),
)
links = st.builds(
    Link,
    to=words,
    strength=figures,
    because=words,
    source=st.just(("a",)),
    scope=st.none() | scopes,
)
conditions = st.builds(
    Condition,
    name=words,
    area=words,
    source=st.lists(words, max_size=2).map(tuple),
    how=words,
    base_rate=st.none() | figures,
    leads_to=st.lists(links, max_size=2).map(tuple),
    shows=st.dictionaries(words, st.dictionaries(words, figures, max_size=2), max_size=2),
    scope=st.none() | scopes,
)


@settings(max_examples=100, deadline=None)
@given(conditions)
def test_there_and_back_through_json(condition: Condition) -> None:
    assert unpack(Condition, json.loads(json.dumps(pack(condition)))) == condition


@pytest.mark.parametrize("data", [None, 3, "text", [], [1, 2], {"name": 1}])
def test_data_that_do_not_fit(data: object) -> None:
    with pytest.raises((ValueError, TypeError, LookupError)):
        unpack(Condition, data)
