from __future__ import annotations

import pytest

from diagnose.rulebase.book import Book
from diagnose.rulebase.load import load
from diagnose.words.model import Model
from diagnose.words.reader import Reader


@pytest.fixture(scope="session")
def book() -> Book:
    return load()


@pytest.fixture(scope="session")
def reader(book: Book) -> Reader:
    return Reader(book)


@pytest.fixture(scope="session")
def model(reader: Reader) -> Model:
    return reader.model
