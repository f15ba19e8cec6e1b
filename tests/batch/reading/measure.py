"""``python -m tests.batch.reading.measure``: fault words that nothing was tuned on.

Every fifth labelled word of ``knowledge/said/fault-words.yaml``, chosen by a fixed hash, as in the
open test of the reader. For measuring only.
"""

from __future__ import annotations

from dataclasses import dataclass

import yaml

from diagnose.batch.reading.faultwords import FaultWords
from diagnose.batch.reading.knownwords import kept_for_measuring
from tests.conftest import ROOT

KNOWLEDGE = ROOT / "knowledge"


@dataclass(frozen=True, slots=True)
class Measured:
    """Of the words that name a fault: the share that is understood; of these, where the likeliest
    fault is that of the label, where it is none of the label's, and how much of the probability
    lies as the label has it. Of the words that name none: the share that is left unknown.
    """

    words: int
    understood: float
    first_right: float
    wrong: float
    shared: float
    none_left_open: float


def open_words() -> list[tuple[str, dict[str, float]]]:
    rows = yaml.safe_load((KNOWLEDGE / "said" / "fault-words.yaml").read_text())["fault words"]
    return [(r["fault"], r["means"]) for r in rows if kept_for_measuring(r["fault"])]


def measured(words: FaultWords) -> Measured:
    rows = open_words()
    named = words.named([text for text, _ in rows])
    pairs = [(means, dict(one.faults)) for (_, means), one in zip(rows, named, strict=True)]
    of_faults = [pair for pair in pairs if pair[0]]
    known = [pair for pair in of_faults if pair[1]]
    none = [found for means, found in pairs if not means]

    def first(shares: dict[str, float]) -> str:
        return max(shares, key=lambda name: shares[name])

    return Measured(
        len(rows),
        len(known) / len(of_faults),
        sum(first(means) == first(found) for means, found in known) / len(known),
        sum(first(found) not in means for means, found in known) / len(known),
        sum(min(means.get(k, 0.0), v) for means, found in known for k, v in found.items())
        / len(known),
        sum(not found for found in none) / len(none),
    )


def main() -> None:
    from diagnose.rulebase.cache import load_compiled
    from diagnose.session.library import Library

    print(measured(FaultWords(Library(*load_compiled(KNOWLEDGE)), KNOWLEDGE)))


if __name__ == "__main__":
    main()
