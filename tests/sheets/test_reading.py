"""From a sheet to the readings that are meant: rows by day, heat, number and time."""

from __future__ import annotations

from datetime import date, time, timedelta
from pathlib import Path

import openpyxl
import pytest

from diagnose.basics.errors import Fault
from diagnose.sheets.dates import Moment, moment_of
from diagnose.sheets.given import Doubt, Given, InDoubt
from diagnose.sheets.opened import open_tables
from diagnose.sheets.reading import Sheet, read_sheet, settled
from diagnose.sheets.readings import MOST, age_in_words
from tests.sheets.shop import BOOK, FILES, read, values

SAND = FILES / "sand-march.csv"
LOG = FILES / "cupola-log.csv"
DMY = Given(order="dmy")


def sheet_of(tmp_path: Path, text: str, given: Given | None = None) -> Sheet:
    """A text in which ``|`` ends a row, read."""
    path = tmp_path / "log.csv"
    path.write_text(text.replace("|", "\n"), encoding="utf-8")
    return read(path, given)


def numbers(sheet: Sheet) -> list[int]:
    return [row.number + 1 for row in sheet.picked]


def test_several_rows_of_a_day_are_several_readings() -> None:
    sheet = read(SAND, Given(day=date(2026, 3, 14)))
    assert values(sheet) == {
        "sand-moisture": [(4.4, "%", "E7"), (4.6, "%", "E8")],
        "sand-permeability": [(82.0, "AFS", "F7"), (79.0, "AFS", "F8")],
    }
    assert "Dates are read as day, month, year: A6 says 13.03.2026." in sheet.remarks


def test_rows_of_a_heat_and_of_a_shift() -> None:
    assert numbers(read(SAND, Given(keys=(("heat", "17"),)))) == [7, 8]
    assert numbers(read(SAND, Given(keys=(("heat", "17"), ("shift", "b"))))) == [8]
    assert numbers(read(SAND, Given(day=date(2026, 3, 14), keys=(("shift", "A"),)))) == [7]


def test_rows_by_their_numbers() -> None:
    assert numbers(read(SAND, Given(rows=(8, 5, 8)))) == [8, 5]
    with pytest.raises(Fault, match=r"Row 4 holds no readings. They stand in rows 5 to 9."):
        read(SAND, Given(rows=(4,)))


def test_a_heat_is_a_ladle_where_there_are_no_heats(tmp_path: Path) -> None:
    text = "ladle;perm|1;80|2;90"
    assert numbers(sheet_of(tmp_path, text, Given(keys=(("heat", "2"),)))) == [3]
    assert numbers(sheet_of(tmp_path, text, Given(keys=(("ladle", "2"),)))) == [3]


def test_nothing_is_taken_before_it_is_said_which_rows() -> None:
    sheet = read(SAND)
    assert (sheet.picked, sheet.taken) == ((), ())
    which = sheet.doubts[-1]
    assert which.say == "There are 5 rows. Which are meant?"
    assert [choice.words for choice in which.choices] == [
        "16 March 2026", "14 March 2026", "13 March 2026", "12 March 2026",
    ]  # fmt: skip
    assert numbers(read(SAND, which.choices[1].given)) == [7, 8]


@pytest.mark.parametrize(
    ("text", "options"),
    [
        ("heat;perm|17;80|18;90", ["--heat 17", "--heat 18"]),
        ("heat;perm|17;80|17;90", ["--row 2", "--row 3"]),
        ("remark;perm|x;80|y;90", ["--row 2", "--row 3"]),
        ("perm;x|80;", []),
    ],
)
def test_rows_are_offered_by_what_tells_them_apart(
    tmp_path: Path, text: str, options: list[str]
) -> None:
    doubts = sheet_of(tmp_path, text).doubts
    assert [choice.option for doubt in doubts for choice in doubt.choices] == options


