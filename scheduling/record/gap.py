"""What days without a fire cost the firings left, by the wall where it is believed."""

from scheduling.breakin.days import LONGEST_GAP_D, GapEffect
from scheduling.breakin.planner import firings_left
from scheduling.firing.rule import Bounds
from scheduling.record.facts import Facts
from scheduling.record.wall import limits_of

NEVER = (0,) * (LONGEST_GAP_D + 1)


def gap_effect(record: Facts, bounds: Bounds) -> GapEffect:
    """The cost of a gap before a firing, asked of the ensemble as it was last kept.

    A gap that costs a firing more costs a day; the firing itself is not laid here, since the
    plan of that time has it: laid twice it would put an idle oven off from day to day. No wall
    is stepped, so this takes milliseconds. Without an ensemble the usual table stands.
    """
    usual, belief = GapEffect(), record.believed
    more = usual.extra
    if belief is not None:
        limits = limits_of(bounds)
        asked = range(1, LONGEST_GAP_D + 1)
        more = GapEffect.from_wall(lambda gap: firings_left(belief, limits, gap), asked).extra
    lost = tuple(heat + extra for heat, extra in zip(usual.lost, more, strict=True))
    return GapEffect(lost=lost, extra=NEVER)
