"""Readings are put into a person's file; nothing else of it changes."""

from __future__ import annotations

from pathlib import Path

import pytest

from diagnose.basics import atomic_write
from diagnose.basics.errors import Fault
from diagnose.reject.found import Measured
from diagnose.session.amend import put_readings

WET = Measured("sand-moisture", (4.6,), "4.6 %")


def by_id(name: str, _text: str) -> str:
    return {"moulding sand moisture": "sand-moisture"}.get(name, name)


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("reject: a\n", "reject: a\nmeasured:\n  sand-moisture: 4.6 %\n"),
        ("measured:\nreject: a # x\n", "measured:\n  sand-moisture: 4.6 %\nreject: a # x\n"),
        (
            "# top\nmeasured:\n  moulding sand moisture: 5 %  # wet?\nseen:\n  - \"a: b\"\n",
            "# top\nmeasured:\n  moulding sand moisture: 4.6 % # wet?\nseen:\n  - \"a: b\"\n",
        ),
        ("seen: [a, 'b c']\nchecked:\n- {check: x, answer: no}\nmeasured: {y: 3}\n",
         "seen: [a, 'b c']\nchecked:\n- {check: x, answer: no}\n"
         "measured: {y: 3, sand-moisture: 4.6 %}\n"),
    ],
)  # fmt: skip
def test_everything_else_stays(tmp_path: Path, before: str, after: str) -> None:
    file = tmp_path / "a.yaml"
    file.write_text(before, encoding="utf-8")
    put_readings(file, [WET], by_id)
    assert [" ".join(line.split()) for line in file.read_text(encoding="utf-8").splitlines()] == [
        " ".join(line.split()) for line in after.splitlines()
    ]


def test_a_full_disk_leaves_the_file_as_it_was(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "a.yaml"
    file.write_text("reject: a  # mine\n", encoding="utf-8")

    def full(*_given: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(atomic_write.os, "replace", full)
    with pytest.raises(Fault, match="No space left on device"):
        put_readings(file, [WET], by_id)
    assert file.read_text(encoding="utf-8") == "reject: a  # mine\n"
