"""A short run of the fuzzing, seeded: no traceback, no hang, nothing lost."""

from __future__ import annotations

from tests.bench.fuzz import SHARES, fuzz


def test_odd_input_is_refused_in_words_or_taken_down_for_good() -> None:
    tallies = fuzz(200)
    assert tallies.keys() == SHARES.keys()
    assert [told for one in tallies.values() for told in one.failed] == []
    assert all(one.inputs for one in tallies.values())
    assert 0 < tallies["reject"].refused < tallies["reject"].inputs
