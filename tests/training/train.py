"""Fine-tune the second reader. Needs torch, safetensors, tokenizers, onnx and onnxruntime.

    python -m tests.training.examples examples.jsonl
    python -m tests.training.train --data examples.jsonl --base FOLDER --out FOLDER

``--base`` holds model.safetensors, config.json and tokenizer.json of the base model. Every run is
seeded; on another kind of card the last digits differ. ``--leave-writers`` and ``--leave-hazard``
keep lines out of the training, to be scored afterwards in ``left.jsonl`` with what was heard.
"""

import argparse
import json
import math
import random
from dataclasses import dataclass
from pathlib import Path

import torch
from tokenizers import Tokenizer
from torch import Tensor, nn

from tests.training.augment import Piece, joined, pieces_of, retyped
from tests.training.encoder import Reader

ROLES = ("top", "side", "floor", "wood", "none")
MOST_PIECES = 96


@dataclass
class Line:
    """A message as it is trained on. Hazards, kinds: 1, 0, or -1 for not known."""

    writer: str
    pieces: list[Piece]
    hazards: list[float]
    alarm: float
    kinds: list[float]
    teacher: list[float] | None = None


def read_lines(file: Path, hazards: list[str], kinds: list[str]) -> list[Line]:
    """All lines of the file in the order of ``hazards`` and ``kinds``."""
    return [_line(json.loads(row), hazards, kinds) for row in file.open(encoding="utf-8")]


def _line(row: dict[str, object], hazards: list[str], kinds: list[str]) -> Line:
    told, held, unknown = row["hazards"], row["kinds"], row["unknown_kinds"]
    return Line(
        str(row["writer"]),
        pieces_of(str(row["text"]), [tuple(n) for n in row["numbers"]]),  # type: ignore[misc, attr-defined]
        [-1.0 if told is None else float(h in told) for h in hazards],  # type: ignore[operator]
        -1.0 if told is None else float(bool(told)),
        [-1.0 if k in unknown else float(k in held) for k in kinds],  # type: ignore[operator]
    )


def both(a: Line, b: Line, dice: random.Random) -> Line:
    """Two messages in one."""

    def either(x: list[float], y: list[float]) -> list[float]:
        return [1.0 if 1.0 in pair else min(pair) for pair in zip(x, y, strict=True)]

    between = Piece(dice.choice((" ", ", ", ". ", " and ", "\n", " - ", " but ", "... ", "! ")))
    return Line(
        a.writer,
        [*a.pieces, between, *b.pieces],
        either(a.hazards, b.hazards),
        either([a.alarm], [b.alarm])[0],
        either(a.kinds, b.kinds),
    )


@dataclass
class Batch:
    """Tensors of some lines; ``spans`` (numbers, batch * pieces) averages the pieces of each."""

    pieces: Tensor
    mask: Tensor
    hazards: Tensor
    alarm: Tensor
    kinds: Tensor
    spans: Tensor
    roles: Tensor


def batch_of(lines: list[Line], tokenizer: Tokenizer, device: str) -> Batch:
    """As the encoder takes them."""
    texts, numbers = zip(*(joined(line.pieces) for line in lines), strict=True)
    coded = [tokenizer.encode(text) for text in texts]
    longest = max(len(one.ids) for one in coded)
    pieces = torch.zeros(len(lines), longest, dtype=torch.long)
    mask = torch.zeros(len(lines), longest, dtype=torch.long)
    rows, roles = [], []
    for index, one in enumerate(coded):
        pieces[index, : len(one.ids)] = torch.tensor(one.ids)
        mask[index, : len(one.ids)] = 1
        for start, end, role in numbers[index]:
            inside = [i for i, (a, b) in enumerate(one.offsets) if a < end and b > start and b > a]
            if role is not None and inside:
                rows.append((index, inside))
                roles.append(ROLES.index(role))
    spans = torch.zeros(len(rows), len(lines) * longest)
    for number, (index, inside) in enumerate(rows):
        for piece in inside:
            spans[number, index * longest + piece] = 1 / len(inside)
    tensors = (
        pieces,
        mask,
        torch.tensor([line.hazards for line in lines]),
        torch.tensor([line.alarm for line in lines]),
        torch.tensor([line.kinds for line in lines]),
        spans,
        torch.tensor(roles, dtype=torch.long),
    )
    return Batch(*(one.to(device) for one in tensors))


def loss_of(model: Reader, batch: Batch, weight: Tensor) -> Tensor:
    """Hazards weigh the most; what nobody said counts for nothing."""
    hazards, alarm, kinds, roles = model(batch.pieces, batch.mask)
    total = 2.0 * _told(hazards, batch.hazards, weight)
    total = total + 1.0 * _told(alarm, batch.alarm, torch.tensor(1.5, device=alarm.device))
    total = total + 1.0 * _told(kinds, batch.kinds, torch.tensor(2.0, device=alarm.device))
    if len(batch.roles):
        flat = roles.reshape(-1, roles.shape[-1]).float()
        total = total + 0.3 * nn.functional.cross_entropy(
            batch.spans @ flat, batch.roles, label_smoothing=0.02
        )
    return total


SMOOTHING = 0.01


def _told(logits: Tensor, wanted: Tensor, weight: Tensor) -> Tensor:
    """Weighted cross-entropy a line, summed over its labels; ``weight`` is that of a yes."""
    smooth = wanted.clamp(0, 1) * (1 - 2 * SMOOTHING) + SMOOTHING
    each = nn.functional.binary_cross_entropy_with_logits(
        logits.float(), smooth, reduction="none", pos_weight=weight
    )
    return (each * (wanted >= 0)).sum() / len(wanted)


