"""Which correction puts an account right, in one table and one by one."""

from __future__ import annotations

from diagnose.reasoning.corrections import actions_for, correction_of_account
from tests import shipped


def test_the_table_says_what_each_account_is_put_right_by() -> None:
    desk = shipped.first().desk
    names = list(desk.book.actions)
    numbers = correction_of_account(desk, names).tolist()
    assert numbers[-1] == -1
    for row in range(0, len(desk.accounts), 37):
        account = desk.accounts[row]
        actions = actions_for(desk.book, account.path, desk.job)
        found = desk.book.actions[names[numbers[row]]] if numbers[row] >= 0 else None
        assert found is (actions[0] if actions else None)
