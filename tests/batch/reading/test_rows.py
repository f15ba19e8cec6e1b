"""Every row is used, or set aside with its line and reason.

What shops do to their sheets is common practice, no source.
"""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as some

from diagnose.basics.errors import Fault
from diagnose.batch.reading.given import Given
from tests.batch.reading.sheets import HEAD, POURED, ROWS, Desk, castings, reasons


def test_a_plain_sheet_is_counted(desk: Desk) -> None:
    data = desk.read(*ROWS)
    assert (data.rows.read, data.rows.used) == (4, 4)
    assert castings(data) == {"misrun": 3.0, "cold-shut": 1.0, "slag-inclusion": 3.0}
    assert data.factors == ("pattern", "heat")
    assert data.levels["heat"] == ("12", "13", "14")
    assert str(data.first), str(data.last) == ("2026-01-14", "2026-02-03")
    assert data.lines.row.tolist() == [2, 3, 4, 5]
    assert data.cells.poured is None
    assert any("no rates" in text for text in data.warnings)


@pytest.mark.parametrize(
    ("row", "reason"),
    [
        ("15/01/2026;P1;13;misrun;-1;", "a count below nought"),
        ("15/01/2026;P1;13;misrun;many;", "'many' is no number"),
        ("15/01/2026;P1;13;misrun;1,5;", "not a whole number of castings"),
        ("15/01/2026;P1;13;misrun;;", "no number of castings"),
        ("32/01/2026;P1;13;misrun;1;", "'32/01/2026' is no date, or far from all others"),
        ("15/01/2025;P1;13;misrun;1;", "'15/01/2025' is no date, or far from all others"),
        ("Total;;;;7;", "a row of totals or means"),
        ("Sub-total;;;;7;", "a row of totals or means"),
        (";;;;7;", "a number beside which nothing stands: taken for a row of totals"),
        ("furnace relined;;;;;", "it says of no reject"),
        (HEAD, "the headings once more"),
        ("15/01/2026;P1;13;cold shut;1;", "the same in every cell as row 3"),
    ],
)
def test_a_bad_row_is_set_aside_with_its_line_and_reason(desk: Desk, row: str, reason: str) -> None:
    data = desk.read(*ROWS, row)
    assert reasons(data) == {6: reason}
    assert data.rows.aside[0].text.replace(" | ", ";").split(";")[0] in row
    assert castings(data) == castings(desk.read(*ROWS))


def test_empty_lines_are_no_rows(desk: Desk) -> None:
    data = desk.read(ROWS[0], "", ";;;;;", ROWS[1])
    assert (data.rows.read, data.rows.used) == (2, 2)
    assert data.lines.row.tolist() == [2, 5]


def test_rejects_without_a_count_are_one_each_and_may_be_alike(desk: Desk) -> None:
    head = "Date;Pattern;Fault"
    row = "14/01/2026;P1;misrun"
    data = desk.read(row, row, "15/01/2026;P1;slag", head=head)
    assert castings(data) == {"misrun": 2.0, "slag-inclusion": 1.0}
    assert any("--duplicates aside" in text for text in data.warnings)
    aside = desk.read(row, row, "15/01/2026;P1;slag", head=head, given=Given(duplicates="aside"))
    assert reasons(aside) == {3: "the same in every cell as row 2"}


def test_a_casting_number_tells_copies(desk: Desk) -> None:
    head = "Date;Casting number;Fault"
    data = desk.read(
        "14/01/2026;88;misrun", "14/01/2026;88;misrun", "14/01/2026;89;misrun", head=head
    )
    assert reasons(data) == {3: "the same in every cell as row 2"}


def test_ditto_marks_mean_what_stands_above(desk: Desk) -> None:
    data = desk.read(ROWS[0], '"""";P1;do.;ditto;1;')
    assert castings(data) == {"misrun": 3.0}
    assert len(set(data.lines.day.tolist())) == 1


def test_empty_dates_are_asked_about_where_there_are_many(desk: Desk) -> None:
    rows = [ROWS[0], *[f";P1;{heat};slag;1;" for heat in (20, 21, 22)]]
    with pytest.raises(Fault, match=r"no date in 3 of 4 rows.*--carry.*--no-carry"):
        desk.read(*rows)
    carried = desk.read(*rows, given=Given(carry=True))
    assert len(set(carried.lines.day.tolist())) == 1
    left = desk.read(*rows, given=Given(carry=False))
    assert left.lines.day.tolist().count(0) == 3


def test_a_column_for_each_fault(desk: Desk) -> None:
    data = desk.read(
        "14/01/2026;P1;100;3;;1;4", "15/01/2026;P1;90;;2;;2", "16/01/2026;P1;3;4;;;4",
        head="Date;Pattern;Poured;Misrun;Cold shut;Slag;Total",
    )  # fmt: skip
    assert castings(data) == {"misrun": 3.0, "cold-shut": 2.0, "slag-inclusion": 1.0}
    assert data.cells.poured is not None
    assert data.cells.poured.sum() == 190.0
    assert reasons(data) == {4: "4 castings scrapped of 3 poured"}


