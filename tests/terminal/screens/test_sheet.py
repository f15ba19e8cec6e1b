"""A table read on the readings screen, by keys alone."""

from __future__ import annotations

from pathlib import Path

import pytest

from diagnose.terminal.screens.app import DiagnoseApp
from diagnose.terminal.screens.pick import Pick
from diagnose.terminal.screens.sheet import TableRead
from tests.terminal.screens.conftest import shown, type_in, whole


@pytest.fixture
def log(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A table called log.csv in the folder in which the program runs."""
    monkeypatch.chdir(tmp_path)
    text = "Date;Moisture (%)\n14.03.2026;4,6\n15.03.2026;4,2\n"
    (tmp_path / "log.csv").write_text(text, encoding="utf-8")


async def test_rows_are_asked_and_readings_taken_down(app: DiagnoseApp, log: None) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", "f5")
        await type_in(pilot, "sheet log.csv", "enter")
        assert isinstance(app.screen, Pick)
        assert "There are 2 rows. Which are meant?" in whole(app)
        await pilot.press("2")
        assert isinstance(app.screen, TableRead)
        assert "Moisture (%): moulding sand moisture, in %" in whole(app)
        assert "moulding sand moisture: 4.6 % (B2)" in whole(app)
        await pilot.press("enter")
        assert "Taken down: moulding sand moisture, 4.6 %." in shown(app, "#message")
        assert app.bench is not None
        assert app.bench.session.readings()[0].values == (4.6,)


@pytest.mark.parametrize("keys", [("escape",), ("0", "escape"), ("2", "escape"), ("0", "enter")])
async def test_nothing_is_taken_down_otherwise(
    app: DiagnoseApp, log: None, keys: tuple[str, ...]
) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", "f5")
        await type_in(pilot, "sheet log.csv", "enter", *keys)
        assert shown(app, "#message") == "Nothing was taken down."
        assert app.bench is not None
        assert app.bench.session.readings() == []


async def test_a_file_that_cannot_be_read_is_told(app: DiagnoseApp, log: None) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", "f5")
        await type_in(pilot, "sheet none.csv", "enter")
        assert "none.csv: There is no such file." in shown(app, "#message")
        Path("none.csv").write_text("Datum;Feuchte\n14.03.2026;4,6\n", encoding="utf-8")
        await pilot.press("enter")
        assert "No heading of this sheet is understood" in shown(app, "#message")