def train(lines: list[Line], model: Reader, tokenizer: Tokenizer, args: argparse.Namespace) -> None:
    """AdamW, warm-up then a cosine, the heads faster than the body."""
    dice = random.Random(args.seed)
    torch.manual_seed(args.seed)
    device = args.device
    heads = [p for n, p in model.named_parameters() if not n.startswith(("layers", "words"))]
    body = [p for n, p in model.named_parameters() if n.startswith(("layers", "words"))]
    groups = [{"params": body, "lr": args.lr}, {"params": heads, "lr": args.lr * 5}]
    optimiser = torch.optim.AdamW(groups, weight_decay=0.01)
    plain = [line for line in lines if line.alarm == 0.0]
    per_epoch = math.ceil(len(lines) / args.batch)
    steps = per_epoch * args.epochs
    schedule = torch.optim.lr_scheduler.LambdaLR(
        optimiser,
        lambda step: min((step + 1) / (0.06 * steps), 0.5 + 0.5 * math.cos(math.pi * step / steps)),
    )
    counts = torch.tensor([[max(h, 0.0) for h in line.hazards] for line in lines]).sum(0)
    weight = (len(lines) / (20 * counts.clamp(min=1))).sqrt().clamp(1, 4).to(device)
    for epoch in range(args.epochs):
        model.train()
        order = lines[:]
        dice.shuffle(order)
        told = 0.0
        for first in range(0, len(order), args.batch):
            chosen = [_varied(line, plain, dice) for line in order[first : first + args.batch]]
            batch = batch_of(chosen, tokenizer, device)
            with torch.autocast(device, dtype=torch.bfloat16, enabled=device == "cuda"):
                loss = loss_of(model, batch, weight)
            optimiser.zero_grad()
            loss.backward()  # type: ignore[no-untyped-call]
            nn.utils.clip_grad_norm_(model.parameters(), 1.0)
            optimiser.step()
            schedule.step()
            told += loss.item()
        print(f"epoch {epoch + 1}: loss {told / per_epoch:.3f}", flush=True)


def _varied(line: Line, plain: list[Line], dice: random.Random) -> Line:
    if dice.random() < 0.25:
        other = dice.choice(plain)
        if not (_has_reading(line) and _has_reading(other)):
            line = both(*((line, other) if dice.random() < 0.5 else (other, line)), dice)
    if dice.random() < 0.6:
        line = Line(line.writer, retyped(line.pieces, dice), *_labels(line))
    return line


def _labels(line: Line) -> tuple[list[float], float, list[float]]:
    return line.hazards, line.alarm, line.kinds


def _has_reading(line: Line) -> bool:
    return any(piece.role in ("top", "side", "floor") for piece in line.pieces)


@torch.no_grad()
def heard(lines: list[Line], model: Reader, tokenizer: Tokenizer, device: str) -> list[list[float]]:
    """Probabilities of each line: hazards, alarm, kinds."""
    model.eval()
    out: list[list[float]] = []
    for first in range(0, len(lines), 256):
        batch = batch_of(lines[first : first + 256], tokenizer, device)
        hazards, alarm, kinds, _ = model(batch.pieces, batch.mask)
        told = torch.cat([hazards, alarm[:, None], kinds], 1).sigmoid()
        out += [[round(p, 4) for p in row] for row in told.float().cpu().tolist()]
    return out


def main() -> None:
    """One training run."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--data", type=Path, required=True)
    parser.add_argument("--base", type=Path, required=True)
    parser.add_argument("--out", type=Path, required=True)
    parser.add_argument("--leave-writers", nargs="*", default=[])
    parser.add_argument("--leave-hazard", default="")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--epochs", type=int, default=8)
    parser.add_argument("--batch", type=int, default=64)
    parser.add_argument("--lr", type=float, default=1e-4)
    parser.add_argument("--device", default="cuda" if torch.cuda.is_available() else "cpu")
    args = parser.parse_args()
    names = json.loads((args.data.parent / "names.json").read_text("utf-8"))
    rows = [json.loads(row) for row in args.data.open(encoding="utf-8")]
    lines = [_line(row, names["hazards"], names["kinds"]) for row in rows]
    left = [i for i, row in enumerate(rows) if row["writer"] in args.leave_writers]
    kept = [
        line
        for line, row in zip(lines, rows, strict=True)
        if row["writer"] not in args.leave_writers
        and args.leave_hazard not in (row["hazards"] or [])
    ]
    tokenizer = Tokenizer.from_file(str(args.base / "tokenizer.json"))
    tokenizer.no_padding()
    tokenizer.enable_truncation(MOST_PIECES)
    torch.manual_seed(0)  # the heads begin alike, so that runs can be averaged
    model = Reader(args.base, len(names["hazards"]), len(names["kinds"]), len(ROLES), 0.1)
    model.to(args.device)
    train(kept, model, tokenizer, args)
    args.out.mkdir(parents=True, exist_ok=True)
    if left:
        told = heard([lines[i] for i in left], model, tokenizer, args.device)
        with (args.out / "left.jsonl").open("w", encoding="utf-8") as out:
            for index, probabilities in zip(left, told, strict=True):
                row = {key: rows[index][key] for key in ("text", "writer", "hazards")}
                out.write(json.dumps(row | {"heard": probabilities}, ensure_ascii=False) + "\n")
    torch.save(model.state_dict(), args.out / "state.pt")


if __name__ == "__main__":
    main()
