"""Run every check over a draft, and sort what they find by place."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from diagnose.basics.errors import Problem
from diagnose.rulebase.checks import (
    amounts,
    answer_count,
    bands,
    blank_text,
    caution_for_words,
    clique,
    cycles,
    defects_without_path,
    drawings,
    figures_in_range,
    first_line,
    look_alikes,
    near_twins,
    no_action,
    no_caution,
    one_limit,
    only_if_cycles,
    orphans,
    overlapping_answers,
    pairs,
    renamed_chains,
    renamed_in_use,
    renamed_to_unknown,
    repeated_links,
    said,
    same_name,
    same_sight,
    scale_words,
    scopes,
    signatures,
    sources,
    sums,
    unconfirmable,
    units,
    unknown_answers,
    unknown_ids,
    windows,
)
from diagnose.rulebase.draft import Draft

Check = Callable[[Draft], Iterator[Problem]]

MUST_HOLD: tuple[Check, ...] = (
    unknown_ids.check,
    unknown_answers.check,
    scale_words.check,
    figures_in_range.check,
    answer_count.check,
    cycles.check,
    only_if_cycles.check,
    same_sight.check,
    renamed_to_unknown.check,
    renamed_chains.check,
    signatures.check,
    scopes.check,
    units.check,
    drawings.check,
    windows.check,
    bands.check,
    sums.check,
    clique.check,
)
"""Without these the book cannot be worked with; loading it runs them too."""

OUGHT_TO_HOLD: tuple[Check, ...] = (
    amounts.check,
    overlapping_answers.check,
    look_alikes.check,
    pairs.check,
    unconfirmable.check,
    near_twins.check,
    no_action.check,
    no_caution.check,
    caution_for_words.check,
    one_limit.check,
    sources.check,
    orphans.check,
    defects_without_path.check,
    repeated_links.check,
    same_name.check,
    renamed_in_use.check,
    blank_text.check,
    first_line.check,
    said.check,
)
"""These find what is missing, doubtful or of no use; only ``book check`` runs them."""


def run(draft: Draft, checks: tuple[Check, ...] = MUST_HOLD + OUGHT_TO_HOLD) -> list[Problem]:
    """Return everything that is wrong with a draft, its reading included, sorted by place."""
    found = set(draft.problems)
    for check in checks:
        found.update(check(draft))
    return sorted(found)
