"""The causes of made-up batches, weighed with the shipped book."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy.stats import binom

from diagnose.batch.causes.answer import Answer, causes_of
from diagnose.batch.causes.apart import castings_to_tell, castings_until
from diagnose.batch.causes.case import Case
from diagnose.batch.causes.chain import sampled
from diagnose.batch.causes.group import Group, Level, Pooled, Shop, Sorting
from diagnose.batch.causes.opened import heard_as, reject_of
from diagnose.batch.causes.signs import signs
from diagnose.engine.posterior import by_root, posterior
from diagnose.reasoning.evidence import evidence_of
from diagnose.reasoning.setup import NONE
from diagnose.reasoning.taking import check_found, measurement_found
from diagnose.reject.found import CHECK, Hearing
from diagnose.rulebase.job import Job
from diagnose.session.library import Library
from diagnose.session.session import Session, open_session
from tests.bench import batch_causes

JOB = Job("grey iron", "green sand", None)
MISRUNS = Group(
    "misruns", (("misrun", 1.0),), 40, 960,
    (Sorting("ladle order", (Level("first", 1, 120), Level("between", 6, 480),
                             Level("last", 33, 360))),),
    where=(("ladle order", "last"),), rate_elsewhere=0.012,
)  # fmt: skip
BLOWS = Group(
    "blows", (("blow-mould-gas", 1.0),), 35, 900,
    (Sorting("weather", (Level("after rain", 25, 300), Level("dry", 10, 600))),),
)  # fmt: skip
SHUTS = replace(MISRUNS, name="cold shuts", defects=(("cold-shut", 1.0),))


@pytest.fixture(scope="module")
def library() -> Library:
    return open_session().library


@pytest.fixture(scope="module")
def shop(library: Library) -> Shop:
    book = library.book
    wet = measurement_found(book, "sand-moisture", "5.5 %")
    cold = measurement_found(book, "pouring-temperature", "1280 degC")
    return Shop(JOB, (wet, cold))


@pytest.fixture(scope="module")
def answer(library: Library, shop: Shop) -> Answer:
    return causes_of(library, shop, (MISRUNS, BLOWS, SHUTS))


def test_one_group_with_nothing_but_its_fault_is_one_reject(library: Library) -> None:
    shop = Shop(JOB, (check_found(library.book, next(iter(library.book.checks)), next(iter(
        library.book.checks.values())).bad),))  # fmt: skip
    desk = library.desk(JOB)
    plain = Group("misruns", (("misrun", 1.0),), 2)
    case = Case(desk, shop, [plain])
    reject = reject_of(desk, shop, plain)
    roots = by_root(desk.model, posterior(desk.model, evidence_of(desk, reject)))
    assert np.allclose(case.responsible[0], roots, atol=1e-9)


def test_probabilities_shares_and_castings_hang_together(answer: Answer) -> None:
    assert answer.method == "sampled"
    assert 0.0 <= answer.apart < 0.15
    bad = {"misrun": 40, "cold-shut": 40, "blow-mould-gas": 35}
    for cause in answer.causes:
        assert 0.0 <= cause.probability <= 1.0
        assert sum(castings for _, castings in cause.shares) == pytest.approx(cause.share * 115)
        assert all(castings <= bad[fault] + 1e-9 for fault, castings in cause.shares)
    assert sum(cause.share for cause in answer.causes) + answer.none <= 1.0 + 1e-9
    assert [c.probability for c in answer.causes] == sorted(
        (c.probability for c in answer.causes), reverse=True
    )


def test_one_cause_explains_both_faults_of_the_ladles_end(answer: Answer, library: Library) -> None:
    """Common practice, no source: iron that waits too long misruns and shuts cold at the end."""
    waited = next(c for c in answer.causes if c.id == "waited-too-long")
    shares = dict(waited.shares)
    assert shares["misrun"] > 5.0
    assert shares["cold-shut"] > 5.0
    alone = causes_of(library, Shop(JOB), (MISRUNS,))
    before = next(c.probability for c in alone.causes if c.id == "waited-too-long")
    assert waited.probability > 1.5 * before


def test_two_causes_may_be_at_work(answer: Answer) -> None:
    ids = [cause.id for cause in answer.causes]
    assert "sand-too-wet" in ids[:4]
    wet = answer.causes[ids.index("sand-too-wet")]
    assert dict(wet.shares)["blow-mould-gas"] == max(c for _, c in wet.shares)


def test_reasons_are_in_decibans_and_in_words(answer: Answer) -> None:
    wet = next(c for c in answer.causes if c.id == "sand-too-wet")
    texts = {reason.text: reason.weight for reason in wet.reasons}
    moist = next(weight for text, weight in texts.items() if "moisture: 5.5" in text)
    assert moist > 1.0
    assert any("after rain" in text and weight > 1.0 for text, weight in texts.items())
    assert not any("speaks" in text for text in texts)  # the page says For or Against before it
    weights = [abs(reason.weight) for reason in wet.reasons]
    assert weights == sorted(weights, reverse=True)


def test_a_clues_push_is_what_leaving_it_out_changes(library: Library) -> None:
    """Exact for one group: weighed again without the rain, the odds fall by what was said."""
    shop = Shop(JOB)
    with_rain, without = (causes_of(library, shop, (group,)) for group in
                          (BLOWS, replace(BLOWS, sortings=())))  # fmt: skip
    one, other = (next(c for c in a.causes if c.id == "sand-too-wet") for a in (with_rain, without))
    odds = [10.0 * np.log10(c.probability / (1.0 - c.probability)) for c in (one, other)]
    said = next(r.weight for r in one.reasons if "after rain" in r.text)
    assert said == pytest.approx(odds[0] - odds[1], abs=1e-6)


def test_every_cause_has_its_correction_and_hazardous_areas_their_cautions(
    answer: Answer, library: Library
) -> None:
    for cause in answer.causes:
        assert cause.action
        assert cause.name == library.book.conditions[cause.id].name
        if library.book.areas[cause.area].hazardous:
            assert cause.cautions


def test_what_tells_the_first_two_apart_names_look_check_reading_and_trial(
    answer: Answer, library: Library
) -> None:
    kinds = {tell.kind: tell for tell in answer.tells}
    assert {"look", "check", "trial"} <= kinds.keys()
    first = answer.causes[0].name
    assert first in kinds["trial"].text
    assert kinds["trial"].castings is not None
    assert kinds["look"].castings is not None
    assert "speaks for" in kinds["check"].text


def test_a_trial_is_as_long_as_its_power_says() -> None:
    count = castings_until(0.10, 0.02, 0.8)
    assert count is not None

    def power(castings: int) -> float:
        most = max((k for k in range(castings + 1) if binom.cdf(k, castings, 0.10) <= 0.05),
                   default=-1)  # fmt: skip
        return float(binom.cdf(most, castings, 0.02)) if most >= 0 else 0.0

    assert power(count) >= 0.8
    assert power(count - 1) < 0.8
    assert castings_until(0.02, 0.02, 0.8) is None
    assert castings_until(0.0001, 0.00009, 0.8) is None


def test_castings_to_look_at_tell_both_ways() -> None:
    count = castings_to_tell(0.75, 0.25, 0.9)
    assert count is not None
    limit = int(binom.ppf(0.9, count, 0.25))
    assert binom.cdf(limit, count, 0.25) >= 0.9
    assert binom.sf(limit, count, 0.75) >= 0.9


def test_a_reject_is_opened_with_what_the_sheet_knows(library: Library, shop: Shop) -> None:
    said = Hearing(CHECK, "x", "y", 0.9, "z", "z")
    group = replace(BLOWS, remarks=(Pooled((said,), 3),))
    reject = reject_of(library.desk(JOB), shop, group, "blow of 4 March")
    assert (reject.name, reject.metal, reject.process) == (
        "blow of 4 March", "grey iron", "green sand",
    )  # fmt: skip
    assert reject.found == shop.found
    entries = {(h.kind, h.id, h.answer) for h in reject.heard}
    assert ("called", "blow-mould-gas", "") in entries
    assert ("look", "weather", "after-rain-or-damp") in entries
    session = Session(library, reject_of(library.desk(JOB), shop, BLOWS))
    assert "sand-too-wet" in [cause.id for cause in session.causes()[:3]]


def test_counts_heard_in_words_say_as_much_as_the_counts(library: Library) -> None:
    """The virtual evidence of the hearing has the Bayes factor of the counts."""
    desk = library.desk(JOB)
    sign = next(s for s in signs(library.book, BLOWS) if s.look == "weather")
    hearing = heard_as(desk, sign)
    rate = float(desk.model.rates[desk.looks["weather"]][0])
    if hearing.probability < 0.97:
        said = 1.0 + hearing.probability / rate / (1.0 - hearing.probability)
        assert said == pytest.approx(sign.factors["after-rain-or-damp"])
    assert hearing.answer == "after-rain-or-damp"


def test_checks_that_inspectors_wrote_of_count_for_the_shop_and_only_twice_at_most(
    library: Library,
) -> None:
    book, desk = library.book, library.desk(JOB)
    name = next(n for n in book.checks if n in desk.findings)
    cause = next(c for c in book.checks[name].reveals if c in desk.roots)

    def logs(count: float) -> float:
        said = Hearing(CHECK, name, book.checks[name].bad, 0.8, "so", "so")
        groups = (replace(BLOWS, remarks=(Pooled((said,), count),)), MISRUNS)
        return float(Case(desk, Shop(JOB), groups).joint.at_work[desk.roots.index(cause)])

    once, often, oftener = logs(1), logs(50), logs(5000)
    assert often >= once
    assert oftener == pytest.approx(often, rel=0.02)


def test_nothing_is_claimed_of_no_group_and_only_the_largest_are_weighed(library: Library) -> None:
    with pytest.raises(ValueError, match="no group"):
        causes_of(library, Shop(JOB), ())
    many = tuple(replace(BLOWS, name=f"blows {k}", bad=10.0 + k) for k in range(11))
    found = causes_of(library, Shop(JOB), many)
    assert len(found.groups) == 9
    assert "blows 0" in found.warnings[0]


@pytest.fixture(scope="module")
def scores(library: Library) -> dict[str, batch_causes.Score]:
    kinds = ("one cause", "each its own")
    return {kind: batch_causes.simulate(library, kind, 10, seed=7) for kind in kinds}


def test_sharing_one_shop_finds_a_planted_cause_more_often_than_each_group_alone(
    scores: dict[str, batch_causes.Score],
) -> None:
    one = scores["one cause"]
    assert batch_causes.share(one.together, 3) > batch_causes.share(one.alone, 3)
    assert batch_causes.share(one.at_work, 3) > 0.6
    each = scores["each its own"]
    assert batch_causes.share(each.together, 3) > batch_causes.share(each.alone, 3) - 0.15


def test_noise_is_given_no_certain_cause(library: Library) -> None:
    assert max(batch_causes.claims_on_noise(library, 40, seed=5)) < 0.95


def test_sampling_agrees_with_the_exact_pair_on_the_shipped_book(
    library: Library, shop: Shop
) -> None:
    case = Case(library.desk(JOB), shop, (MISRUNS, BLOWS))
    assert case.joint.exact
    other = sampled(case.cells, case.unions, case.weights, seed=3)
    assert np.abs(other.at_work - case.joint.at_work).max() < 0.03
    assert other.at_work[case.desk.roots.index(NONE)] == pytest.approx(
        case.joint.at_work[case.desk.roots.index(NONE)], abs=0.01
    )
