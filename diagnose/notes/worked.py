"""How much to correct by, worked from the readings of the reject."""

from __future__ import annotations

from typing import TYPE_CHECKING

from diagnose.notes.wording import sentence
from diagnose.reasoning.derived import Known, aim, work_sum
from diagnose.rulebase.book import Sum

if TYPE_CHECKING:
    from diagnose.session.session import Session


def worked_out(session: Session, wanted: Sum | None) -> str:
    """Return how much, with the working and its warnings; "" where the readings do not say.

    The sum aims at the middle of the window that this job calls for. A result that is nothing or
    less means that there is nothing to correct that way.
    """
    if wanted is None:
        return ""
    from diagnose.shop.calculation import figure
    from diagnose.shop.catalogue import calculations

    book = session.book
    known = {r.id: Known(sum(r.values) / len(r.values), 0.0) for r in session.readings()}
    aims = {
        name: aim(session.desk.window(book.measurements[name])) for name in wanted.aims.values()
    }
    result = work_sum(book, wanted, known, aims)
    if result is None or result[0].value <= 0:
        return ""
    worked = result[0]
    calculation = calculations()[wanted.by]
    units = {each.name: each.unit for each in calculation.inputs}
    given = ", ".join(
        f"{name} {value if isinstance(value, str) else figure(value)} {units[name]}".rstrip()
        for name, value in wanted.given.items()
    )
    title = calculation.title
    numbers = worked.working[1].removeprefix("= ")
    minds = " ".join(f"Mind: {sentence(warning)}" for warning in worked.warnings)
    return (
        f"By these readings: {title[0].lower()}{title[1:]} ({given}): {figure(worked.value)} "
        f"{worked.unit} = {numbers}. {minds}"
    ).strip()
