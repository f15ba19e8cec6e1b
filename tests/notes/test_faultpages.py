"""The page of faults: every fault once, every picture there, nothing of the book as markup."""

from __future__ import annotations

import re
from dataclasses import replace
from xml.etree import ElementTree

import pytest

from diagnose.notes.faultpages import CAUSES, PAGE, files, page, picture
from diagnose.reasoning.setup import Desk
from diagnose.rulebase.job import ANY
from diagnose.session.session import Session
from tests import shipped


@pytest.fixture(scope="module")
def desk(first: Session) -> Desk:
    """For any metal, as ``diagnose book faults`` has it."""
    return first.library.desk(ANY)


@pytest.fixture(scope="module")
def made(desk: Desk) -> dict[str, str]:
    return files(desk)


def test_every_fault_stands_on_the_page_once_in_the_order_of_names(made: dict[str, str]) -> None:
    names = re.findall(r"^## (.+)$", made[PAGE], re.MULTILINE)
    assert names == sorted(defect.name for defect in shipped.book().defects.values())


def test_every_picture_that_the_page_shows_is_made_and_no_other(made: dict[str, str]) -> None:
    shown = re.findall(r'<img src="([^"]+)" width="\d+" alt="([^"]+)">', made[PAGE])
    assert [path for path, _ in shown] != []
    assert {path for path, _ in shown} == made.keys() - {PAGE}
    assert all(told for _, told in shown)


def test_every_picture_is_a_whole_drawing(made: dict[str, str]) -> None:
    for path, text in made.items():
        if path != PAGE:
            assert ElementTree.fromstring(text).tag.endswith("svg")


def test_causes_are_named_with_their_shares_the_commonest_first(made: dict[str, str]) -> None:
    lines = re.findall(r"^Comes from: (.+)\.$", made[PAGE], re.MULTILINE)
    assert len(lines) == len(shipped.book().defects)
    for line in lines:
        shares = [int(share) for share in re.findall(r"\((\d+)%\)", line)]
        assert 1 <= len(shares) <= CAUSES
        assert shares == sorted(shares, reverse=True)
        assert sum(shares) <= 103  # each is rounded by itself
        if " more" not in line:
            assert sum(shares) >= 97


def test_a_name_of_the_book_is_text_on_the_page(desk: Desk) -> None:
    drop = replace(desk.book.defects["drop"], name="dr*op_ <b>", also=("[x](y)",))
    odd = replace(desk, book=replace(desk.book, defects={**desk.book.defects, "drop": drop}))
    text = page(odd)
    assert "<b>" not in text
    assert "[x](y)" not in text


def test_a_fault_of_one_metal_says_so(desk: Desk, made: dict[str, str]) -> None:
    scoped = [one for one in desk.book.defects.values() if one.scope and one.scope.metal]
    assert scoped
    assert made[PAGE].count("Only in: ") == len(scoped)


def test_a_picture_is_named_after_its_fault_and_number() -> None:
    assert picture("drop", 2) == "faults/drop-2.svg"
