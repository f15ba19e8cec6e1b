"""The last step: put the trained weights into the program and calibrate them as they lie there."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from diagnose.words.model import WEIGHTS, Model
from diagnose.words.sayings import learned_mark
from diagnose.words.training.base import LICENCE, NAME, SHA256
from diagnose.words.training.calibrate import curve_of, fitted, group_of
from diagnose.words.training.corpus import Example, example_of, is_apart
from diagnose.words.training.plan import TEACHERS, Plan

Floats = NDArray[np.float64]
NEAR = 0.3
"""Likeness of vectors below which two texts have nothing to do with each other."""


def finish(folder: Path) -> None:
    """Write weights, vocabulary and facts into the program, from what ``learn`` left behind."""
    data = json.loads((folder / "data.json").read_text(encoding="utf-8"))
    examples = [example_of(row) for row in data["examples"]]
    with np.load(folder / "reader.npz", allow_pickle=False) as stored:
        arrays = dict(stored)
    sayings = [e for e in examples if e.kind in ("saying", "called")]
    marks = [learned_mark(m, e.text) for e in sayings for m in e.means]
    arrays["learned"] = np.array(sorted(marks), dtype=np.uint64)
    WEIGHTS.mkdir(exist_ok=True)
    fresh = WEIGHTS / "weights.new.npz"
    np.savez(fresh, **arrays)
    fresh.replace(WEIGHTS / "weights.npz")  # a reader may still look into the old ones
    for name, lines in (("pieces.txt", data["pieces"]), ("classes.txt", data["classes"])):
        (WEIGHTS / name).write_text("\n".join(lines) + "\n", encoding="utf-8")
    facts: dict[str, Any] = {
        "base": {"name": NAME, "licence": LICENCE, "sha256": SHA256},
        "data": data["hash"],
        "seeds": {"teachers": TEACHERS, "reader": Plan().seed},
        "curves": {},
    }
    write_facts(facts)
    facts["curves"] = curves(Model(), examples)
    write_facts(facts)


def curves(model: Model, examples: Sequence[Example]) -> dict[str, list[float]]:
    """Fit all curves on the examples that were kept apart."""
    apart = [e for e in examples if e.kind != "saying" and is_apart(e.text)]
    read = model.read([e.text for e in apart])
    logits = [one.logits.astype(np.float64) for one in read]
    found = {
        group: list(curve_of(model.classes, apart, logits, group).weights)
        for group in ("answers", "called", "measured")
    }
    found["likeness"] = _likeness(model, examples, apart)
    return found


def _likeness(model: Model, examples: Sequence[Example], apart: Sequence[Example]) -> list[float]:
    """Fit how likely an answer is said, by the likeness to the nearest of its sayings."""
    sayings = [e for e in examples if e.kind == "saying"]
    table = np.concatenate([one.vectors[:1] for one in model.read([e.text for e in sayings])])
    number = {name: k for k, name in enumerate(model.classes)}
    own = np.array([number[e.means[0]] for e in sayings])
    rows, said = [], []
    asked = [e for e in apart if e.kind == "remark"]
    for example, one in zip(asked, model.read([e.text for e in asked]), strict=True):
        nearest = np.full(len(model.classes), -1.0)
        np.maximum.at(nearest, own, (one.vectors @ table.T).max(axis=0))
        for k in np.flatnonzero(nearest > NEAR):
            if model.classes[k] not in example.may and group_of(model.classes[k]) == "answers":
                rows.append([nearest[k]])
                said.append(model.classes[k] in example.means)
    return [float(weight) for weight in fitted(np.array(rows), np.array(said))]


def write_facts(facts: dict[str, Any]) -> None:
    """Write what was fitted, and what the weights were made from, so that people can read it."""
    text = json.dumps(facts, indent=1, ensure_ascii=False)
    (WEIGHTS / "facts.json").write_text(text + "\n", encoding="utf-8")
