"""How invented owners type: plainly, or with sooty fingers."""

import numpy as np


def a_reading(
    top_c: float, sides_c: float | None, unit: str, neat: float, rng: np.random.Generator
) -> str:
    """A reading as somebody would type it. ``neat`` 1 is always plain, 0 never."""
    top = round(top_c if unit == "C" else top_c * 1.8 + 32)
    sides = None if sides_c is None else round(sides_c if unit == "C" else sides_c * 1.8 + 32)
    if rng.random() < neat:
        return f"{top}" if sides is None else f"top {top} sides {sides}"
    forms = [
        f"{top}", f"its {top} now", f"{top} deg", f"top {top}", f"{top}{unit.lower()}",
        f"dome {top}", f"{top} 🔥", f"reading {top}", f"{top}°", f"reads {top} at the top",
        f"about {top}", f"{top}.", f"Top {top}!", f"tpo {top}",
    ]  # fmt: skip
    if sides is not None:
        forms += [f"{top}/{sides}", f"top {top} side {sides}", f"{top} top, {sides} sides"]
    if rng.random() < 0.04 and top >= 100:
        return f"{top // 100} {top % 100:02d}"  # "1 52": asked back, or read right
    return str(rng.choice(forms))


def lit(rng: np.random.Generator, neat: float) -> str:
    """Says that the fire is lit."""
    return (
        "lit" if rng.random() < neat else str(rng.choice(["lit it", "its lit", "fire lit", "Lit!"]))
    )


def stoked(pieces: int, rng: np.random.Generator, neat: float) -> str:
    """Says that wood went on."""
    if rng.random() < neat:
        return f"put {pieces} on"
    forms = [f"put {pieces} bits on", f"{pieces} more on", "stoked", f"added {pieces} pieces"]
    return str(rng.choice(forms))


def over_range(rng: np.random.Generator) -> str:
    """Says that the thermometer shows no number."""
    return str(rng.choice(["it says HI", "thermometer just shows HI", "off the scale"]))
