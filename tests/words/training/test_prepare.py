"""The data that the training reads."""

from __future__ import annotations

import pytest

from diagnose.rulebase.book import Book
from diagnose.words.model import WEIGHTS, Model
from diagnose.words.pieces import Vocabulary
from diagnose.words.training.prepare import classes_of, first_looks, kept_pieces


def test_all_that_the_texts_use_is_kept_and_cut_the_same() -> None:
    base = (WEIGHTS / "pieces.txt").read_text(encoding="utf-8").splitlines()
    text = "smooth holes beside the core, moisture 4.6 %"
    kept = kept_pieces(base, [text])
    assert kept == sorted(set(kept))
    whole, small = Vocabulary(base), Vocabulary([base[n] for n in kept])
    assert [base[p.number] for p in whole.pieces(text)] == [
        small.texts[p.number] for p in small.pieces(text)
    ]


def test_the_weights_tell_apart_what_the_book_asks(book: Book, model: Model) -> None:
    """Answers that came after the training are heard by their sayings; they may only be few.

    Since the last training the checks of steel, copper alloys, aluminium and malleable iron came
    in; the next training brings the share down again.
    """
    classes = classes_of(book)
    assert len(classes) == len(set(classes))
    known = {*model.classes}
    assert sum(name not in known for name in classes) <= 0.15 * len(classes)


@pytest.mark.parametrize("look", ["fault-form"])
def test_the_looks_that_others_build_on(book: Book, look: str) -> None:
    assert look in first_looks(book)
