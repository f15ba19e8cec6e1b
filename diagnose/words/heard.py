"""What a phrase was heard to say, as data."""

from __future__ import annotations

from dataclasses import dataclass

from diagnose.reject.found import SURE

NEAREST = 5
"""Meanings that are offered for what was not taken down."""


@dataclass(frozen=True, slots=True)
class Meaning:
    """One thing that a phrase may say.

    ``kind``: ``look``, ``check`` or ``called`` (a fault's name, then ``id`` is the defect's and
    ``answer`` empty); ``words``: the part of the phrase that says it.
    """

    kind: str
    id: str
    answer: str
    probability: float
    words: str

    @property
    def sure(self) -> bool:
        """Whether it is sure enough to be taken down."""
        return self.probability >= SURE


@dataclass(frozen=True, slots=True)
class Amount:
    """A reading that a phrase gives: the measurement, and what was typed for it."""

    id: str
    text: str
    probability: float
    words: str


@dataclass(frozen=True, slots=True)
class Heard:
    """All that was heard in one phrase, the surest first.

    ``taken``: sure; ``likely``: worth asking about; ``faint``: not worth asking about, but several
    of them together tell something; ``ruled_out``: answers that are said not to
    hold; ``nearest``: the nearest of what was not taken; ``amounts``: readings; ``missed``: parts
    of the phrase of which nothing was made.
    """

    phrase: str
    taken: tuple[Meaning, ...] = ()
    likely: tuple[Meaning, ...] = ()
    faint: tuple[Meaning, ...] = ()
    ruled_out: tuple[Meaning, ...] = ()
    nearest: tuple[Meaning, ...] = ()
    amounts: tuple[Amount, ...] = ()
    missed: tuple[str, ...] = ()

    @property
    def anything(self) -> bool:
        """Whether anything at all was understood."""
        return bool(self.taken or self.likely or self.ruled_out or self.amounts)
