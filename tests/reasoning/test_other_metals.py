"""What a founder of steel, aluminium, bronze or malleable iron knows, asked of the rule base.

All of it is common practice, no source; the limits are ours. Each case gives a few exact answers
and one finding of the shop, and names the fault and the cause that must come first.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from diagnose.reject.reject import Reject
from diagnose.rulebase.book import Condition
from diagnose.session.session import Session

METALS = ("steel", "aluminium", "copper alloy", "malleable iron")

CASES = [
    (
        "steel", 80.0, {"fracture": "coarse-open", "kind-of-spot": "heavy-junction"},
        {"steel-aluminium": "0.11 %", "steel-nitrogen": "140 ppm"}, {},
        "steel-rock-candy", "steel-aluminium-nitride",
    ),
    (
        "steel", 25.0, {"bar-result": "weak", "fault-form": "wrong-metal"},
        {}, {"steel-furnace-chart": "not-shown"},
        "steel-brittle", "steel-not-normalised",
    ),
    (
        "steel", 30.0,
        {"fault-form": "seam", "crack-when": "days-later", "crack-start": "at-ground-place"},
        {}, {"steel-repair-preheated": "cold"},
        "cold-crack", "steel-repair-welded-cold",
    ),
    (
        "steel", 12.0, {"tool-feel": "hard-at-edges", "pour-smoke": "much-black-smoke"},
        {}, {}, "steel-skin-carburised", "steel-carbon-from-mould",
    ),
    (
        "aluminium", 10.0, {"bar-result": "weak", "grain": "silvery-bright"},
        {"aluminium-modified-minutes": "75 min"}, {},
        "aluminium-weak", "aluminium-not-modified",
    ),
    (
        "aluminium", 10.0, {"skin-bubble": "thin-skin-lifts-off", "runs-with": "nothing"},
        {"aluminium-solution-heat": "565 degC"}, {},
        "aluminium-burnt", "aluminium-solution-too-hot",
    ),
    (
        "aluminium", 12.0, {"hole-spread": "whole-cut-face", "cavity-shape": "round"},
        {}, {"aluminium-degassed": "missed"}, "aluminium-gas", "aluminium-not-degassed",
    ),
    (
        "copper alloy", 40.0, {"tool-feel": "soft-and-drags", "hardness-spread": "patchy"},
        {}, {"leaded-bush-chilled": "in-sand"},
        "lead-segregation", "leaded-bronze-freezes-slowly",
    ),
    (
        "copper alloy", 20.0, {"cavity-wall": "dendritic", "gate-break": "cavity"},
        {}, {"brass-heads-big-enough": "too-small"},
        "shrinkage-cavity", "brass-feeder-small",
    ),
    (
        "copper alloy", 12.0, {"tool-feel": "hard-spots"}, {"brass-iron": "0.4 %"}, {},
        "hard-spots", "brass-iron-and-silicon",
    ),
    (
        "malleable iron", 8.0, {"tool-feel": "hard-all-through", "fracture": "white-middle"},
        {}, {"malleable-oven-chart": "short"},
        "malleable-anneal-incomplete", "malleable-anneal-short",
    ),
    (
        "malleable iron", 6.0, {"tool-feel": "cuts-well", "missing-edge": "fresh-break",
                                "where-found": "at-customer"},
        {}, {"malleable-proofed-for-zinc": "not"},
        "malleable-brittle", "malleable-galvanised-brittle",
    ),
    (
        "malleable iron", 6.0, {"missing-edge": "rounded-smooth"},
        {"malleable-heat-at-mould": "1390 degC"}, {}, "misrun", "malleable-poured-cold",
    ),
]  # fmt: skip


@pytest.mark.parametrize(
    ("metal", "section", "looks", "readings", "checks", "fault", "cause"),
    CASES,
    ids=[case[-1] for case in CASES],
)
def test_the_founder_and_the_book_agree(
    start: Callable[..., Session], metal: str, section: float, looks: dict[str, str],
    readings: dict[str, str], checks: dict[str, str], fault: str, cause: str,
) -> None:  # fmt: skip
    session = start(Reject(metal=metal, section=section))
    for look, answer in looks.items():
        session.answer(look, answer)
    for name, text in readings.items():
        session.measure(name, text)
    for check, answer in checks.items():
        session.check(check, answer)
    assert session.defects()[0].id == fault
    assert session.causes()[0].id == cause


@pytest.mark.parametrize("metal", METALS)
def test_each_metal_has_causes_of_its_own_from_melt_to_feeder(
    start: Callable[..., Session], metal: str
) -> None:
    own = [each for each in start().book.conditions.values() if _only_for(each, metal)]
    roots = [each for each in own if each.base_rate is not None]
    assert len(roots) >= 20
    assert {"melt", "pouring", "gating", "fettling"} <= {each.area for each in roots}


@pytest.mark.parametrize("metal", METALS)
def test_no_cause_of_one_metal_is_offered_for_another(
    start: Callable[..., Session], metal: str
) -> None:
    session = start(Reject(metal=metal))
    others = [each for each in METALS if each != metal]
    foreign = {
        name
        for name, each in session.book.conditions.items()
        if any(_only_for(each, other) for other in others)
    }
    assert foreign
    assert not foreign & {cause.id for cause in session.causes()}


def _only_for(condition: Condition, metal: str) -> bool:
    return condition.scope is not None and condition.scope.metal == (metal,)