@pytest.mark.parametrize(
    ("given", "says"),
    [
        (Given(day=date(2026, 3, 15)), "No row is of 15 March 2026. The nearest: row 7 (14 March"),
        (Given(day=date(2025, 1, 1)), "The nearest: row 5 (12 March 2026 06:40, heat 11, shift A)"),
        (Given(keys=(("heat", "18"),)), "No row is of heat '18'. There is 11, 14, 17 and 19."),
        (Given(keys=(("ladle", "2"),)), "No column is understood as that of the ladle."),
        (Given(poured=Moment(date(2026, 3, 1))), "No row is of before 1 March 2026."),
        (Given(order="mdy", rows=(5,)), "A6 '13.03.2026' cannot be month, day, year."),
    ],
)
def test_rows_that_are_not_there(given: Given, says: str) -> None:
    with pytest.raises(Fault) as fault:
        read(SAND, given)
    assert says in str(fault.value)


def test_a_heat_like_one_in_the_sheet_is_offered(tmp_path: Path) -> None:
    with pytest.raises(Fault, match=r"No row is of heat '17'. Did you mean 'H-17'\?"):
        sheet_of(tmp_path, "heat;perm|H-16;80|H-17;90", Given(keys=(("heat", "17"),)))


def test_no_column_of_dates(tmp_path: Path) -> None:
    with pytest.raises(Fault, match="No column is understood as that of the dates"):
        sheet_of(tmp_path, "heat;perm|17;80", Given(day=date(2026, 3, 14)))
    with pytest.raises(Fault, match="No column is understood as that of dates or times"):
        sheet_of(tmp_path, "heat;perm|17;80", Given(poured=Moment(date(2026, 3, 14))))


def test_no_row_has_a_date(tmp_path: Path) -> None:
    with pytest.raises(Fault, match=r"No row is of 14 March 2026. None has a date."):
        sheet_of(tmp_path, "Date;perm|soon;80|;90", Given(day=date(2026, 3, 14)))


# dates that can be read in two ways


def test_day_and_month_that_could_be_taken_for_each_other_are_asked() -> None:
    with pytest.raises(InDoubt) as doubt:
        read(LOG, Given(keys=(("heat", "17"),)))
    assert doubt.value.doubt.say == "A2 '03/04/2026' may be 3 April 2026 or 4 March 2026."
    day_first, month_first = (choice.given for choice in doubt.value.doubt.choices)
    assert read(LOG, day_first).picked[0].day == date(2026, 4, 3)
    assert read(LOG, month_first).picked[0].day == date(2026, 3, 4)


def test_it_is_asked_before_rows_are_offered_and_does_not_hinder_a_row_by_number() -> None:
    sheet = read(LOG)
    assert "may be 3 April 2026 or 4 March 2026" in sheet.doubts[0].say
    assert values(read(LOG, Given(rows=(2,))))["pouring-temperature"] == [(1382.0, "degC", "G2")]


def test_dates_that_exclude_each_other_are_told(tmp_path: Path) -> None:
    text = "Date;perm|13-04-2026;80|04-14-2026;90"
    with pytest.raises(Fault, match="The dates in A2 '13-04-2026' and A3 '04-14-2026' cannot all"):
        sheet_of(tmp_path, text)


def test_a_heat_under_several_dates_is_asked(tmp_path: Path) -> None:
    text = "Date;heat;perm|2026-03-14;17;80|2026-03-15;17;90"
    given = Given(keys=(("heat", "17"),))
    with pytest.raises(InDoubt) as doubt:
        sheet_of(tmp_path, text, given)
    assert doubt.value.doubt.say == "There are rows of heat 17 under 2 dates."
    assert numbers(sheet_of(tmp_path, text, doubt.value.doubt.choices[0].given)) == [3]
    poured = Given(keys=given.keys, poured=moment_of("2026-03-14 15:00", "x"))
    assert numbers(sheet_of(tmp_path, text, poured)) == [2]


