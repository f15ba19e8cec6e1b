"""The minutes: who agreed what, the soonest due first, with the cautions that belong to it."""

from __future__ import annotations

from datetime import date

from diagnose.batch.actions import Action
from diagnose.batch.minutes import WIDTH, minutes_text
from tests.batch.example import BARE, BATCH, MISRUN

TODAY = date(2026, 4, 7)
LATE = Action("weigh three cores", "A. Example", date(2026, 4, 3), cause="core-underbaked")
SOON = Action("pour within eight minutes", "", date(2026, 4, 20), defect=MISRUN)
OPEN = Action("ask the makers of the binder", "B. Example")


def test_who_agreed_what_by_when() -> None:
    told = minutes_text(BATCH, [OPEN, SOON, LATE], TODAY)
    plain = " ".join(told.split())
    assert "Minutes of the scrap meeting, 7 April 2026" in plain
    assert "1. A. Example, by 3 April 2026 (overdue): Weigh three cores." in plain
    assert "(against: core not baked or cured through)" in plain
    assert "2. nobody yet, by 20 April 2026: Pour within eight minutes." in plain
    assert "3. B. Example, no date set: Ask the makers of the binder." in plain
    assert max(map(len, told.splitlines())) <= WIDTH


def test_the_account_and_the_cautions_stand_in_it() -> None:
    plain = " ".join(minutes_text(BATCH, [LATE], TODAY).split())
    assert "447 rows read, 441 used, 6 set aside." in plain
    assert "it can flash" in plain
    assert "the law come first" in plain
    assert "can explode" not in plain


def test_nothing_agreed_is_said() -> None:
    assert "No action was agreed." in minutes_text(BARE, [], TODAY)
