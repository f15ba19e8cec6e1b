"""Make many texts of few: joined, shortened, misspelt, with chatter around them."""

from __future__ import annotations

import re
from dataclasses import dataclass
from random import Random

from diagnose.words.training.corpus import Example

JOINTS = (", ", ", ", " and ", "; ", " - ", ". ", " with ", " but ", " ")
BEFORE = (
    "I think", "we had", "there is", "it looks like", "some of them have", "the lad says",
    "on this one", "again", "on most castings", "today", "got", "showing", "you can see", "bit of",
    "seems", "had it again on nights", "rejected for", "boss wants to know why", "third time",
    "same as last week", "customer says", "note from the bench:", "inspector wrote",
)  # fmt: skip
BEHIND = (
    "as usual", "again", "see tag", "what a mess", "never seen it before", "please advise",
    "scrap", "on the bench now", "if you ask me", "same as before",
)  # fmt: skip
NOES = (
    "no sign of {}", "not {}", "no {}", "never any {}", "nobody saw {}", "without {}",
    "it is not {}", "{}? no", "could not see {}",
)  # fmt: skip
SAYS_NO = re.compile(r"\b(?:no|not|never|none|nothing|without|nae|nowt|nobody)\b|n't\b", re.I)


@dataclass(frozen=True, slots=True)
class Sample:
    """A text made of examples, with their labels together."""

    text: str
    kind: str
    means: dict[str, float]
    may: frozenset[str]
    never: frozenset[str]


def single(example: Example) -> Sample:
    """Return an example as it is."""
    shares = example.shares or (1.0,) * len(example.means)
    means = dict(zip(example.means, shares, strict=True))
    return Sample(
        example.text, example.kind, means, frozenset(example.may), frozenset(example.never)
    )


def varied(parts: list[Example], draw: Random) -> Sample:
    """Return one to several examples joined, misspelt and dressed with chatter."""
    singles = [single(part) for part in parts]
    if singles[0].kind == "saying" and draw.random() < 0.06:
        singles[0] = denied(singles[0], draw)
    texts = [one.text.rstrip(".") for one in singles]
    text = texts[0]
    for more in texts[1:]:
        text += draw.choice(JOINTS) + more
    if draw.random() < 0.25:
        text = f"{draw.choice(BEFORE)} {text}"
    if draw.random() < 0.12:
        text = f"{text} {draw.choice(BEHIND)}"
    if draw.random() < 0.15:
        text = without_a_word(text, draw)
    means: dict[str, float] = {}
    for one in singles:
        means |= one.means
    may = frozenset[str]().union(*(one.may for one in singles)) - means.keys()
    never = frozenset[str]().union(*(one.never for one in singles)) - means.keys() - may
    kinds = {one.kind for one in singles}
    kind = "remark" if kinds == {"remark"} else singles[0].kind
    if kind == "remark" and len(kinds) > 1:
        kind = "said"
    return Sample(misspelt(text, draw), kind, means, may, never)


def denied(sample: Sample, draw: Random) -> Sample:
    """Return the contrary of a saying, where it does not say "no" itself."""
    if SAYS_NO.search(sample.text):
        return sample
    text = draw.choice(NOES).format(sample.text)
    return Sample(text, sample.kind, {}, sample.may, frozenset(sample.means))


def misspelt(text: str, draw: Random) -> str:
    """Return a text with up to two slips of the finger."""
    for _ in range(draw.choice((0, 0, 0, 0, 1, 1, 2))):
        if len(text) < 6:
            break
        at = draw.randrange(1, len(text) - 1)
        before, here, behind = text[:at], text[at], text[at + 1 :]
        text = draw.choice((
            before + behind, before + here + here + behind, before + behind[:1] + here + behind[1:],
        ))  # fmt: skip
    return text


def without_a_word(text: str, draw: Random) -> str:
    """Return a text with one word left out, as in hasty notes."""
    words = text.split()
    if len(words) > 4:
        gone = draw.randrange(len(words))
        if not SAYS_NO.fullmatch(words[gone]):
            del words[gone]
    return " ".join(words)
