"""Where the second reader comes from: its file, checked against the digest that was written down.

The libraries are imported here and nowhere else, at the first message. Without them, or with
another file than the one that was scored, there is no second reader.
"""

import hashlib
import json
from functools import cache
from pathlib import Path

from bot.understanding.second_reader.opinion import Levels, Role
from bot.understanding.second_reader.reader import SecondReader

FOLDER = Path(__file__).parent / "model"
"""``encoder.onnx``, ``tokenizer.json``, and ``about.json``: digests and the order of outputs."""


class Absent(Exception):
    """There is no second reader here; its text says why."""


@cache
def second_reader() -> SecondReader | None:
    """The reader, loaded at the first call; None where it cannot be had (``why_absent``)."""
    try:
        return load(FOLDER)
    except Absent:
        return None


def why_absent() -> str | None:
    """Why there is no second reader; None where there is one. Loads it anew."""
    try:
        load(FOLDER)
    except Absent as absent:
        return str(absent)
    return None


def load(folder: Path) -> SecondReader:
    """The reader in ``folder``.

    Raises ``Absent`` without its libraries, or when a file is missing or not the one written down.
    """
    try:
        from onnxruntime import InferenceSession, SessionOptions
        from tokenizers import Tokenizer
    except ImportError as error:
        raise Absent(f"{error.name} is not installed") from None
    about = json.loads(_read(folder / "about.json"))
    for name, digest in about["sha256"].items():
        if hashlib.sha256(_read(folder / name)).hexdigest() != digest:
            raise Absent(f"{name} is not the file that was scored")
    options = SessionOptions()
    # One thread: a message is short, and the fire's other work goes on beside it.
    options.intra_op_num_threads = 1
    options.inter_op_num_threads = 1
    options.enable_cpu_mem_arena = False
    options.log_severity_level = 3
    # By its path: from bytes it takes half as much memory again.
    encoder = str(folder / "encoder.onnx")
    session = InferenceSession(encoder, options, providers=["CPUExecutionProvider"])
    tokenizer = Tokenizer.from_file(str(folder / "tokenizer.json"))
    tokenizer.no_padding()
    tokenizer.no_truncation()
    roles = [Role(name) for name in about["roles"]]
    levels = Levels(about["heard_from"], about["alarm_from"])
    return SecondReader(session, tokenizer, about["hazards"], about["kinds"], roles, levels)


def _read(file: Path) -> bytes:
    try:
        return file.read_bytes()
    except OSError as error:
        raise Absent(f"{file.name} cannot be read: {error.strerror}") from None
