"""The page of the pack: everything in it, nothing from outside, nothing that a sheet can put in."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from html.parser import HTMLParser

import pytest

from diagnose.batch.actions import Action
from diagnose.batch.pack.page import MOST_ASIDE, html
from diagnose.batch.result import Batch, SetAside, UnknownWord
from tests.batch.example import BARE, BATCH, EMPTY

TODAY = date(2026, 4, 1)
ACTIONS = [
    Action("bake longer", "A. Example", date(2026, 4, 3), "blow-core-gas", "core-underbaked"),
    Action("pour sooner", "", None, "misrun"),
]
SECTIONS = (
    "headline", "pareto", "trend", "where", "readings", "causes", "actions", "care", "means",
    "aside", "words", "taken",
)  # fmt: skip
VOID = {"meta", "link", "br", "img", "input", "hr"}


class Read(HTMLParser):
    """What a page holds; fails where a tag is not closed."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.ids: list[str] = []
        self.outside: list[str] = []
        self.texts: list[str] = []
        self._open: list[str] = []
        self.feed(page)
        self.close()
        assert not self._open

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        given = dict(attrs)
        self.ids += [given["id"] or ""] if "id" in given and tag == "section" else []
        self.outside += [value or "" for name, value in attrs if name in ("src", "href")]
        assert not any(name.startswith("on") for name, _ in attrs)
        if tag not in VOID:
            self._open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self._open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.texts.append(data)

    @property
    def text(self) -> str:
        return " ".join(" ".join(self.texts).replace("\u00a0", " ").split())


@pytest.mark.parametrize("batch", [BATCH, BARE, EMPTY], ids=["full", "bare", "empty"])
def test_every_section_is_there_whatever_is_known(batch: Batch) -> None:
    page = Read(html(batch, ACTIONS if batch is BATCH else [], TODAY))
    assert tuple(page.ids) == SECTIONS
    assert "script" not in page.tags
    assert page.outside == []


def test_it_says_what_the_meeting_needs() -> None:
    text = Read(html(BATCH, ACTIONS, TODAY)).text
    for part in (
        "434 castings scrapped of 8341 poured, 5.2 % (4.7 to 5.8 %)",
        "447 rows read, 441 used, 6 set aside.",
        "By cost; not known for slag inclusion",
        "core maker C",
        "3.4 times (2.5 to 4.7)",
        "1. core not baked or cured through: 83 %",
        "Against: They do not follow the weather (slightly)",
        "What would tell the first two apart soonest",
        "Bake longer. (against: core not baked or cured through, blow from core gas)",
        "by 3 April 2026",
        "nobody yet",
        "it can flash",
        "the rules of the works and the law come first",
        "does not prove that the place",
        "more castings scrapped than poured",
        "=SUM(D2:D310)",
        "“gribbly” 7 times",
        "Dat.: date",
    ):
        assert part in text, part


def test_what_a_sheet_holds_is_never_markup() -> None:
    evil = "</style><script>alert(1)</script><img src=x onerror=alert(1)>\x07\u2028"
    batch = replace(
        BATCH,
        source=evil,
        headings=((evil, evil),),
        warnings=(evil,),
        unknown_words=(UnknownWord(evil, 1),),
        rows=replace(BATCH.rows, aside=(SetAside(evil, 1, evil, evil),)),
        pareto=tuple(replace(one, name=evil) for one in BATCH.pareto),
        charts=tuple(replace(one, name=evil) for one in BATCH.charts),
        causes=tuple(replace(one, name=evil, action=evil) for one in BATCH.causes),
        concentration=tuple(replace(one, level=evil) for one in BATCH.concentration),
        by_pattern=((evil, 1.0, 2.0), ("b", 1.0, None)),
    )
    page = Read(html(batch, [Action(evil, evil)], TODAY))
    assert "script" not in page.tags
    assert "img" not in page.tags
    assert page.outside == []


def test_a_long_list_of_rows_is_cut_and_says_so() -> None:
    aside = tuple(SetAside("Scrap", row, "no date") for row in range(500))
    page = html(replace(BATCH, rows=replace(BATCH.rows, aside=aside)), [], TODAY)
    assert f"{500 - MOST_ASIDE} more stand in the table" in page