def test_rows_without_a_date_are_asked_about_and_rows_of_means_left_out() -> None:
    pages = FILES / "pages.csv"
    sheet = read(pages, Given(day=date(2026, 3, 14)))
    assert numbers(sheet) == [2]
    (doubt,) = sheet.doubts
    assert doubt.say == "There is no date in row 3."
    assert "A6 'Mean' is no date: the row is left out." in sheet.remarks
    carried, left = (read(pages, choice.given) for choice in doubt.choices)
    assert (numbers(carried), numbers(left)) == ([2, 3], [2])
    assert (carried.doubts, left.doubts) == ((), ())
    assert numbers(read(pages, Given(carry=True, keys=(("heat", "19"),)))) == [5]


def test_a_date_merged_over_several_rows_holds_for_all(tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    for row in (["Date", "perm"], [date(2026, 3, 14), 80], [None, 82], [date(2026, 3, 15), 84]):
        book.active.append(row)
    book.active.merge_cells("A2:A3")
    book.save(tmp_path / "log.xlsx")
    sheet = read(tmp_path / "log.xlsx", Given(day=date(2026, 3, 14)))
    assert values(sheet) == {"sand-permeability": [(80.0, "AFS", "B2"), (82.0, "AFS", "B3")]}


# the time of pouring


def test_the_nearest_reading_before_pouring_is_taken() -> None:
    sheet = read(SAND, Given(poured=moment_of("2026-03-14 12:00", "x")))
    assert numbers(sheet) == [7]
    assert [age_in_words(taken) for taken in sheet.taken] == ["5 h 30 min before pouring"] * 2


def test_each_measurement_has_a_nearest_row_of_its_own(tmp_path: Path) -> None:
    text = "Date;Time;perm;moisture (%)|2026-03-14;06:00;80;4.4|2026-03-14;08:00;;4.6"
    given = Given(poured=moment_of("2026-03-14 09:00", "x"))
    sheet = sheet_of(tmp_path, text, given)
    assert values(sheet) == {
        "sand-permeability": [(80.0, "AFS", "C2")],
        "sand-moisture": [(4.6, "%", "D3")],
    }
    assert [taken.age for taken in sheet.taken] == [timedelta(hours=3), timedelta(hours=1)]


def test_the_age_is_told_with_any_way_to_pick_rows() -> None:
    given = Given(day=date(2026, 3, 14), poured=moment_of("2026-03-14 13:00", "x"))
    sheet = read(SAND, given)
    assert [age_in_words(taken) for taken in sheet.taken[:2]] == [
        "6 h 30 min before pouring", "20 min after pouring",
    ]  # fmt: skip
    assert [taken.days for taken in sheet.taken[:2]] == [0, 0]


@pytest.mark.parametrize(
    ("cell", "poured", "words"),
    [
        ("2026-03-14", "2026-03-14 15:00", "on the day of pouring"),
        ("2026-03-12", "2026-03-14 15:00", "2 days before pouring"),
        ("2026-03-13 15:00", "2026-03-14", "1 day before pouring"),
        ("2026-03-14 15:00", "2026-03-14 15:00", "at the time of pouring"),
        ("2026-03-13 23:50", "2026-03-14 00:10", "20 min before pouring"),
        ("2026-03-10 12:00", "2026-03-14 12:00", "4 days before pouring"),
        ("2026-03-14 14:00", "2026-03-14 15:00", "1 h before pouring"),
    ],
)
def test_ages_in_words(tmp_path: Path, cell: str, poured: str, words: str) -> None:
    sheet = sheet_of(tmp_path, f"Date;perm|{cell};80", Given(poured=moment_of(poured, "x")))
    assert [age_in_words(taken) for taken in sheet.taken] == [words]


def test_times_without_dates_are_taken_to_be_of_the_day_of_pouring(tmp_path: Path) -> None:
    given = Given(poured=Moment(date(2026, 3, 14), time(9)))
    sheet = sheet_of(tmp_path, "Time;perm|06:00;80|10:00;90", given)
    assert numbers(sheet) == [2]
    assert sheet.remarks[-1].endswith("are taken to be of 14 March 2026.")


def test_without_a_time_of_pouring_no_age_is_told() -> None:
    assert [age_in_words(taken) for taken in read(SAND, Given(rows=(5,))).taken] == ["", ""]


# cells


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("-4.6", "row 2, column moisture (%) (B2): moulding sand moisture: -4.6 % cannot be"),
        ("104", "row 2, column moisture (%) (B2): moulding sand moisture: 104 % cannot be. It lies "
                "between 0.3 and 15 %"),
        ("damp", "row 2, column moisture (%) (B2): 'damp' is not one number. Mend the cell"),
        ("<0.3", "(B2): '<0.3' is not one number"),
        ("4.6*", "(B2): '4.6*' is not one number"),
        ("4.4 / 4.6", "(B2): '4.4 / 4.6' is not one number"),
        ("4.6 kg", "(B2): kg is no unit for moulding sand moisture. It takes % or ppm."),
        ("1e999", "(B2): inf is not a reading"),
        ("=C2*2", "(B2): '=C2*2' is not one number"),
    ],
)  # fmt: skip
def test_a_bad_cell_is_told_with_its_place(tmp_path: Path, text: str, says: str) -> None:
    path = tmp_path / "log.csv"
    path.write_text(f"heat;moisture (%)\n17;{text}\n18;4.6\n", encoding="utf-8")
    with pytest.raises(Fault) as fault:
        read(path, Given(rows=(2,)))
    assert says in str(fault.value)
    assert str(fault.value).startswith(f"{path}: ")
    assert values(read(path, Given(rows=(3,)))) == {"sand-moisture": [(4.6, "%", "B3")]}


