from __future__ import annotations

import pytest

from diagnose.rulebase.book import Book
from diagnose.words.model import Model
from diagnose.words.reader import Reader
from tests import shipped


@pytest.fixture(scope="session")
def book() -> Book:
    return shipped.book()


@pytest.fixture(scope="session")
def reader() -> Reader:
    return shipped.first().reader


@pytest.fixture(scope="session")
def model(reader: Reader) -> Model:
    return reader.model
