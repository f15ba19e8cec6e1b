"""``python -m tests.bench.batch_causes``: are planted causes found, and is noise left be?

Batches are drawn from the shipped book: one root condition behind all groups, or two, or one for
each group by itself; each group's account by its weight in the book, its fault's word, its counts
and its remarks as the book says that they come out; a few checks of the one shop. This measures
the arithmetic and what sharing one shop gains, not whether the book is right about a real shop.
Beside it the same groups, each taken for a shop of its own.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from time import perf_counter

import numpy as np

from diagnose.batch.causes.case import Case
from diagnose.batch.causes.chain import SWEEPS, sampled
from diagnose.batch.causes.group import Group, Level, Pooled, Shop, Sorting
from diagnose.engine.posterior import by_root
from diagnose.reasoning.setup import CALLED, NONE, Desk
from diagnose.reject.found import LOOK, Checked, Found, Hearing
from diagnose.rulebase.book import Signature
from diagnose.rulebase.job import Job
from diagnose.session.library import Library
from diagnose.session.session import open_session
from tests.bench.questions import reliability
from tests.bench.simulate import draw_finding, draw_state

JOB = Job("grey iron", "green sand", None)
KINDS = ("one cause", "two causes", "each its own")
CHECKS = 6
"""Checks answered in the shop: two on the causes, were they known, the rest at random."""
SHEET_HAS = 6
"""Factors that a sheet has, drawn anew for each."""
CERTAIN = 0.95


@dataclass(frozen=True, slots=True)
class Planted:
    """A batch with the root behind each group, as rows of ``model.root_number``."""

    shop: Shop
    groups: tuple[Group, ...]
    roots: tuple[int, ...]


class Planter:
    """Draws batches from a book."""

    def __init__(self, desk: Desk, seed: int, remarks: int = 0) -> None:
        """``remarks``: looks on the casting that inspectors wrote of, in each group."""
        self.desk, self.draw, self.remarks = desk, np.random.default_rng(seed), remarks
        counted = {signature.look for signature in desk.book.signatures.values()}
        self.seen = [name for name in desk.looks
                     if name in desk.book.looks and name not in counted
                     and not desk.book.looks[name].only_if]  # fmt: skip
        self.prior = np.exp(desk.model.log_prior)
        sorted_by = [s for s in desk.book.signatures.values() if s.look in desk.looks]
        self.signatures = {s.factor: s for s in sorted_by if s.one or s.only or s.levels}
        for worked_out in ("course of time", "rate", "change before"):
            self.signatures.pop(worked_out, None)
        root_of = desk.model.root_of_account[:-1]
        faults = [{desk.accounts[r].defect for r in np.flatnonzero(root_of == k)}
                  for k in range(len(desk.roots))]  # fmt: skip
        self.wide = np.array([k for k, some in enumerate(faults) if len(some) > 1])

    def batch(self, kind: str, count: int) -> Planted:
        accounts = self._accounts(kind, count)
        present = tuple({c for r in accounts for c in self.desk.model.network.sets[r]})
        factors = self.draw.choice(list(self.signatures), SHEET_HAS, replace=False).tolist()
        groups = tuple(self._group(r, k, factors) for k, r in enumerate(accounts))
        roots = tuple(int(self.desk.model.root_of_account[r]) for r in accounts)
        return Planted(Shop(JOB, tuple(self._checks(present, roots))), groups, roots)

    def _accounts(self, kind: str, count: int) -> list[int]:
        root_of = self.desk.model.root_of_account[:-1]
        if kind == "each its own":
            return [self._of(np.ones(len(root_of), dtype=bool), set()) for _ in range(count)]
        by = by_root(self.desk.model, self.prior)[self.wide]
        causes = self.draw.choice(self.wide, 1 if kind == "one cause" else 2, replace=False,
                                  p=by / by.sum())  # fmt: skip
        taken: set[str] = set()
        found = []
        for k in range(count):
            found.append(self._of(root_of == causes[k % len(causes)], taken))
            taken.add(self.desk.accounts[found[-1]].defect)
        return found

    def _of(self, mask: np.ndarray, taken: set[str]) -> int:
        """Draw an account, of a fault that no group has yet where there is one."""
        fresh = mask & np.array([account.defect not in taken for account in self.desk.accounts])
        weights = np.where(fresh if fresh.any() else mask, self.prior[:-1], 0.0)
        return int(self.draw.choice(len(weights), p=weights / weights.sum()))

    def _answer(self, look: str, account: int) -> str:
        table = self.desk.model.looks[self.desk.looks[look]]
        chances = table.rows[table.of_account[account]]
        answers = self.desk.answers[self.desk.looks[look]]
        return str(self.draw.choice(answers, p=chances / chances.sum()))

    def _group(self, account: int, number: int, factors: Sequence[str]) -> Group:
        bad = int(self.draw.integers(12, 80))
        answers: dict[str, str] = {}
        sortings = []
        for factor in factors:
            signature = self.signatures[factor]
            answer = answers.setdefault(signature.look, self._answer(signature.look, account))
            sortings.append(self._sorting(factor, signature, answer, bad))
        called = self._answer(CALLED, account)
        poured = bad / float(self.draw.uniform(0.01, 0.2))
        looks = self.draw.choice(self.seen, self.remarks, replace=False).tolist()
        said = [(look, self._answer(look, account)) for look in looks]
        remarks = [Pooled((Hearing(LOOK, look, a, 0.85, a, a),), 5.0) for look, a in said]
        sheet = (tuple(sortings), None, (), tuple(remarks))
        return Group(f"group {number}", ((called, 1.0),), bad, poured, *sheet)

    def _sorting(self, factor: str, signature: Signature, answer: str, bad: int) -> Sorting:
        names = [*signature.levels, "other"] if signature.levels else [str(k) for k in range(4)]
        fair = self.draw.dirichlet(np.full(len(names), 8.0))
        shares = fair
        apart = next((names.index(n) for n, a in signature.levels.items() if a == answer), None)
        if answer and answer in (signature.one, signature.only):
            apart = int(self.draw.integers(len(names)))
        if apart is not None:
            at = self.draw.uniform(0.86 if answer == signature.only else 0.5, 0.97)
            shares = fair * (1.0 - at) / (1.0 - fair[apart])
            shares[apart] = at
        counts = self.draw.multinomial(bad, shares / shares.sum())
        levels = zip(names, counts.tolist(), (1000.0 * fair).tolist(), strict=True)
        return Sorting(factor, tuple(Level(*level) for level in levels))

    def _checks(self, present: tuple[int, ...], roots: Sequence[int]) -> Iterator[Found]:
        desk, model = self.desk, self.desk.model
        state = draw_state(model, present, self.draw)
        names = [n for n in desk.findings if n in desk.book.checks]
        on_causes = [n for n in names if {desk.roots[r] for r in roots} &
                     {*desk.book.checks[n].reveals}]  # fmt: skip
        chosen = self.draw.permutation(on_causes)[:1].tolist()
        chosen += [n for n in self.draw.permutation(names).tolist() if n not in chosen]
        for name in chosen[:CHECKS]:
            check, outcomes = desk.book.checks[name], desk.outcomes(name)
            weights = draw_finding(model, desk.findings[name], state, outcomes, self.draw)
            bad = bool(np.allclose(weights, outcomes[0]))
            good = next(answer for answer in check.answers if answer != check.bad)
            yield Checked(name, check.bad if bad else good)

    def noise(self, count: int) -> Planted:
        """Draw groups whose faults are any the book knows and whose counts are even."""
        faults = sorted({account.defect for account in self.desk.accounts})
        factors = self.draw.choice(list(self.signatures), SHEET_HAS, replace=False).tolist()
        groups = []
        for k in range(count):
            bad = int(self.draw.integers(12, 80))
            even = [self._sorting(f, self.signatures[f], "", bad) for f in factors]
            fault = str(self.draw.choice(faults))
            groups.append(Group(f"group {k}", ((fault, 1.0),), bad, bad / 0.05, tuple(even)))
        return Planted(Shop(JOB), tuple(groups), ())


@dataclass(slots=True)
class Score:
    """Ranks of the true causes.

    ``together`` and ``alone``: of the root behind each group among those of the group.
    ``at_work``: of each distinct root among all that may be at work. ``said``: every probability
    of being at work above 0.01, and whether it was. ``seconds``: by batch.
    """

    together: list[int] = field(default_factory=list)
    alone: list[int] = field(default_factory=list)
    at_work: list[int] = field(default_factory=list)
    both: list[bool] = field(default_factory=list)
    said: list[tuple[float, bool]] = field(default_factory=list)
    seconds: list[float] = field(default_factory=list)

    def note(self, case: Case, planted: Planted) -> None:
        alone = np.array([by_root(case.desk.model, mine) for mine in case.alone])
        for g, root in enumerate(planted.roots):
            self.together.append(rank(case.responsible[g], root))
            self.alone.append(rank(alone[g], root))
        true = {*planted.roots}
        self.at_work += [rank(case.joint.at_work, root) for root in true]
        first = [root for root in case.ranked() if root >= 0][: 2 * len(true)]
        self.both.append(true <= {*first})
        self.said += [(min(float(p), 1.0), k in true)
                      for k, p in enumerate(case.joint.at_work) if p > 0.01]  # fmt: skip


def rank(chances: np.ndarray, root: int) -> int:
    return int((chances > chances[root]).sum()) + 1


def simulate(
    library: Library, kind: str, batches: int, seed: int, count: int = 3, remarks: int = 0
) -> Score:
    """Draw batches of one kind and keep score."""
    desk, score = library.desk(JOB), Score()
    planter = Planter(desk, seed, remarks)
    for _ in range(batches):
        planted = planter.batch(kind, count)
        started = perf_counter()
        case = Case(desk, planted.shop, planted.groups)
        score.seconds.append(perf_counter() - started)
        score.note(case, planted)
    return score


def claims_on_noise(library: Library, batches: int, seed: int, count: int = 3) -> list[float]:
    """Return the highest probability of being at work that noise is given, batch by batch."""
    desk = library.desk(JOB)
    planter = Planter(desk, seed)
    none = desk.roots.index(NONE)
    highest = []
    for _ in range(batches):
        planted = planter.noise(count)
        chances = Case(desk, planted.shop, planted.groups).joint.at_work.copy()
        chances[none] = 0.0
        highest.append(float(chances.max()))
    return highest


def sampling_errors(library: Library, batches: int, seed: int, count: int = 4) -> list[float]:
    """Return by batch the most by which the sweeps differ from six times as many."""
    desk = library.desk(JOB)
    planter = Planter(desk, seed)
    errors = []
    for k in range(batches):
        planted = planter.batch(KINDS[k % len(KINDS)], count)
        case = Case(desk, planted.shop, planted.groups)
        if not case.joint.exact:
            long = sampled(case.cells, case.unions, case.weights, seed=100, sweeps=6 * SWEEPS)
            errors.append(float(np.abs(long.at_work - case.joint.at_work).max()))
    return errors


def links_paid_once(library: Library, pairs: int, seed: int) -> list[float]:
    """Return how far two groups' causes move when links between conditions are paid once as well.

    The model pays a link for each group; a shop in which the first condition has brought about the
    second once and for all would pay it once. By pair: total variation of the root condition of
    the first group. Only the accounts that weigh most are taken.
    """
    desk = library.desk(JOB)
    draw, model = np.random.default_rng(seed), desk.model
    faults = sorted({account.defect for account in desk.accounts})
    inner = len(model.network.links)
    base = np.where(
        model.root_number < 0,
        0.0,
        np.log(np.maximum(model.figures.leak[model.root_number], 1e-300)),
    )[model.root_of_account]
    apart = []
    for _ in range(pairs):
        named = [desk.answers[desk.looks[CALLED]].index(f) for f in draw.choice(faults, 2)]
        logs = [model.log_prior + model.looks[desk.looks[CALLED]][k] for k in named]
        most = [np.argsort(-one[:-1])[:MOST_ACCOUNTS] for one in logs]
        one, other = (log[some] for log, some in zip(logs, most, strict=True))
        roots = [model.root_of_account[some] for some in most]
        table = one[:, np.newaxis] + other
        table -= np.where(roots[0][:, np.newaxis] == roots[1], base[most[1]], 0.0)
        links = [incidence(desk.account_links[some], inner) for some in most]
        again = (links[0] * np.log(desk.strengths[:inner])) @ links[1].T
        marginals = []
        for joint in (table, table - again):
            weights = np.exp(joint - joint.max())
            mine = weights.sum(axis=1) / weights.sum()
            marginals.append(np.bincount(roots[0], mine, len(desk.roots)))
        apart.append(float(0.5 * np.abs(marginals[0] - marginals[1]).sum()))
    return apart


MOST_ACCOUNTS = 500


def incidence(links: np.ndarray, inner: int) -> np.ndarray:
    """Return which links between conditions each account runs over: (accounts, links)."""
    table = np.zeros((len(links), inner))
    for column in links.T:
        rows = np.flatnonzero((column >= 0) & (column < inner))
        table[rows, column[rows]] = 1.0
    return table


def share(ranks: Sequence[int], within: int) -> float:
    return float(np.mean(np.array(ranks) <= within))


def figures(score: Score) -> dict[str, float]:
    found = {}
    for name in ("together", "alone", "at_work"):
        ranks: list[int] = getattr(score, name)
        found |= {f"{name}_first": share(ranks, 1), f"{name}_in_three": share(ranks, 3)}
    found["all_causes_within_twice_their_number"] = float(np.mean(score.both))
    rows = reliability(score.said)
    off = sum(n * abs(said - right) for _, n, said, right in rows) / len(score.said)
    found |= {"calibration_error": off, "seconds": float(np.median(score.seconds)),
              "seconds_at_most": float(np.max(score.seconds))}  # fmt: skip
    return {name: round(value, 3) for name, value in found.items()}


def main() -> None:
    library = open_session().library
    summary: dict[str, object] = {}
    print("Batches from the shipped book: three groups, six factors, six checks. By group: how")
    print("often its true cause is first / in three; together, and each group alone.")
    heads = ("together", "in three", "alone", "in three", "at work", "in three", "all", "seconds")
    print(f"{'':14}{''.join(f'{head:>10}' for head in heads)}")
    said: list[tuple[float, bool]] = []
    for remarks, batches in ((0, BATCHES), (REMARKS, BATCHES // 2)):
        print(f"{batches} batches of each kind, inspectors wrote of {remarks} looks on the casting")
        for kind in KINDS:
            score = simulate(library, kind, batches, 1, remarks=remarks)
            f = figures(score)
            keys = [f"{name}_{how}" for name in ("together", "alone", "at_work")
                    for how in ("first", "in_three")]  # fmt: skip
            cells = [f[key] for key in (*keys, "all_causes_within_twice_their_number", "seconds")]
            print(f"{kind:14}{''.join(f'{cell:10.2f}' for cell in cells)}")
            summary[f"{kind}, {remarks} looks"] = f
            said += score.said
    print("what was said of a cause being at work, and how often it was (all kinds)")
    for band, count, given, right in reliability(said):
        print(f"    {band}: {count:5} times, said {given:.2f}, right {right:.2f}")
    for count in (1, 3, 6):
        highest = claims_on_noise(library, NOISE, seed=2, count=count)
        sure = float(np.mean(np.array(highest) >= CERTAIN))
        print(f"noise, {count} groups, {NOISE} sheets: highest {max(highest):.2f}, median "
              f"{np.median(highest):.2f}, with {CERTAIN} or more {sure:.3f}")  # fmt: skip
        summary[f"noise_{count}"] = {"highest": round(max(highest), 3), "certain": sure}
    errors = sampling_errors(library, 6, seed=3)
    moved = links_paid_once(library, NOISE, seed=4)
    for name, found in (("sampling error", errors), ("links paid once", moved)):
        low, high = float(np.mean(found)), float(np.max(found))
        print(f"{name}: mean {low:.3f}, at most {high:.3f} ({len(found)} times)")
        summary[name.replace(" ", "_")] = {"mean": round(low, 4), "most": round(high, 4)}
    print(json.dumps(summary))


BATCHES, NOISE = 50, 200
REMARKS = 6

if __name__ == "__main__":
    main()
