"""How many: published numbers, exact enumeration, and statsmodels."""

from __future__ import annotations

import numpy as np
import pytest
from statsmodels.stats.proportion import power_proportions_2indep

from diagnose.batch.statistics import power


def test_numbers_of_rs_documentation() -> None:
    # power.prop.test: 50 a side, 0.50 and 0.75: power 0.740; power 0.90: 76.7 a side.
    rough = power._approximate(0.75, 0.50, 0.90, 0.05, 2)
    assert rough == pytest.approx(76.7, abs=0.05)
    assert power._normal_power(50, 0.75, 0.50, 0.05, 2) == pytest.approx(0.740, abs=5e-4)


def test_number_of_the_nist_handbook() -> None:
    # NIST/SEMATECH e-Handbook 7.2.4.2: one rate against a known one, 10 % to 20 %, one-sided 5 %,
    # power 90 %: 102, and 112 with its correction for continuity. Another test (one sample), so the
    # formula is taken here and the correction from the room.
    from scipy import stats

    far, near = stats.norm.isf(0.05), stats.norm.ppf(0.90)
    root = far * np.sqrt(0.1 * 0.9) + near * np.sqrt(0.2 * 0.8)
    assert np.ceil((root / 0.1) ** 2) == 102
    assert power.corrected(2 * 102, 0.2, 0.1) / 2 == pytest.approx(112, abs=5)


def test_agrees_with_statsmodels_for_many() -> None:
    castings, reached = power.castings_a_side(0.08, 0.05)
    theirs = power_proportions_2indep(
        0.03, 0.05, castings, ratio=1, alpha=0.05, alternative="larger"
    )
    assert reached == pytest.approx(0.8, abs=0.002)
    assert theirs.power == pytest.approx(reached, abs=0.01)


@pytest.mark.parametrize("aim", [0.8, 0.9])
@pytest.mark.parametrize(("before", "after"), [(0.30, 0.05), (0.5, 0.2), (0.20, 0.08)])
def test_power_is_reached_in_simulated_trials(before: float, after: float, aim: float) -> None:
    castings, reached = power.castings_a_side(before, after, power=aim)
    assert reached >= aim
    draw = np.random.default_rng(27)
    x, y = draw.binomial(castings, before, 4000), draw.binomial(castings, after, 4000)
    seen = power.mid_p(castings)[x, y] <= 0.05
    assert seen.mean() == pytest.approx(reached, abs=0.02)


def test_mid_p_is_fishers_with_half_the_table() -> None:
    from scipy import stats

    table = power.mid_p(12)
    for x, y in ((3, 1), (8, 2), (0, 0), (12, 12), (5, 9)):
        law = stats.hypergeom(24, x + y, 12)
        assert table[x, y] == pytest.approx(law.sf(x) + law.pmf(x) / 2)
    # Fisher's tea, published one-sided p 0.242857 (Penn State STAT 504): with all of the table.
    law = stats.hypergeom(8, 4, 4)
    assert power.mid_p(4)[3, 1] + law.pmf(3) / 2 == pytest.approx(0.242857, abs=1e-6)


def test_exact_power_is_the_level_where_nothing_differs() -> None:
    assert power.exact_power(60, 0.2, 0.2, 0.05) <= 0.06
    assert power.exact_power(60, 0.4, 0.1, 0.05) > power.exact_power(30, 0.4, 0.1, 0.05)


def test_castings_of_one_mould_count_for_less() -> None:
    alone = power.trial(0.10, 0.04)
    alike = power.trial(0.10, 0.04, per_mould=6, alike=0.2)
    assert alone is not None
    assert alike is not None
    assert power.design_effect(6, 0.2) == pytest.approx(2.0)
    assert alike.castings == pytest.approx(2 * alone.castings, rel=0.02)
    assert alike.moulds == pytest.approx(alike.castings / 6, abs=1)
    assert power.trial(0.1, 0.1) is None
    assert power.trial(0.1, 1.2) is None


def test_castings_to_find() -> None:
    # log(0.05) / log(0.95), the formula of an engineering note on GitHub, gives 59.
    assert power.castings_to_find(0.05, 0.95) == 59
    assert power.castings_to_find(0.5, 0.9) == 4
    assert power.castings_to_find(0.2, 0.9, lot=20) == 9
    assert power.castings_to_find(1.0) == 1
    assert power.castings_to_find(0.0) is None
    assert power.castings_to_find(0.02, 0.9, lot=10) is None


def test_castings_to_cut_tell_two_causes_apart() -> None:
    found = power.castings_to_cut(0.7, 0.1)
    assert found is not None
    draw = np.random.default_rng(28)
    assert (draw.binomial(found.castings, 0.7, 20_000) >= found.least).mean() == pytest.approx(
        found.power, abs=0.01
    )
    assert (draw.binomial(found.castings, 0.1, 20_000) >= found.least).mean() == pytest.approx(
        found.false, abs=0.01
    )
    assert found.power >= 0.8
    assert found.false <= 0.1
    assert power.castings_to_cut(0.1, 0.7) is None
    assert power.castings_to_cut(0.51, 0.5, most=30) is None
