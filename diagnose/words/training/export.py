"""Write what was trained as arrays of 8 bits, as ``diagnose.words.encoder`` reads them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np
from torch import Tensor

from diagnose.words.training.network import HEADS, SHARP

NAMES = {
    "look": "look", "give": "give", "widen": "widen", "narrow": "narrow",
    "look_norm": "look norm", "work_norm": "work norm",
}  # fmt: skip


def arrays_of(state: Mapping[str, Tensor]) -> dict[str, Any]:
    """Return the arrays of the encoder and the classifier by the names that it reads."""
    found: dict[str, Any] = {"heads": np.array(HEADS)}
    for name, tensor in state.items():
        array = tensor.detach().float().cpu().numpy()
        match name.split("."):
            case ["pieces", "weight"]:
                found |= _in_eight_bits("pieces", array)
            case ["places", "weight"]:
                found["places"] = array.astype(np.float16)
            case ["norm", kind]:
                found["norm:" + _norm(kind)] = array
            case ["head", "weight"]:
                found |= _in_eight_bits("classes", array * SHARP)
            case ["head", "bias"]:
                found["classes:bias"] = array
            case ["layers", number, part, kind]:
                full = f"layer {number} {NAMES[part]}"
                if part.endswith("norm"):
                    found[f"{full}:{_norm(kind)}"] = array
                elif kind == "bias":
                    found[f"{full}:bias"] = array
                else:
                    found |= _in_eight_bits(full, array)
            case _:
                raise ValueError(name)
    return found


def _norm(kind: str) -> str:
    return "gain" if kind == "weight" else "shift"


def _in_eight_bits(name: str, matrix: Any) -> dict[str, Any]:
    scale = np.abs(matrix).max(axis=1) / 127.0
    scale[scale == 0.0] = 1.0
    return {
        name: np.round(matrix / scale[:, None]).astype(np.int8),
        f"{name}:scale": scale.astype(np.float32),
    }
