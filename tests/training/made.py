"""Lines made of sentences with gaps (``made.toml``): words of many places, each in many company.

They teach words, not ways of speaking; those come from people.
"""

import random
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path

SEED = 20261127
_GAP = re.compile(r"\{(\w+)\}")


def made_lines() -> Iterator[tuple[str, list[str]]]:
    """Each line once, with its hazards; always the same."""
    given = tomllib.loads(Path(__file__).with_name("made.toml").read_text("utf-8"))
    gaps: dict[str, list[str]] = given["gaps"]
    dice = random.Random(SEED)
    seen: set[str] = set()
    for told in (*given["danger"], *given["fine"]):
        for sentence in told["say"]:
            for _ in range(told["times"]):
                line = _GAP.sub(lambda gap: dice.choice(gaps[gap[1]]), sentence)
                if line not in seen:
                    seen.add(line)
                    yield line, told.get("hazards", [])