def test_all_bad_cells_are_told_at_once(tmp_path: Path) -> None:
    with pytest.raises(Fault) as fault:
        sheet_of(tmp_path, "heat;moisture (%);perm|17;damp;-3|17;4.6;80", Given(rows=(2, 3)))
    assert ["(B2)" in str(fault.value.problems[0]), "(C2)" in str(fault.value.problems[1])] == [
        True, True,
    ]  # fmt: skip


@pytest.mark.parametrize("text", ["", "-", "n/a", "not done"])
def test_an_empty_cell_is_no_reading(tmp_path: Path, text: str) -> None:
    assert sheet_of(tmp_path, f"heat;perm|17;{text}").taken == ()


def test_a_unit_in_the_cell_goes_before_that_above(tmp_path: Path) -> None:
    sheet = sheet_of(tmp_path, "heat;moisture (%)|17;46000 ppm")
    assert values(sheet) == {"sand-moisture": [(46000.0, "ppm", "B2")]}


@pytest.mark.parametrize(
    ("cells", "value"),
    [
        ("1,310|1,295.5", 1310.0),
        ("1.310|1295,5", 1310.0),
        ("1.310|1.295", 1310.0),
        ("1 310|", 1310),
    ],
)
def test_a_number_that_can_be_read_in_two_ways_is_settled_by_the_others(
    tmp_path: Path, cells: str, value: float
) -> None:
    """By another cell of the column, or because an iron is not poured at 1.31 degC."""
    one, other = cells.split("|")
    path = tmp_path / "log.csv"
    path.write_text(f"heat;pouring temperature (°C)\n17;{one}\n18;{other}\n", encoding="utf-8")
    assert values(read(path, Given(rows=(2,))))["pouring-temperature"][0][0] == value


def test_a_number_that_stays_open_is_asked(tmp_path: Path) -> None:
    """A core may lie for an hour and a half as well as for two months."""
    path = tmp_path / "log.csv"
    path.write_text("heat;core age (h)\n17;1.500\n", encoding="utf-8")
    with pytest.raises(InDoubt) as doubt:
        read(path)
    assert "row 2, column core age (h) (B2): '1.500' may be 1.5 or 1500" in str(doubt.value)
    ways = doubt.value.doubt.choices
    assert [choice.option for choice in ways] == ["--decimal point", "--decimal comma"]
    assert [read(path, choice.given).taken[0].value for choice in ways] == [1.5, 1500.0]


def test_more_readings_than_belong_to_one_reject_are_refused(tmp_path: Path) -> None:
    rows = "\n".join(f"2026-03-14;{80 + n}" for n in range(MOST + 1))
    path = tmp_path / "log.csv"
    path.write_text(f"Date;perm\n{rows}\n", encoding="utf-8")
    with pytest.raises(Fault, match=f"hold {MOST + 1} readings of permeability of the sand"):
        read(path, Given(day=date(2026, 3, 14)))