def test_an_unknown_column_of_numbers_among_the_faults_is_not_passed_over(desk: Desk) -> None:
    head = "Date;Pattern;Misrun;Zorp;Slag"
    with pytest.raises(Fault, match=r"Column D 'Zorp'.*--column 'column D=count'.*D=-"):
        desk.read("14/01/2026;P1;3;2;1", head=head)
    told = desk.read("14/01/2026;P1;3;2;1", head=head, given=Given(columns=(("Zorp", "count"),)))
    assert castings(told) == {"misrun": 3.0, "slag-inclusion": 1.0, "unknown": 2.0}


def test_castings_poured_that_stand_in_every_row_are_taken_once(desk: Desk) -> None:
    head = "Date;Pattern;Poured;Fault;Qty"
    data = desk.read(
        "14/01/2026;P1;100;misrun;3", "14/01/2026;P1;100;slag;1", "14/01/2026;P1;90;shift;1",
        "15/01/2026;P1;80;misrun;2", head=head,
    )  # fmt: skip
    assert data.cells.poured is not None
    assert data.cells.poured.sum() == 180.0
    assert "differ from those in row 2" in reasons(data)[4]


def test_moulds_times_castings_in_a_mould_are_poured(desk: Desk) -> None:
    poured = desk.put(
        "p.csv", "Date;Pattern;Moulds;Per mould\n14/1/2026;P1;10;4\n15/1/2026;P1;5;4\n"
    )
    data = desk.read(ROWS[0], ROWS[1], poured=poured)
    assert data.cells.poured is not None
    assert data.cells.poured.sum() == 60.0


def test_more_scrapped_than_poured_is_set_aside(desk: Desk) -> None:
    poured = desk.put("poured.csv", POURED)
    data = desk.read(*ROWS, "14/01/2026;P1;12;slag;1;", "15/01/2026;P2;13;shift;21;", poured=poured)
    assert reasons(data) == {7: "21 castings scrapped of 20 poured, by day, heat, pattern"}
    assert castings(data) == {"misrun": 3.0, "cold-shut": 1.0, "slag-inclusion": 4.0}


def test_sheets_that_do_not_belong_together_give_no_rates(desk: Desk) -> None:
    poured = desk.put("poured.csv", POURED.replace("2026", "2025"))
    data = desk.read(*ROWS, poured=poured)
    assert data.cells.poured is None
    assert any("do not fit the castings poured" in text for text in data.warnings)
    assert data.rows.used == data.rows.read == 8


def test_what_only_one_pouring_fits_is_filled_in(desk: Desk) -> None:
    poured = desk.put(
        "poured.csv",
        "Date;Pattern;Heat;Moulder;Castings poured\n14/1/2026;P1;12;Hale;40\n"
        "15/1/2026;P1;13;Birk;30\n"
        "15/1/2026;P2;13;Hale;10\n15/1/2026;P2;13;Birk;10\n3/2/2026;P2;14;Hale;25\n",
    )
    data = desk.read(*ROWS, poured=poured)
    place = data.lines.factors.index("moulder")
    moulder = [(*data.levels["moulder"], "?")[code] for code in data.lines.codes[:, place]]
    assert moulder == ["Hale", "Birk", "?", "Hale"]
    assert any("3 lines the moulder" in text for text in data.warnings)


CELLS = some.sampled_from(
    ["", "14/01/2026", "15.1.26", "3/2/2026", "x", "P1", "P2", "misrun", "slag", "Total", "do",
     '""', "-1", "0", "1", "2", "2,5", "999999999", "many", "cold shut", "\u00e4\u00f6", "=1+1",
     "12"]
)  # fmt: skip


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(rows=some.lists(some.lists(CELLS, min_size=6, max_size=6), max_size=12))
def test_rows_in_are_rows_used_and_rows_set_aside(desk: Desk, rows: list[list[str]]) -> None:
    """Whatever stands in the cells; and what is used adds up to what is counted."""
    data = desk.read(*ROWS, *map(";".join, rows), given=Given(order="dmy", carry=False))
    assert data.rows.read == 4 + sum(any(cell.strip('"') for cell in row) for row in rows)
    assert data.rows.used == data.rows.read - len(data.rows.aside)
    assert len({(one.sheet, one.row) for one in data.rows.aside}) == len(data.rows.aside)
    assert np.isclose(data.cells.scrapped.sum(), data.lines.castings.sum())
    assert np.isclose(data.scrap.scrapped.sum(), data.lines.castings.sum())
    assert not set(data.lines.row.tolist()) & {one.row for one in data.rows.aside}
