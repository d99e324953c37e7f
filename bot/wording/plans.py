"""What a plan on paper says beside its numbers."""

from collections.abc import Mapping

from scheduling.oven.maturity import Cure, Standing

LIMITS: Mapping[str, str] = {
    "steam": "Any hotter, and steam in the wall could crack it.",
    "step": "One step above the hottest fire so far; more at once would be too much.",
    "first": "A first fire stays this small, whatever the wall could bear.",
    "climb": "As high as the dome may climb in the time there is.",
    "session": "As high as it gets in the hours that somebody can tend it.",
    "instrument": "As high as the thermometer reads reliably.",
    "builder": "The builder allows no more.",
    "soot": "Hot enough to burn the soot off the dome; more is not needed.",
    "aim": "As high as this fire is meant to go; more is not needed.",
    "warm_up": "A short warm-up after a long time without fire.",
}

ADVICE = (
    "A plan is advice, reckoned from what was told of this oven and gentler wherever that is "
    "unsure. The builder's limits and local fire rules come before it. If a crack opens or pieces "
    "flake off: add no wood, stay away from the mouth, ask the builder. Embers give off carbon "
    "monoxide, which cannot be smelt: burn outdoors, and never bring them inside."
)


def reason(limited_by: str) -> str:
    """Why a firing goes no higher, as a sentence."""
    return LIMITS.get(limited_by, f"Limited by {limited_by.replace('_', ' ')}.")


def no_day(cure: Cure) -> str | None:
    """Why no day can be given for the first fire; None where one can."""
    if cure.standing is Standing.FROZEN:
        coldest_c = min(frost.low_c for frost in cure.frosts)
        return (
            f"The mortar was out in frost ({coldest_c:.0f} °C) while it was young and may be "
            "broken inside. Light nothing until the builder has looked at it and found it sound."
        )
    if cure.standing is Standing.TOO_COLD:
        return (
            "In the cold that is to be expected the mortar gains too little strength within a "
            "year. Keep it covered and above freezing, and ask the builder."
        )
    return None


def frost_noticed(cure: Cure) -> str | None:
    """A lighter frost of the first days, which is told but forbids nothing."""
    if not cure.frosts or cure.standing is Standing.FROZEN:
        return None
    coldest_c = min(frost.low_c for frost in cure.frosts)
    return (
        f"The mortar met frost ({coldest_c:.0f} °C) in its first days: have it looked at for "
        "crumbling or scaling before the first fire."
    )