def test_a_reading_merged_over_two_columns_is_told(tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    for row in (["heat", "perm", "GCS (kN/m2)"], [17, 80, None], [18, 82, 70]):
        book.active.append(row)
    book.active.merge_cells("B2:C2")
    book.save(tmp_path / "log.xlsx")
    with pytest.raises(Fault, match=r"row 2, column perm \(B2\): merged with C2, so it cannot"):
        read(tmp_path / "log.xlsx", Given(rows=(2,)))
    assert len(read(tmp_path / "log.xlsx", Given(rows=(3,))).taken) == 2


# sheets of a workbook


def workbook(tmp_path: Path, **sheets: list[list[object]]) -> Path:
    book = openpyxl.Workbook()
    book.remove(book.active)
    for name, rows in sheets.items():
        made = book.create_sheet(name)
        for row in rows:
            made.append(row)
    book.save(tmp_path / "log.xlsx")
    return tmp_path / "log.xlsx"


def test_the_only_sheet_with_readings_is_taken_and_told(tmp_path: Path) -> None:
    path = workbook(tmp_path, Notes=[["hello"]], Sand=[["heat", "perm"], [17, 80]])
    sheet = read(path)
    assert values(sheet) == {"sand-permeability": [(80.0, "AFS", "B2")]}
    assert sheet.remarks == ("Sheet 'Sand' of the workbook.", "No other sheet has readings.")


def test_several_sheets_with_readings_are_asked(tmp_path: Path) -> None:
    rows: list[list[object]] = [["heat", "perm"], [17, 80]]
    path = workbook(tmp_path, March=rows, April=rows)
    with pytest.raises(InDoubt) as doubt:
        read(path)
    assert [choice.option for choice in doubt.value.doubt.choices] == [
        "--sheet March", "--sheet April",
    ]  # fmt: skip
    assert read(path, Given(sheet="april")).layout.table.sheet == "April"
    with pytest.raises(Fault, match=r"There is no sheet called 'Apil'. Did you mean 'April'\?"):
        read(path, Given(sheet="Apil"))


def test_no_sheet_with_readings(tmp_path: Path) -> None:
    path = workbook(tmp_path, March=[["hello"]], April=[["there"]])
    with pytest.raises(Fault, match="in any of the sheets 'March' and 'April'"):
        read(path)


# settled step by step


def test_every_doubt_is_asked_once_and_the_answers_hold() -> None:
    asked: list[str] = []

    def choose(doubt: Doubt) -> Given | None:
        asked.append(doubt.say)
        return doubt.choices[0].given

    sheet = settled(open_tables(LOG), BOOK, Given(), choose)
    assert [say.split(" may be")[0] for say in asked] == [
        "A2 '03/04/2026'", "There are 4 rows. Which are meant?",
    ]  # fmt: skip
    assert numbers(sheet) == [5]
    assert sheet.doubts == ()


def test_a_doubt_left_open_leaves_out_what_it_is_about() -> None:
    sheet = settled(open_tables(SAND), BOOK, Given(rows=(5,)), lambda doubt: None)
    assert list(values(sheet)) == ["sand-moisture", "sand-permeability"]
    assert len(sheet.doubts) == 1
    with pytest.raises(InDoubt):
        settled(open_tables(FILES / "two-tables.csv"), BOOK, Given(), lambda doubt: None)


def test_what_nothing_can_be_read_without_may_be_answered_too() -> None:
    sheet = settled(
        open_tables(FILES / "two-tables.csv"), BOOK, Given(), lambda doubt: doubt.choices[1].given
    )
    assert values(sheet) == {"pouring-temperature": [(1371.0, "degC", "C6")]}


def test_reading_twice_gives_the_same() -> None:
    tables = open_tables(SAND)
    assert read_sheet(tables, BOOK, DMY).taken == read_sheet(tables, BOOK, DMY).taken
