"""What columns hold: recognised, told, asked and kept; what shops call them is common practice."""

from __future__ import annotations

import pytest
import yaml

from diagnose.basics.errors import Fault
from diagnose.batch.reading.columnfile import column_file
from diagnose.batch.reading.given import Given, Question
from diagnose.batch.reading.holds import FACTORS, HOLDS
from diagnose.batch.reading.senses import CONTENT, BatchNames, written_out
from diagnose.session.library import Library
from tests.batch.reading.sheets import ROWS, Desk, castings


@pytest.fixture(scope="module")
def names(library: Library) -> BatchNames:
    return BatchNames(library.book, lambda text: text.casefold() in ("misrun", "c/shut"))


@pytest.mark.parametrize(
    ("heading", "holds"),
    [
        ("Dt. poured", "date"), ("Datum", "date"), ("Date scrapped", "date found"),
        ("Ptn No.", "pattern"), ("Job", "pattern"), ("Plt", "plate"), ("Bx", "box"),
        ("Mldr", "moulder"), ("Core mkr", "core maker"), ("Ht Nr", "heat"), ("Ldl", "ladle"),
        ("Order in ladle", "ladle order"), ("M/C No", "machine"), ("Shift", "shift"),
        ("What wrong", "fault"), ("Reason for scrap", "fault"), ("Fault 2", "fault"),
        ("Remarks (insp.)", "remark"), ("Qty", "quantity"), ("No. off", "quantity"),
        ("Castings poured", "poured"), ("Made", "poured"), ("Moulds", "moulds"),
        ("Wt (kg)", "weight"), ("Casting weight lb", "piece weight"), ("Cost \u20ac", "cost"),
        ("Ticket no.", "casting number"), ("Initials", "-"), ("Rejects", CONTENT),
        ("Remaks", "remark"), ("Quanttity", "quantity"), ("Misrun", "count of Misrun"),
        ("Moisture %", "sand-moisture"), ("Si %", "silicon"), ("Pouring temp \u00b0C",
        "pouring-temperature"), ("Sonstiges", ""), ("Zorp", ""),
    ],
)  # fmt: skip
def test_headings(names: BatchNames, heading: str, holds: str) -> None:
    assert names.sense(heading).sure == holds


def test_a_name_means_one_thing_or_is_asked_about(names: BatchNames) -> None:
    """Only words that do mean several things in the trade are in several lists."""
    several: dict[str, set[str]] = {}
    for holds, called in HOLDS.items():
        for name in called:
            several.setdefault(written_out(name), set()).add(holds)
    shared = {name: held for name, held in several.items() if len(held) > 1}
    assert set(shared) == {"code", "operator"}
    assert set(FACTORS) < set(HOLDS)
    assert set(names.sense("Operator").perhaps) == {"moulder", "core maker"}


def test_what_could_be_two_things_is_an_error_that_says_how_to_settle_it(desk: Desk) -> None:
    head = "Date;Operator;Fault"
    row = "14/01/2026;Hale;misrun"
    with pytest.raises(Fault) as fault:
        desk.read(row, head=head)
    assert "Column B 'Operator' could be core maker or moulder." in str(fault.value)
    assert "--column 'column B=moulder' (moulder)" in str(fault.value)
    told = desk.read(row, head=head, given=Given(columns=(("Operator", "moulder"),)))
    assert told.factors == ("moulder",)
    by_letter = desk.read(row, head=head, given=Given(columns=(("column B", "core maker"),)))
    assert by_letter.factors == ("core maker",)
    left = desk.read(row, head=head, given=Given(columns=(("Operator", "-"),)))
    assert left.factors == ()


def test_two_columns_that_hold_the_same_are_an_error(desk: Desk) -> None:
    head, row = "Date;Qty;Pcs;Fault", "14/01/2026;1;2;misrun"
    with pytest.raises(Fault, match=r"B 'Qty' and C 'Pcs' could each be the castings scrapped"):
        desk.read(row, head=head)
    told = desk.read(row, head=head, given=Given(columns=(("Pcs", "-"),)))
    assert castings(told) == {"misrun": 1.0}


def test_what_is_said_of_a_heading_that_is_not_there_is_an_error(desk: Desk) -> None:
    with pytest.raises(Fault, match="No column is headed 'feler'"):
        desk.read(*ROWS, given=Given(columns=(("Feler", "fault"),)))


def test_a_heading_in_another_language_can_be_told(desk: Desk) -> None:
    head, row = "Date;Teil;Fehler;Anzahl", "14/01/2026;P1;misrun;4"
    said = (("Teil", "pattern"), ("Fehler", "fault"), ("Anzahl", "castings scrapped"))
    data = desk.read(row, head=head, given=Given(columns=said))
    assert castings(data) == {"misrun": 4.0}
    assert data.levels["pattern"] == ("P1",)


