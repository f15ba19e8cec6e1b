"""A batch worked out: its clues, its shop's findings, the joint posterior of its groups."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np

from diagnose.batch.causes.cells import Cells, cell_weights, cells_of, own_weights, to_accounts
from diagnose.batch.causes.clues import FAINT, Clue, clues, counting
from diagnose.batch.causes.group import Group, Shop
from diagnose.batch.causes.together import Joint, together
from diagnose.batch.causes.unions import Unions
from diagnose.engine.cliquetree import Floats
from diagnose.engine.findings import Weights
from diagnose.engine.posterior import by_root
from diagnose.reasoning.corrections import actions_for
from diagnose.reasoning.evidence import evidence_of
from diagnose.reasoning.graded import check_likelihood
from diagnose.reasoning.setup import NONE, Desk
from diagnose.reject.found import CHECK, Hearing
from diagnose.reject.reject import Reject
from diagnose.rulebase.book import Action
from diagnose.rulebase.graph import Account


class Case:
    """Everything that was worked out of a batch, from which its answer is put together.

    ``accounts``: (groups, accounts) P(account | everything), "none of these" last. ``alone``: the
    same where each group is a shop of its own.
    """

    def __init__(self, desk: Desk, shop: Shop, groups: Sequence[Group], seed: int = 1) -> None:
        self.desk, self.shop, self.groups = desk, shop, tuple(groups)
        self._shop_logs: dict[int, dict[int, Floats]] = {}
        self.clues = [clues(desk, group) for group in groups]
        self.findings = findings_of(desk, shop, groups)
        self.unions = Unions(desk.model, self.findings)
        self.cells: Cells = cells_of(desk.model, self.unions)
        looks = [sum_of(found, len(desk.accounts) + 1) for found in self.clues]
        self.own = [own_weights(desk.model, self.cells, some) for some in looks]
        self.weights = [cell_weights(self.cells, own) for own in self.own]
        self.joint: Joint = together(self.cells, self.unions, self.weights, seed)
        self.accounts = self._accounts(self.joint.groups)
        alone = [together(self.cells, self.unions, [weight]) for weight in self.weights]
        self.alone = self._accounts(np.array([one.groups[0] for one in alone]))

    def _accounts(self, of_cells: Floats) -> Floats:
        pairs = zip(self.own, of_cells, strict=True)
        return np.array([to_accounts(self.cells, own, mine) for own, mine in pairs])

    @property
    def responsible(self) -> Floats:
        """P(root responsible for a group | everything): (groups, roots)."""
        return np.array([by_root(self.desk.model, mine) for mine in self.accounts])

    @property
    def explained(self) -> Floats:
        """Castings that each root is expected to explain: (groups, roots)."""
        bad = np.array([group.bad for group in self.groups])
        return np.asarray(self.responsible * bad[:, np.newaxis])

    def ranked(self) -> list[int]:
        """Return the roots by the probability of being at work, "none of these" left out."""
        none = self.desk.roots.index(NONE)
        order = np.argsort(-self.joint.at_work, kind="stable").tolist()
        return [root for root in order if root != none]

    def main_group(self, root: int) -> int:
        """Return the group that a root explains most castings of."""
        return int(self.explained[:, root].argmax())

    def account(self, root: int) -> Account:
        """Return the likeliest account of a root in the group that it explains most of."""
        mine = self.desk.model.root_of_account[:-1] == root
        chances = np.where(mine, self.accounts[self.main_group(root)][:-1], -1.0)
        return self.desk.accounts[int(chances.argmax())]

    def shop_logs(self, group: int) -> dict[int, Floats]:
        """Return log likelihood of each finding of the shop under the accounts of one group.

        All other findings are kept, and the other groups are held at their likeliest accounts.
        """
        if group not in self._shop_logs:
            others = [int(row[:-1].argmax()) for g, row in enumerate(self.accounts) if g != group]
            with_all = _found(self.unions, others)
            self._shop_logs[group] = {}
            for number in self.findings:
                rest = {k: weights for k, weights in self.findings.items() if k != number}
                without = _found(Unions(self.desk.model, rest), others)
                self._shop_logs[group][number] = with_all - without
        return self._shop_logs[group]

    def actions(self, root: int) -> list[Action]:
        """Return the actions that cure a root condition, the one most about it first."""
        account = self.account(root)
        return actions_for(self.desk.book, (*account.path, account.defect), self.shop.job)


def sum_of(found: Iterable[Clue], accounts: int) -> Floats:
    """Return the log likelihood of all clues together under each account."""
    total = np.zeros(accounts)
    for clue in found:
        total = total + clue.logs
    return total


def findings_of(desk: Desk, shop: Shop, groups: Sequence[Group]) -> dict[int, Weights]:
    """Return what was found in the shop, once for the whole batch.

    What inspectors wrote of checks counts as remarks do, over all groups together, where nobody
    answered the check.
    """
    findings: dict[int, Weights] = dict(evidence_of(desk, Reject(found=shop.found)).findings)
    said: dict[str, list[tuple[float, Hearing]]] = {}
    for group in groups:
        for remark in group.remarks:
            for h in remark.hearings:
                if h.kind == CHECK and h.id in desk.findings:
                    said.setdefault(h.id, []).append((remark.count, h))
    for name, told in said.items():
        number = desk.findings[name]
        if number not in findings and sum(times * h.probability for times, h in told) >= FAINT:
            count = sum(times for times, _ in told)
            logs = sum(times * np.log(check_likelihood(desk, name, [h])) for times, h in told)
            pooled = np.exp(logs * counting(count) / count)
            a, b, c, d = (pooled @ desk.outcomes(name)).tolist()
            findings[number] = (a, b, c, d)
    return findings


def _found(unions: Unions, others: Sequence[int]) -> Floats:
    """Return log P(findings | account and the accounts of the others), for every account."""
    held = np.asarray(unions.patterns[unions.of_account[list(others)]].any(axis=0))
    return np.asarray(unions.with_others(held)[unions.of_account])
