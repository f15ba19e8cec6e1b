"""The training itself: prepared data and base weights in, trained weights out; torch alone."""

from __future__ import annotations

import math
import time
from collections.abc import Sequence
from contextlib import AbstractContextManager
from copy import deepcopy
from itertools import islice
from typing import Any

import torch
from torch import Tensor, nn
from torch.nn import functional
from torch.utils.data import DataLoader

from diagnose.words.pieces import Vocabulary
from diagnose.words.training.corpus import example_of, is_apart
from diagnose.words.training.network import Network
from diagnose.words.training.plan import Plan
from diagnose.words.training.samples import AGAINST, Draw, Layout, Samples

WARMING, LEAST_RATE = 80, 0.03
SLOW, FAST = 8e-5, 3e-3
"""Learning rates of the encoder and of the classifier."""
NEARNESS = 0.07
"""Temperature of the likeness between texts that mean the same."""
LAG = 0.997
"""Share of the running mean of the weights that a step keeps."""
BEGIN, CENTRE = -8.0, 0.7
"""Where the classifier's thresholds begin, and how much of the mean text is taken off."""
TOLD_EVERY = 200


class Trainer:
    """Examples, classes and a network, and the steps between."""

    def __init__(self, data: dict[str, Any], base: dict[str, Tensor], plan: Plan) -> None:
        """Take ``data`` as ``prepare`` returns them, and the weights of the base encoder."""
        self.plan = plan
        self.device = "cuda" if torch.cuda.is_available() else "cpu"
        self.layout = Layout(data["classes"], Vocabulary(data["pieces"]), data["first looks"])
        examples = [example_of(row) for row in data["examples"]]
        self.apart = [e for e in examples if e.kind != "saying" and is_apart(e.text)]
        away = {id(e) for e in self.apart}
        self.examples = [e for e in examples if id(e) not in away]
        torch.manual_seed(plan.seed)
        self._base = base
        self.network = self._new()
        self._begin()

    def _new(self) -> Network:
        count = len(self.layout.classes)
        return Network(self._base, self.plan.layers, count).to(self.device)

    def loaded(self, state: dict[str, Tensor]) -> Network:
        """Return a network that was trained before."""
        network = self._new()
        network.load_state_dict({name: tensor.float() for name, tensor in state.items()})
        return network.eval()

    @torch.no_grad()
    def _begin(self) -> None:
        """Let the classifier begin with the mean vector of each class's texts."""
        vectors = self.vectors([e.text for e in self.examples])
        pairs = [(self.layout.number[m], k) for k, e in enumerate(self.examples) for m in e.means]
        rows, texts = torch.tensor(pairs, device=self.device).T
        head = self.network.head
        sums = torch.zeros_like(head.weight).index_add_(0, rows, vectors[texts])
        centre = functional.normalize(vectors.mean(0), dim=0)
        head.weight.copy_(functional.normalize(sums, dim=1) - CENTRE * centre)
        head.bias.fill_(BEGIN)

    @torch.no_grad()
    def vectors(self, texts: Sequence[str]) -> Tensor:
        """Return one vector for each whole text."""
        self.network.eval()
        some = (texts[at : at + 1024] for at in range(0, len(texts), 1024))
        batches = (self.layout.batch(t, whole=True).to(self.device) for t in some)
        return torch.cat([self.network.parts(batch) for batch in batches])

    @torch.no_grad()
    def logits(self, texts: Sequence[str]) -> Tensor:
        """Return the best logit of any part of each text: (texts, classes)."""
        self.network.eval()
        some = (texts[at : at + 512] for at in range(0, len(texts), 512))
        batches = (self.layout.batch(t).to(self.device) for t in some)
        return torch.cat([self.network.logits(b, self.network.parts(b)) for b in batches])

    def train(self, teachers: Sequence[Network] = ()) -> None:
        """Train; what teachers say of a text is mixed with its labels."""
        plan, network = self.plan, self.network
        mean = deepcopy(network)
        body = [p for n, p in network.named_parameters() if not n.startswith("head")]
        groups = [{"params": body, "lr": SLOW}, {"params": network.head.parameters(), "lr": FAST}]
        optimiser = torch.optim.AdamW(groups, weight_decay=0.01)
        samples = Samples(self.examples, self.layout, plan.size, plan.seed)
        loader = DataLoader(samples, batch_size=None, num_workers=plan.workers)
        start = time.time()
        for step, draw in enumerate(islice(loader, plan.steps)):
            network.train()
            slope = 0.5 * (1 + math.cos(math.pi * step / plan.steps))
            factor = min(1.0, (step + 1) / WARMING) * max(LEAST_RATE, slope)
            for group, rate in zip(optimiser.param_groups, (SLOW, FAST), strict=True):
                group["lr"] = rate * factor
            says, nearness = self._losses(draw, teachers)
            optimiser.zero_grad()
            (says + nearness).backward()
            nn.utils.clip_grad_norm_(network.parameters(), 1.0)
            optimiser.step()
            _follow(mean, network, min(LAG, (step + 1) / (step + 20)))
            if step % TOLD_EVERY == TOLD_EVERY - 1:
                spent = time.time() - start
                told = f"{float(says):.3f} {float(nearness):.3f}"
                print(f"{spent:.0f} s, step {step + 1} of {plan.steps}: {told}", flush=True)
        self.network = mean

    def _half(self) -> AbstractContextManager[Any]:
        """Compute in half precision where that is fast: on a GPU."""
        on = self.device == "cuda"
        half: AbstractContextManager[Any] = torch.autocast(
            self.device, dtype=torch.bfloat16, enabled=on
        )
        return half

    def _losses(self, draw: Draw, teachers: Sequence[Network]) -> tuple[Tensor, Tensor]:
        batch, other = draw.batch.to(self.device), draw.other.to(self.device)
        wanted, weight = draw.wanted.to(self.device), draw.weight.to(self.device)
        with self._half():
            parts, pair = self.network.parts(batch), self.network.parts(other)
        logits = self.network.logits(batch, parts)
        if teachers:
            with torch.no_grad(), self._half():
                told = [torch.sigmoid(t.logits(batch, t.parts(batch)).float()) for t in teachers]
            said = torch.stack(told).mean(0)
            # What teachers are sure of and nobody labelled counts less as wrong.
            weight = torch.where((weight == 1.0) & (wanted == 0.0) & (said > 0.5), 0.5, weight)
            mixed = (1 - self.plan.taught) * wanted + self.plan.taught * said
            wanted = torch.where(weight == AGAINST, wanted, mixed)
        loss = functional.binary_cross_entropy_with_logits(logits, wanted, reduction="none")
        alike = parts[batch.whole] @ pair.T / NEARNESS
        alike = alike.masked_fill(draw.shared.to(self.device), -1e4)
        itself = torch.arange(batch.texts, device=self.device)
        return (loss * weight).sum(1).mean(), functional.cross_entropy(alike, itself)


@torch.no_grad()
def _follow(mean: nn.Module, network: nn.Module, keep: float) -> None:
    """Move the running mean of the weights towards what they are now."""
    for old, new in zip(mean.parameters(), network.parameters(), strict=True):
        old.lerp_(new, 1 - keep)
