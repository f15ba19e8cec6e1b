"""``python -m tests.golden.words``: how often what is called proved or acting was right.

Over the histories whose cause is known, from exact answers. A line is right where one of its
conditions is the true cause or on its way to the true fault. The threshold of *proved* was set on
the histories that are not held out; those held out only measure it. The histories are told by
people who knew the cause, so the check that proves it stands in them more often than by chance:
the words promise less on a reject that nobody has solved.
"""

from __future__ import annotations

import json
from collections import defaultdict

from diagnose.reasoning.present import WORDS
from diagnose.session.session import Session, open_session
from tests.golden.score import History, answered, histories


def way(history: History, session: Session) -> set[str]:
    """Return the true causes and all that lies on their ways to the true fault."""
    return {
        name
        for account in session.desk.accounts
        if account.root in history.cause and account.defect in history.defect
        for name in account.path
    }


def main() -> None:
    """Print how often each word was right, and end with one line of JSON."""
    fresh = open_session()
    right: dict[tuple[bool, str], list[bool]] = defaultdict(list)
    for history in histories():
        session = answered(history, fresh)
        true = way(history, session)
        for one in session.standings():
            right[history.held_out, one.word].append(bool(true & {*one.ids}))
    summary = {}
    for held_out in (False, True):
        print("held out" if held_out else "not held out")
        for word in WORDS:
            told = right[held_out, word]
            if told:
                print(
                    f"  {word:12} right {sum(told):3} of {len(told):3}: {sum(told) / len(told):.2f}"
                )
                summary[f"{word}{', held out' if held_out else ''}"] = [sum(told), len(told)]
    print(json.dumps(summary))


if __name__ == "__main__":
    main()