def test_a_heading_that_may_be_fault_or_number_is_told_by_what_stands_below(desk: Desk) -> None:
    words = desk.read("14/01/2026;P1;misrun", head="Date;Pattern;Rejects")
    assert castings(words) == {"misrun": 1.0}
    numbers = desk.read("14/01/2026;P1;misrun;3", head="Date;Pattern;Fault;Rejects")
    assert castings(numbers) == {"misrun": 3.0}


class Person:
    """Answers questions, and remembers them."""

    def __init__(self, **answers: str) -> None:
        self.answers = answers
        self.asked: list[Question] = []

    def __call__(self, question: Question) -> str:
        self.asked.append(question)
        return self.answers[question.about]


def test_headings_are_confirmed_once_and_kept_beside_the_sheet(desk: Desk) -> None:
    path = desk.put("scrap.csv", "Date;Operator;Fault;Zorp\n3/1/2026;Hale;misrun;7\n")
    person = Person(Operator="moulder", order="dmy", headings="yes")
    first = desk.file(path, ask=person)
    assert [question.about for question in person.asked] == ["Operator", "order", "headings"]
    assert "Fault: fault word" in person.asked[-1].say
    kept = yaml.safe_load(column_file(path).read_text())
    assert kept == {
        "columns": {"Date": "date", "Operator": "moulder", "Fault": "fault", "Zorp": "-"},
        "order": "dmy",
    }
    again = desk.file(path, ask=Person())  # nothing is asked any more
    assert again.first == first.first
    assert desk.file(path).levels == first.levels  # and where no person is, nothing is in doubt


def test_what_was_kept_of_a_sheet_of_readings_is_read_again(desk: Desk) -> None:
    """Readings that the book does not know as well: the second start ended in a fault before."""
    readings = desk.put("lab.csv", "Date;Moisture %;Rain mm\n14/1/2026;4.1;3\n15/1/2026;4.4;0\n")
    scrap = desk.put("scrap.csv", "\n".join(["Date;Pattern;Heat;Fault;Qty;Remarks", *ROWS]) + "\n")
    first = desk.file(scrap, readings=readings, ask=Person(headings="yes"))
    assert "own: rain mm" in yaml.safe_load(column_file(readings).read_text())["columns"].values()
    again = desk.file(scrap, readings=readings)
    assert first.readings is not None
    assert again.readings is not None
    assert again.readings.quantities == first.readings.quantities
    assert again.readings.value.tolist() == first.readings.value.tolist()


def test_a_new_heading_is_asked_about_and_the_others_are_not(desk: Desk) -> None:
    path = desk.put("scrap.csv", "Date;Operator;Fault\n14/1/2026;Hale;misrun\n")
    desk.file(path, ask=Person(Operator="moulder", headings="yes"))
    desk.put("scrap.csv", "Date;Operator;Fault;Code\n14/1/2026;Hale;misrun;P1\n")
    person = Person(Code="pattern", headings="yes")
    desk.file(path, ask=person)
    assert [question.about for question in person.asked] == ["Code", "headings"]
    assert yaml.safe_load(column_file(path).read_text())["columns"]["Code"] == "pattern"


def test_who_says_no_is_told_how_to_say_what_is_right(desk: Desk) -> None:
    path = desk.put("scrap.csv", "Date;Fault\n14/1/2026;misrun\n")
    with pytest.raises(Fault, match="--column HEADING=NAME"):
        desk.file(path, ask=Person(headings="no"))
    assert not column_file(path).exists()


def test_where_nobody_is_asked_nothing_is_written(desk: Desk) -> None:
    desk.read(*ROWS)
    assert [path.name for path in desk.folder.iterdir()] == ["scrap.csv"]


@pytest.mark.parametrize(
    ("text", "match"),
    [
        ("- a\n", "no file of columns"),
        ("colums: {}\n", "no file of columns"),
        ("columns: 3\n", "Write 'heading: what it holds' lines"),
        ("order: mdx\n", "none of dmy, mdy, ymd"),
        ("decimal: ';'\n", "The mark is"),
    ],
)
def test_a_bad_file_of_columns_is_told_with_its_place(desk: Desk, text: str, match: str) -> None:
    desk.put("scrap.csv.columns.yaml", text)
    with pytest.raises(Fault, match=rf"scrap.csv.columns.yaml:\d+:\d+: .*{match}"):
        desk.read(*ROWS)


def test_levels_that_are_one_can_be_said_to_be(desk: Desk) -> None:
    rows = [f"{day}/01/2026;Hargreaves;misrun" for day in range(10, 25)]
    head = "Date;Moulder;Fault"
    apart = desk.read(*rows, "25/01/2026;Hargeaves;slag", "26/01/2026;hargreaves ;slag", head=head)
    assert apart.levels["moulder"] == ("Hargeaves", "Hargreaves")
    assert any("'Hargeaves' stands 1 times and is like 'Hargreaves'" in w for w in apart.warnings)
    desk.put("scrap.csv.columns.yaml", "same: {moulder: {Hargeaves: Hargreaves}}\n")
    one = desk.read(*rows, "25/01/2026;Hargeaves;slag", head=head)
    assert one.levels["moulder"] == ("Hargreaves",)
