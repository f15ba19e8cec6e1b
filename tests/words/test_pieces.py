"""Word pieces against the general-purpose library for them (Hugging Face's ``tokenizers``)."""

from __future__ import annotations

from functools import cache

from hypothesis import given, settings
from hypothesis import strategies as st
from tokenizers import Tokenizer
from tokenizers.models import WordPiece
from tokenizers.normalizers import BertNormalizer
from tokenizers.pre_tokenizers import BertPreTokenizer

from diagnose.words.model import WEIGHTS
from diagnose.words.pieces import Vocabulary

PIECES = (WEIGHTS / "pieces.txt").read_text(encoding="utf-8").splitlines()
OURS = Vocabulary(PIECES)


@cache
def theirs() -> Tokenizer:
    known = {piece: number for number, piece in enumerate(PIECES)}
    made = Tokenizer(WordPiece(known, unk_token="[UNK]", max_input_chars_per_word=100))
    made.normalizer = BertNormalizer(lowercase=True)
    made.pre_tokenizer = BertPreTokenizer()
    return made


SHOP = st.text(
    alphabet="abcdefghijklmnopqrstuvwxyzABCXYZ0123456 .,;:-/'\"()%&+=?!_\u00b0\u2019\u00e9\u00fc",
    max_size=60,
)


@settings(max_examples=400, deadline=None)
@given(SHOP)
def test_the_same_pieces_as_the_library(text: str) -> None:
    assert [piece.number for piece in OURS.pieces(text)] == theirs().encode(text).ids


def test_a_piece_knows_where_its_word_stands() -> None:
    text = "Blowholes, at the INGATE"
    words = [text[piece.start : piece.end] for piece in OURS.pieces(text)]
    assert list(dict.fromkeys(words)) == ["Blowholes", ",", "at", "the", "INGATE"]


def test_a_word_without_end_is_one_unknown_piece() -> None:
    assert [piece.number for piece in OURS.pieces("x" * 10_000)] == [OURS.unknown]
