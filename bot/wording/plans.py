"""What a plan on paper says beside its numbers."""

from collections.abc import Mapping

from scheduling.breakin.plan import Firing, LimitedBy, Unfinished
from scheduling.breakin.sheet import PRINTED_K_H, BesideSheet
from scheduling.oven.maturity import Cure, Standing

LIMITS: Mapping[LimitedBy, str] = {
    LimitedBy.STEAM: "Any hotter, and steam in the wall could crack it.",
    LimitedBy.STEP: "One step above the hottest fire so far; more at once would be too much.",
    LimitedBy.CLIMB: "As high as the dome may climb in the time there is.",
    LimitedBy.SESSION: "As high as it gets in the hours that somebody can tend it.",
    LimitedBy.INSTRUMENT: "As high as the thermometer reads reliably.",
    LimitedBy.BUILDER: "The builder allows no more.",
    LimitedBy.SOOT: "Hot enough to burn the soot off the dome; more is not needed.",
}
FIRST = "A first fire stays this small, whatever the wall could bear."
WARM_UP = "A short warm-up after a long time without fire."

UNFINISHED: Mapping[Unfinished, str] = {
    Unfinished.INSTRUMENT: "The plan ends where the thermometer stops reading, before the soot "
    "burns off. Ask the builder, or borrow one that reads higher, before any hotter fire.",
    Unfinished.BUILDER: "The plan ends at the builder's limit; whether to go on is theirs to say.",
    Unfinished.SESSION: "In the hours that somebody can stay, the dome gets no hotter than this; "
    "the last fires need a longer day.",
    Unfinished.STILL_WET: "Even after all these fires water may be left in the wall. Something "
    "keeps it wet, or the limits are too low to dry it: ask the builder.",
    Unfinished.NOT_STRONG: "The mortar is not strong enough yet.",
}

DONE = "The break-in is done: by what is known, the wall is dry and the soot has burnt off."

ADVICE = (
    "A plan is advice, reckoned from what was told of this oven and gentler wherever that is "
    "unsure. The builder's limits and local fire rules come before it. If a crack opens or pieces "
    "flake off: add no wood, stay away from the mouth, ask the builder. Embers give off carbon "
    "monoxide, which cannot be smelt: burn outdoors, and never bring them inside."
)


SHEET_FIRST = (
    "If the maker of your castable or bricks gave you a drying sheet, it comes before this plan: "
    "tell your builder, who can set its climb and its highest temperature as limits."
)


def beside_sheet(told: BesideSheet) -> str:
    """How the plan stands beside what makers of castables print."""
    least, most = PRINTED_K_H
    pace = "faster than" if told.faster else "as slowly as"
    return (
        f"Makers of castables print one slow rise: {least:.0f} to {most:.0f} K an hour, and about "
        f"an hour's soak for each 25 mm, here {told.soak_h:.1f} hours. This plan climbs {pace} "
        f"that, up to {told.climb_k_h:.0f} K an hour, but in steps of at most {told.step_k:.0f} K "
        f"from fire to fire, each held up to {told.hold_h:.1f} hours, with a night between. It "
        "drives out free water; what is bound in the cement goes on leaving up to 600 °C. Where "
        "the maker gave a sheet, the sheet comes first: write its ramp as climb_low_k_h and "
        "climb_high_k_h, and its top as cap_c, under [limits] in the oven file."
    )


def reason(firing: Firing) -> str:
    """Why a firing goes no higher, as a sentence."""
    if firing.limited_by is LimitedBy.STEP:
        if firing.warm_up:
            return WARM_UP
        if firing.reason.built_on_c is None:
            return FIRST
    return LIMITS[firing.limited_by]


def limit_not_taken(name: str, told: float, kept: float) -> str:
    """A builder's limit that would have been less gentle than the usual one."""
    return f"{name} = {told:g} in the oven file is less gentle than {kept:g}, which holds."


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


def frost_likely(usual_low_c: float | None) -> str | None:
    """A frost that the season makes likely, of which nobody has told anything."""
    if usual_low_c is None:
        return None
    return (
        f"Nights of about {usual_low_c:.0f} °C are usual there in the first days of this mortar, "
        "which frost can break. Keep it covered and above freezing; if it did freeze, write the "
        "coldest night under [air] in the oven file."
    )
