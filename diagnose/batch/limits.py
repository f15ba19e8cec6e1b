"""What the figures of a batch mean, and what they cannot say: sentences beside every pack."""

from __future__ import annotations

from diagnose.batch.result import Batch

MOST_NAMED = 4
FEW_CASTINGS = 30
"""Castings of a fault below which its shares say little: common practice, no source."""


def meaning(batch: Batch) -> list[str]:
    """Return how the figures are to be read."""
    told = [
        "An interval in brackets holds the true figure in about 95 of 100 such sheets.",
        "A signal is a point or a run that chance alone would hardly make; all else may be chance, "
        "and is no reason to change anything.",
    ]
    if batch.concentration or batch.readings:
        told.append(
            "q allows for everything that was tried at once: of all places and readings told with "
            "q up to 0.05, about one in twenty is there by chance."
        )
    if batch.causes:
        told.append(
            "The probability of a cause is that it is at work in this batch. Several can be, so "
            "they do not add up to 100 %."
        )
    if any(chart.kind.startswith("laney") for chart in batch.charts):
        told.append(
            "Where castings of one day or heat go bad together, the limits are widened by as much "
            "as the days differ more than chance makes them (Laney's correction)."
        )
    return told


def cannot_say(batch: Batch) -> list[str]:
    """Return what these figures cannot say."""
    told = []
    if not batch.poured:
        told.append(
            "How many castings were poured is not known, so these are shares of the scrap and not "
            "rates: a share can rise because another fault fell."
        )
    if batch.first is None:
        told.append("There are no dates, so nothing can be said of when it began.")
    if batch.poured and not batch.readings:
        told.append("There are no shop readings beside it, so none could be held against a fault.")
    told.append(
        "That a fault stands at one place, or moves with a reading, does not prove that the place "
        "or the reading makes it. Prove a cause on a few moulds before anything is changed."
    )
    few = [one.name for one in batch.pareto if one.count < FEW_CASTINGS]
    if few:
        told.append(
            f"Of {_all(few)} there are too few castings (under {FEW_CASTINGS}) to say more than "
            "that they are there."
        )
    if batch.unknown_words:
        told.append(
            "Rejects whose word is not known count in the whole and in no fault; teach the word "
            "and read the sheet again."
        )
    told.append(
        "Castings that the customer sent back, and faults nobody looked for, are not in it."
    )
    return told


def _all(names: list[str]) -> str:
    if len(names) > MOST_NAMED + 1:
        return f"{', '.join(names[:MOST_NAMED])} and {len(names) - MOST_NAMED} more"
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


SAFETY = (
    "Where a correction touches molten metal, gas, dust, lifting or electricity, the rules of the "
    "works and the law come first, and licensed people do what they alone may do."
)
"""Stands in every pack."""
