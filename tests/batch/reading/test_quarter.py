"""The made-up quarter: the same bytes each time, and what was planted can be read out of it."""

from __future__ import annotations

import numpy as np
import pytest

from diagnose.batch.reading.data import BatchData
from diagnose.batch.reading.read import read_batch
from diagnose.session.library import Library
from tests.batch.quarter import FOLDER, ODD_WORDS, quarter

SHEETS = ("scrap.csv", "poured.csv", "readings.csv")


@pytest.fixture(scope="module")
def data(library: Library) -> BatchData:
    pytest.importorskip("ibis", reason="The batch's libraries are not installed (extra batch).")
    scrap, poured, readings = (FOLDER / name for name in SHEETS)
    return read_batch([scrap], library=library, poured=poured, readings=readings)


def test_written_anew_it_has_the_same_bytes() -> None:
    files = quarter()
    assert {path.name for path in FOLDER.iterdir()} == set(files)
    for name, content in files.items():
        assert (FOLDER / name).read_bytes() == content, name
    assert sum(map(len, files.values())) < 1_000_000
    assert b"made up" in files["key.md"]
    assert b"made up" in files["scrap.csv"]


def test_its_rows_add_up(data: BatchData) -> None:
    """16 by the key: 2 copies, 4 odd rows, 2 headings, a line, 3 totals, 4 of a second table."""
    assert data.rows.read == data.rows.used + len(data.rows.aside)
    scrap = next(rows for _, kind, rows in data.accounts if kind == "scrap")
    reasons = [one.reason for one in data.rows.aside]
    assert len(reasons) == 16
    assert scrap.used == 1324
    assert data.cells.scrapped.sum() == pytest.approx(1366)
    assert data.cells.poured is not None
    assert data.cells.poured.sum() == 16188


def test_only_words_that_nobody_can_know_are_unknown(data: BatchData) -> None:
    assert {one.word for one in data.unknown_words} == {*ODD_WORDS}
    assert data.faults[-1] == "unknown"
    assert sum(one.count for one in data.unknown_words) < 0.04 * data.cells.scrapped.sum()


def rate(data: BatchData, factor: str, level: str, *faults: str) -> float:
    """Return the rate of faults at a level, in per cent."""
    assert data.cells.poured is not None
    here = data.cells.code(factor) == data.levels[factor].index(level)
    places = [data.faults.index(fault) for fault in faults]
    return float(100 * data.cells.bad[here][:, places].sum() / data.cells.poured[here].sum())


BLOWS = ("blow-core-gas", "blow-mould-gas", "blow-trapped-air")


def test_what_was_planted_is_in_the_numbers(data: BatchData) -> None:
    """Wide limits: the words are shared out, and chance has its part."""
    tarn, okell = (rate(data, "core maker", who, *BLOWS) for who in ("R. Tarn", "E. Okell"))
    assert tarn > 3 * okell
    end = [rate(data, "ladle order", n, "cold-shut") for n in ("1", "2", "3", "4", "5", "6")]
    assert min(end[4:]) > 5 * max(end[:4])
    assert rate(data, "plate", "5", "sticker") > 5 * rate(data, "plate", "4", "sticker")
    assert rate(data, "shift", "N", "misrun") > 2.5 * rate(data, "shift", "D", "misrun")
    assert rate(data, "pattern", "P-107", "misrun") > 4.0


def test_the_thin_plate_and_not_the_night_has_the_misruns(data: BatchData) -> None:
    cells, place = data.cells, data.faults.index("misrun")
    assert cells.poured is not None
    thin = cells.code("pattern") == data.levels["pattern"].index("P-107")
    for here in (thin, ~thin):
        night = cells.code("shift") == data.levels["shift"].index("N")
        each = [
            cells.bad[here & part, place].sum() / cells.poured[here & part].sum()
            for part in (night, ~night)
        ]
        assert 0.6 < each[0] / each[1] < 1.7


def test_the_sand_gets_wetter_and_blows_follow(data: BatchData) -> None:
    wet = data.reading_of(data.cells, "sand-moisture")
    assert not np.isnan(wet).any()
    assert data.cells.poured is not None
    place = data.faults.index("pinholes")
    dry, damp = wet < 3.5, wet > 4.1
    rates = [data.cells.bad[m, place].sum() / data.cells.poured[m].sum() for m in (dry, damp)]
    assert rates[1] > 2.5 * rates[0]
    assert "own: rain mm" in data.readings.quantities  # type: ignore[union-attr]


def test_an_analysis_is_joined_by_its_heat(data: BatchData) -> None:
    """All cells of one heat have one carbon, and it is that of the sheet."""
    carbon = data.reading_of(data.cells, "carbon")
    heat = data.cells.code("heat")
    for code in range(0, len(data.levels["heat"]), 37):
        assert len(set(carbon[heat == code])) == 1
    line = next(
        line for line in (FOLDER / "readings.csv").read_text().splitlines() if ";401;" in line
    )
    here = heat == data.levels["heat"].index("401")
    assert carbon[here][0] == pytest.approx(float(line.split(";")[8].replace(",", ".")))


def test_the_reading_before_the_last_is_another(data: BatchData) -> None:
    now, then = (data.reading_of(data.cells, "sand-moisture", lag) for lag in (0, 1))
    known = ~np.isnan(then)
    assert known.mean() > 0.99
    assert not np.allclose(now[known], then[known])


def test_remarks_are_heard(data: BatchData) -> None:
    heard = {one.text: one.heard for one in data.remarks}
    assert {m.answer for m in heard["smooth round holes, top"].taken} >= {"smooth"}
    assert sum(one.count for one in data.remarks) > 500


def test_weights_add_up_to_those_of_the_patterns(data: BatchData) -> None:
    """Each pattern has one weight; the sheet gives that of the castings in a row."""
    assert data.weighed
    assert not data.priced
    assert data.cells.weight is not None
    here = data.cells.code("pattern") == data.levels["pattern"].index("P-112")
    assert data.cells.weight[here].sum() == pytest.approx(9.0 * data.cells.bad[here].sum())
