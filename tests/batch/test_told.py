"""What is said of a batch: the figures of its parts, in words, for every reader alike."""

from __future__ import annotations

from dataclasses import replace

import pytest

from diagnose.basics.layout import plain_text
from diagnose.batch import told
from diagnose.batch.limits import cannot_say, meaning
from diagnose.batch.report import as_data
from tests.batch.example import BARE, BATCH, CORE, EMPTY, MISRUN, SAND


def test_the_headline_says_how_much_of_what_since_when_and_why() -> None:
    assert told.headline(BATCH) == [
        "434 castings scrapped of 8341 poured, 5.2 % (4.7 to 5.8 %), 5 January to 31 March 2026.",
        "The first 3 faults are 84 % of it.",
        "Blow from core gas rose from 1.2 % to 3.4 % in a step between 11 and 20 February 2026.",
        "It concentrates: blow from core gas at core maker C (3.4 times), blow from core gas at "
        "plate P-114 and core maker C (3.1 times), misrun at ladle order last third (3.6 times).",
        "Likeliest cause at work: core not baked or cured through (83 %); it explains 31 % of the "
        "scrap.",
    ]
    assert told.headline(BARE) == ["21 castings scrapped; how many were poured is not known."]
    assert told.headline(EMPTY)[0].startswith("0 castings scrapped")


def test_a_fault_has_its_trend_places_readings_and_causes() -> None:
    text = plain_text([told.about_fault(BATCH, BATCH.pareto[0])], 200)
    for part in (
        "199 castings, 46 % of the scrap (41 to 51 %).",
        "1393 kg, cost 5970.",
        "Trend: step between 11 and 20 February 2026",
        "Where: core maker C, 3.4 times (2.5 to 4.7) as often",
        "odds 1.6 times for 0.1 %",
        "Cause: core not baked or cured through, 83 %",
    ):
        assert part in text


def test_only_what_is_more_than_chance_is_called_so() -> None:
    assert [one.level for one in told.telling(BATCH, CORE)] == ["C", "P-114 and C"]
    assert told.telling(BATCH, SAND) == []
    chance = plain_text([told.about_place(BATCH.concentration[3])], 200)
    assert "May well be chance (q 0.61" in chance
    explained = replace(BATCH.concentration[1], explained_by="core maker C")
    batch = replace(BATCH, concentration=(*BATCH.concentration[:1], explained))
    assert [one.level for one in told.telling(batch, CORE)] == ["C"]
    assert "Nothing is left of it once core maker C" in plain_text(
        [told.about_place(explained)], 200
    )
    assert [one.id for one in told.causes_of(BATCH, MISRUN)] == ["waited-too-long"]


def test_what_cannot_be_said_follows_from_what_is_lacking() -> None:
    bare = " ".join(cannot_say(BARE))
    assert "not rates" in bare
    assert "no dates" in bare
    full = " ".join(cannot_say(BATCH))
    assert "not rates" not in full
    assert "does not prove" in full
    assert "core shift and slag inclusion" in full
    assert "Rejects whose word is not known" in full
    assert any("Laney" in text for text in meaning(BATCH))
    assert not any("Laney" in text for text in meaning(BARE))


@pytest.mark.parametrize("batch", [BATCH, BARE, EMPTY])
def test_rows_add_up_wherever_they_are_told(batch: object) -> None:
    data = as_data(batch)  # type: ignore[arg-type]
    rows = data["rows"]
    assert rows["read"] == rows["used"] + rows["set_aside"]
    assert len(data["set_aside"]) == rows["set_aside"]


def test_the_data_have_the_keys_that_were_promised() -> None:
    data = as_data(BATCH)
    promised = {
        "pareto": {"defect", "count", "share", "weight", "cost"},
        "signals": {"chart", "at", "rule"},
        "changes": {"defect", "between", "before", "after", "p"},
        "concentration": {
            "factor", "level", "defect", "rate", "rate_elsewhere", "ratio", "low", "high", "p", "q",
        },
        "readings": {"quantity", "defect", "odds_ratio", "low", "high", "lag", "q"},
        "causes": {"id", "name", "area", "probability"},
    }  # fmt: skip
    for key, fields in promised.items():
        assert fields <= data[key][0].keys(), key
    assert data["changes"][0]["between"] == ["2026-02-11", "2026-02-20"]
    assert {"unknown_words", "warnings"} <= data.keys()


def test_data_beyond_all_numbers_are_none() -> None:
    endless = replace(BATCH.concentration[0], high=float("inf"))
    data = as_data(replace(BATCH, concentration=(endless,)))
    assert data["concentration"][0]["high"] is None
