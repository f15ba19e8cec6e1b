"""Everything that an answer, a check or a defect is called in the book."""

from __future__ import annotations

from collections.abc import Iterator

from diagnose.reject.found import CALLED, CHECK, LOOK
from diagnose.rulebase.book import Book


def sayings_of(book: Book) -> Iterator[tuple[str, str, str, str]]:
    """Yield kind, id, answer and text of everything that people may say."""
    for look_id, look in book.looks.items():
        for answer_id, answer in look.answers.items():
            spoken = (answer.say,) if " " in answer.say else ()  # one word answers a question only
            for text in dict.fromkeys((*answer.words, *spoken)):
                yield LOOK, look_id, answer_id, text
    for check_id, check in book.checks.items():
        for answer_id, phrases in check.words.items():
            for text in phrases:
                yield CHECK, check_id, answer_id, text
    for defect_id, defect in book.defects.items():
        for text in dict.fromkeys((defect.name, *defect.also)):
            yield CALLED, defect_id, "", text
