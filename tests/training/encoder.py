"""The encoder that is fine-tuned, and the four heads put on it. Needs torch; used in training only.

Six layers of BERT (width 384, 12 heads) written out, so that what is exported is what is read
here. The state of every piece of a word goes to the roles; their mean and their maximum, side by
side, to hazards, alarm and kinds.
"""

import json
from pathlib import Path

import torch
from safetensors.torch import load_file
from torch import Tensor, nn


class Layer(nn.Module):
    """Self-attention and feed-forward, each followed by a layer norm."""

    def __init__(self, width: int, heads: int, inner: int, dropout: float) -> None:
        super().__init__()
        self.heads = heads
        self.query, self.key, self.value, self.out = (nn.Linear(width, width) for _ in range(4))
        self.norm = nn.LayerNorm(width, eps=1e-12)
        self.up, self.down = nn.Linear(width, inner), nn.Linear(inner, width)
        self.last = nn.LayerNorm(width, eps=1e-12)
        self.dropout = nn.Dropout(dropout)

    def forward(self, x: Tensor, bias: Tensor) -> Tensor:
        """``x`` (batch, pieces, width); ``bias`` (batch, 1, 1, pieces), very low where none is."""
        batch, pieces, width = x.shape[0], x.shape[1], x.shape[2]
        split = (batch, pieces, self.heads, width // self.heads)
        q, k, v = (
            one(x).reshape(split).transpose(1, 2) for one in (self.query, self.key, self.value)
        )
        scores = q @ k.transpose(2, 3) / (width // self.heads) ** 0.5 + bias
        mixed = (self.dropout(scores.softmax(-1)) @ v).transpose(1, 2).reshape(x.shape)
        x = self.norm(x + self.dropout(self.out(mixed)))
        inner: Tensor = nn.functional.gelu(self.up(x))
        return self.last(x + self.dropout(self.down(inner)))


class Reader(nn.Module):
    """Pieces in; logits of hazards, alarm, kinds, and of each piece's role out."""

    def __init__(self, folder: Path, hazards: int, kinds: int, roles: int, dropout: float) -> None:
        super().__init__()
        shape = json.loads((folder / "config.json").read_text("utf-8"))
        width = shape["hidden_size"]
        self.words = nn.Embedding(shape["vocab_size"], width)
        self.places = nn.Embedding(shape["max_position_embeddings"], width)
        self.norm = nn.LayerNorm(width, eps=1e-12)
        self.layers = nn.ModuleList(
            Layer(width, shape["num_attention_heads"], shape["intermediate_size"], dropout)
            for _ in range(shape["num_hidden_layers"])
        )
        self.dropout = nn.Dropout(dropout)
        self.hazards = nn.Linear(2 * width, hazards)
        self.alarm = nn.Linear(2 * width, 1)
        self.kinds = nn.Linear(2 * width, kinds)
        self.roles = nn.Linear(width, roles)
        self._load(load_file(folder / "model.safetensors"))

    def forward(self, pieces: Tensor, mask: Tensor) -> tuple[Tensor, Tensor, Tensor, Tensor]:
        """Both (batch, pieces), whole numbers; ``mask`` is 1 where there is a piece."""
        places = torch.arange(pieces.shape[1], device=pieces.device)
        x = self.dropout(self.norm(self.words(pieces) + self.places(places)))
        there = mask[:, :, None].to(x.dtype)
        bias = (1.0 - mask[:, None, None, :].to(x.dtype)) * -1e4
        for layer in self.layers:
            x = layer(x, bias)
        mean = (x * there).sum(1) / there.sum(1)
        most = (x - (1.0 - there) * 1e4).amax(1)
        whole = self.dropout(torch.cat([mean, most], 1))
        return self.hazards(whole), self.alarm(whole)[:, 0], self.kinds(whole), self.roles(x)

    def _load(self, weights: dict[str, Tensor]) -> None:
        told = {name.removeprefix("bert."): value.float() for name, value in weights.items()}
        put: dict[str, Tensor] = {
            "words.weight": told["embeddings.word_embeddings.weight"],
            # One sentence only: its type is the same of every piece.
            "places.weight": told["embeddings.position_embeddings.weight"]
            + told["embeddings.token_type_embeddings.weight"][0],
        }
        names = {
            "query": "attention.self.query",
            "key": "attention.self.key",
            "value": "attention.self.value",
            "out": "attention.output.dense",
            "norm": "attention.output.LayerNorm",
            "up": "intermediate.dense",
            "down": "output.dense",
            "last": "output.LayerNorm",
        }
        for part in ("weight", "bias"):
            put[f"norm.{part}"] = told[f"embeddings.LayerNorm.{part}"]
            for number in range(len(self.layers)):
                for ours, theirs in names.items():
                    source = f"encoder.layer.{number}.{theirs}.{part}"
                    put[f"layers.{number}.{ours}.{part}"] = told[source]
        missing, unexpected = self.load_state_dict(put, strict=False)
        heads = ("hazards.", "alarm.", "kinds.", "roles.")
        if unexpected or not all(name.startswith(heads) for name in missing):
            raise ValueError(f"the base is of another make: {missing[:3]} {unexpected[:3]}")
