"""Which column holds what: found, shown, asked; never guessed."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest

from diagnose.basics.errors import Fault
from diagnose.sheets.columns import AS_TOLD, IN_DOUBT, LIMITS, UNKNOWN, Layout, lay_out
from diagnose.sheets.delimited import read_delimited
from diagnose.sheets.given import Given, InDoubt
from diagnose.sheets.opened import open_tables
from tests.sheets.shop import FILES, NAMES


def laid(text: str, **given: object) -> Layout:
    """The columns of a text in which ``|`` ends a row."""
    raw = text.replace("|", "\n").encode()
    return lay_out(read_delimited(raw, "log.csv"), NAMES, Given(**given))  # type: ignore[arg-type]


def means(layout: Layout) -> dict[str, tuple[str, str]]:
    return {column.letters: (column.means or column.why, column.unit) for column in layout.columns}


def test_titles_above_the_headings() -> None:
    layout = lay_out(open_tables(FILES / "sand-march.csv")[0], NAMES, Given())
    assert (layout.headings.top, layout.headings.bottom) == (3, 3)
    assert means(layout) == {
        "A": ("date", ""), "B": ("time", ""), "C": ("shift", ""), "D": ("heat", ""),
        "E": ("sand-moisture", "%"), "F": ("sand-permeability", "AFS"), "G": (IN_DOUBT, ""),
        "H": (UNKNOWN, ""),
    }  # fmt: skip
    assert layout.filled_rows() == [4, 5, 6, 7, 8]


def test_headings_in_two_rows_and_units_in_a_third() -> None:
    """Iron temperature is another name of the pouring temperature; Temp alone would be asked."""
    layout = lay_out(open_tables(FILES / "two-rows.csv")[0], NAMES, Given())
    assert (layout.headings.top, layout.headings.bottom) == (1, 3)
    assert means(layout) == {
        "A": ("date", ""), "B": ("heat", ""), "C": ("sand-moisture", "%"),
        "D": ("sand-temperature", "degC"), "E": ("pouring-temperature", "degC"),
        "F": (UNKNOWN, ""),
    }  # fmt: skip


def test_units_below_the_headings_and_titles_in_latin_letters() -> None:
    layout = lay_out(open_tables(FILES / "analysis.txt")[0], NAMES, Given())
    assert (layout.headings.top, layout.headings.bottom) == (2, 3)
    assert means(layout)["D"] == ("carbon", "%")
    assert means(layout)["I"] == ("aluminium", "%")
    assert layout.columns[-1].heading == "Prüfer"


def test_merged_headings_of_a_spreadsheet(tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    for row in (["Date", "Sand", None, "Iron"], [None, "Temp (°C)", "Moisture (%)", "Temp (°C)"],
                ["2026-03-14", 38, 4.6, 1371]):  # fmt: skip
        book.active.append(row)
    book.active.merge_cells("A1:A2")
    book.active.merge_cells("B1:C1")
    book.save(tmp_path / "log.xlsx")
    layout = lay_out(open_tables(tmp_path / "log.xlsx")[0], NAMES, Given())
    assert means(layout) == {
        "A": ("date", ""), "B": ("sand-temperature", "degC"), "C": ("sand-moisture", "%"),
        "D": ("pouring-temperature", "degC"),
    }  # fmt: skip


def test_two_tables_in_one_sheet_are_asked() -> None:
    table = open_tables(FILES / "two-tables.csv")[0]
    with pytest.raises(InDoubt) as doubt:
        lay_out(table, NAMES, Given())
    assert [choice.option for choice in doubt.value.doubt.choices] == ["--header 1", "--header 5"]
    first, second = (lay_out(table, NAMES, choice.given) for choice in doubt.value.doubt.choices)
    assert first.filled_rows() == [1, 2]
    assert second.filled_rows() == [5]
    assert second.holding("pouring-temperature")


def test_the_same_headings_on_every_page_are_passed_over() -> None:
    layout = lay_out(open_tables(FILES / "pages.csv")[0], NAMES, Given())
    assert layout.filled_rows() == [1, 2, 4, 5]


def test_two_columns_of_one_measurement_are_asked() -> None:
    layout = lay_out(open_tables(FILES / "benches.csv")[0], NAMES, Given())
    assert means(layout) == {
        "A": ("date", ""), "B": (IN_DOUBT, ""), "C": (IN_DOUBT, ""), "D": (LIMITS, ""),
        "E": (IN_DOUBT, ""), "F": ("sand-permeability", "AFS"),
    }  # fmt: skip
    both, unit = layout.doubts
    assert both.say == (
        "Columns B 'Moisture 1 (%)' and C 'Moisture 2 (%)' could each be moulding sand moisture."
    )
    settled = [lay_out(layout.table, NAMES, choice.given) for choice in both.choices]
    assert [len(one.holding("sand-moisture")) for one in settled] == [1, 1, 2]
    assert unit.say == "No unit stands with column E 'LOI'."
    assert [choice.option for choice in unit.choices] == ["--unit %", "--unit ppm"]
    assert means(lay_out(layout.table, NAMES, unit.choices[0].given))["E"] == (
        "sand-loss-on-ignition", "%",
    )  # fmt: skip


def test_two_columns_of_dates_are_asked_and_only_one_is_taken() -> None:
    layout = laid("Date;Date poured;perm|2026-03-14;2026-03-15;80")
    assert means(layout)["A"] == means(layout)["B"] == (IN_DOUBT, "")
    assert [choice.words for choice in layout.doubts[0].choices] == ["take A alone", "take B alone"]


def test_a_heading_of_several_meanings_is_asked() -> None:
    layout = laid("heat;Temp °F|17;2480")
    (doubt,) = layout.doubts
    assert "could be" in doubt.say
    assert doubt.choices[-1].option == "--column 'column B=-'"
    for choice in doubt.choices[:-1]:
        again = lay_out(layout.table, NAMES, choice.given)
        assert means(again)["B"][1] == "degF"
        assert again.doubts == ()
    again = lay_out(layout.table, NAMES, doubt.choices[-1].given)
    assert means(again)["B"] == (AS_TOLD, "")


@pytest.mark.parametrize(
    ("heading", "says"),
    [
        ("moisture (kg)", "Column B 'moisture (kg)': 'kg' is no unit for moulding sand moisture."),
        ("GCS (kp/cm²)", "'kp/cm²' is no unit for green compression strength. It takes kN/m2, kPa"),
    ],
)
def test_a_unit_that_does_not_fit_is_told_and_the_column_left_out(heading: str, says: str) -> None:
    layout = laid(f"heat;{heading};perm|17;4;80")
    (doubt,) = layout.doubts
    assert says in doubt.say
    assert means(layout)["B"] == (IN_DOUBT, "")
    assert [choice.words for choice in doubt.choices] == ["leave the column out"]


def test_a_row_of_units_may_not_fit_either() -> None:
    layout = laid("heat;perm;moisture|;AFS;kg|17;80;4")
    assert layout.headings.bottom == 1
    assert "'kg' is no unit for moulding sand moisture" in layout.doubts[0].say
    assert means(layout)["C"] == (IN_DOUBT, "")


def test_units_in_the_cells_need_none_above() -> None:
    assert laid("heat;moisture|17;4.6 %|18;").doubts == ()
    assert len(laid("heat;moisture|17;4.6 %|18;4.4").doubts) == 1


@pytest.mark.parametrize(
    ("said", "holds"),
    [
        (("Feuchte", "moulding sand moisture, %"), ("sand-moisture", "%")),
        (("feuchte", "moisture,%"), ("sand-moisture", "%")),
        (("column B", "sand-moisture, ppm"), ("sand-moisture", "ppm")),
        (("Feuchte", "heat"), ("heat", "")),
        (("Feuchte", "Heat No."), ("heat", "")),
        (("Feuchte", "-"), (AS_TOLD, "")),
    ],
)
def test_what_is_said_of_a_column_holds(said: tuple[str, str], holds: tuple[str, str]) -> None:
    assert means(laid("Charge;Feuchte;perm|17;4,6;80", columns=(said,)))["B"] == holds


@pytest.mark.parametrize(
    ("said", "says"),
    [
        (("Feucht", "moisture, %"), "No column is headed 'Feucht'. There are 'Charge', 'Feuchte'"),
        (("Feuchte", "dampness"), "There is no measurement called 'dampness'"),
        (("Feuchte", "moisture, kg"), "kg does not fit moulding sand moisture. It takes % or ppm."),
        (("Feuchte", "moisture, spoons"), "'spoons' is not a unit known here"),
        (("Feuchte", "date, %"), "% does not fit date. It has no unit."),
        (("perm", "perm"), "2 columns are headed 'perm'. Say 'column C' or 'column D' instead."),
    ],
)
def test_what_cannot_be_said_of_a_column(said: tuple[str, str], says: str) -> None:
    with pytest.raises(Fault) as fault:
        laid("Charge;Feuchte;perm;perm|17;4,6;80;82", columns=(said,))
    assert says in str(fault.value)


@pytest.mark.parametrize(
    ("text", "given", "says"),
    [
        ("Datum;Feuchte|14.03.2026;4,6", {}, "It has 'Datum' and 'Feuchte'."),
        ("1;2|3;4", {}, "No heading of this sheet is understood as a reading."),
        ("heat;perm|17;80", {"header": 9}, "Row 9 holds no headings."),
        ("heat;perm|17;80", {"header": 2}, "Row 2 holds no headings."),
    ],
)
def test_a_sheet_without_headings(text: str, given: dict[str, object], says: str) -> None:
    with pytest.raises(Fault) as fault:
        laid(text, **given)
    assert says in str(fault.value)
    assert str(fault.value).startswith("log.csv: ")


def test_what_is_said_finds_the_headings_in_any_language() -> None:
    layout = laid("Sandlabor;|Datum;Feuchte|14.03.2026;4,6", columns=(("Feuchte", "moisture, %"),))
    assert layout.headings.top == 1
    assert layout.holding("sand-moisture")


def test_headings_that_are_given_need_no_reading_among_them() -> None:
    layout = laid("Datum;Feuchte|14.03.2026;4,6", header=1)
    assert means(layout) == {"A": (UNKNOWN, ""), "B": (UNKNOWN, "")}


def test_an_empty_sheet(tmp_path: Path) -> None:
    openpyxl.Workbook().save(tmp_path / "log.xlsx")
    with pytest.raises(Fault, match=r"log.xlsx, sheet Sheet: The sheet is empty."):
        lay_out(open_tables(tmp_path / "log.xlsx")[0], NAMES, Given())
