"""Average runs that began alike, and write the result as an int8 ONNX file. Needs torch and onnx.

python -m tests.training.export --base FOLDER --out FOLDER RUN/state.pt RUN/state.pt ...
"""

import argparse
import json
from pathlib import Path

import torch
from onnxruntime.quantization import QuantType, quantize_dynamic

from tests.training.encoder import Reader
from tests.training.train import ROLES

OUTPUTS = ["hazards", "alarm", "kinds", "roles"]


def averaged(files: list[Path]) -> dict[str, torch.Tensor]:
    """The mean of the weights: one model that errs less than each."""
    states = [torch.load(file, map_location="cpu", weights_only=True) for file in files]
    return {key: sum(s[key].float() for s in states) / len(states) for key in states[0]}


def main() -> None:
    """Write ``plain.onnx`` and ``second_reader.onnx``."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--base", type=Path, required=True)
    parser.add_argument("--names", type=Path, required=True)
    parser.add_argument("--out", type=Path, required=True)
    parser.add_argument("states", type=Path, nargs="+")
    args = parser.parse_args()
    names = json.loads(args.names.read_text("utf-8"))
    model = Reader(args.base, len(names["hazards"]), len(names["kinds"]), len(ROLES), 0.0)
    model.load_state_dict(averaged(args.states))
    model.eval()
    args.out.mkdir(parents=True, exist_ok=True)
    plain = args.out / "plain.onnx"
    example = torch.ones(1, 9, dtype=torch.long)
    axes = {"pieces": {0: "batch", 1: "length"}, "mask": {0: "batch", 1: "length"}}
    axes |= {name: {0: "batch"} for name in OUTPUTS[:3]} | {"roles": {0: "batch", 1: "length"}}
    torch.onnx.export(
        model,
        (example, example),
        str(plain),
        input_names=["pieces", "mask"],
        output_names=OUTPUTS,
        dynamic_axes=axes,
        opset_version=17,
        dynamo=False,
    )
    # Seven bits, so that processors without wide integer sums do not overflow: the same everywhere.
    quantize_dynamic(
        str(plain),
        str(args.out / "second_reader.onnx"),
        per_channel=True,
        reduce_range=True,
        weight_type=QuantType.QInt8,
    )


if __name__ == "__main__":
    main()
