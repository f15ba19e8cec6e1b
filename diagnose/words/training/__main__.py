"""``python -m diagnose.words.training``: train the reader of words again, from the rule base.

Without a step, all of them are done in turn: ``prepare`` (corpus to data), ``teach`` (several
networks with different seeds), ``learn`` (one network from the labels and from what the teachers
say), ``finish`` (calibrate, and write the weights into the program). Without a GPU, or with
``--small``, there are no teachers and fewer, smaller steps. Each step reads what the one before
wrote into the work folder.
"""

from __future__ import annotations

import argparse
import json
import os
from pathlib import Path
from typing import Any

import numpy as np
import torch

from diagnose.words.training.export import arrays_of
from diagnose.words.training.plan import SMALL_SIZE, SMALL_STEPS, TEACH_STEPS, TEACHERS, Plan
from diagnose.words.training.train import Trainer


def main() -> None:
    """Do the steps that were asked for."""
    parser = argparse.ArgumentParser(prog="python -m diagnose.words.training")
    parser.add_argument("step", nargs="?", choices=["prepare", "teach", "learn", "finish"])
    parser.add_argument("--folder", type=Path, default=Path("build/training"))
    parser.add_argument("--seed", type=int, help="teach only the teacher with this seed")
    parser.add_argument("--steps", type=int, help="fewer steps, to try out")
    parser.add_argument("--workers", type=int, default=min(8, os.cpu_count() or 1))
    parser.add_argument("--small", action="store_true", help="as without a GPU")
    told = parser.parse_args()
    told.folder.mkdir(parents=True, exist_ok=True)
    small = told.small or not torch.cuda.is_available()
    todo = [told.step] if told.step else ["prepare", "teach", "learn", "finish"]
    if "prepare" in todo:
        _prepare(told.folder)
    seeds = [told.seed] if told.seed is not None else [] if small else TEACHERS
    if "teach" in todo:
        for seed in seeds:
            plan = Plan(steps=told.steps or TEACH_STEPS, seed=seed, workers=told.workers)
            torch.save(_trained(told.folder, plan, []), told.folder / f"teacher-{seed}.pt")
    if "learn" in todo:
        plan = Plan(steps=told.steps or Plan().steps, workers=told.workers)
        if small:
            steps = told.steps or SMALL_STEPS
            plan = Plan(steps=steps, size=SMALL_SIZE, workers=1)
        teachers = [] if small else [told.folder / f"teacher-{seed}.pt" for seed in TEACHERS]
        state = _trained(told.folder, plan, teachers)
        np.savez(told.folder / "reader.npz", **arrays_of(state))
    if "finish" in todo:
        from diagnose.words.training.finish import finish

        finish(told.folder)


def _prepare(folder: Path) -> None:
    from diagnose.rulebase.folder import knowledge_folder
    from diagnose.rulebase.load import load
    from diagnose.words.training.base import base_pieces, base_weights
    from diagnose.words.training.prepare import prepare

    data = prepare(load(), knowledge_folder(), base_pieces())
    (folder / "data.json").write_text(json.dumps(data, ensure_ascii=False), encoding="utf-8")
    torch.save(base_weights(data["kept"]), folder / "base.pt")
    print(f"{len(data['examples'])} examples, {len(data['classes'])} classes")


def _trained(folder: Path, plan: Plan, teachers: list[Path]) -> dict[str, torch.Tensor]:
    data: dict[str, Any] = json.loads((folder / "data.json").read_text(encoding="utf-8"))
    trainer = Trainer(data, torch.load(folder / "base.pt", weights_only=True), plan)
    trainer.train([trainer.loaded(torch.load(path, weights_only=True)) for path in teachers])
    return {key: tensor.half().cpu() for key, tensor in trainer.network.state_dict().items()}


if __name__ == "__main__":
    main()
