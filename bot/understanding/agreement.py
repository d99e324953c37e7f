"""Two readers of one message, and what is made of them.

The grammar reads meanings; the second reader, which has learnt from other people's words, says
how likely a message tells of each hazard, and of any danger at all. A danger that either hears is
a danger. Where the grammar alone hears one and the second reader is sure that there is none, or
where words are left over and the second reader is uneasy, the words are asked about instead: no
wood goes on before somebody has answered.
"""

from collections.abc import Mapping
from typing import Protocol

from bot.understanding.grammar import understand
from scheduling.hazard import Hazard
from scheduling.remark import (
    Crack,
    Doubt,
    FireBan,
    HazardSaid,
    Remark,
    Setting,
    Sign,
    Understood,
)


class Opinion(Protocol):
    """What the second reader makes of a message: how likely it tells of each hazard, and of any
    danger at all."""

    @property
    def hazards(self) -> Mapping[Hazard, float]:
        """By hazard, from 0 to 1."""

    @property
    def alarm(self) -> float:
        """From 0 to 1."""


HEARD = 0.5
"""Above this the second reader hears a hazard (chosen on writers held out of its training)."""
UNEASY = 0.12
"""Above this it is uneasy about words that the grammar has left over (likewise)."""
ALARMED = 0.5
"""Above this it is, whatever the grammar made of them."""
SURE_OF_NONE = 0.02
"""Below this a hazard that the grammar alone hears is asked about instead."""

QUOTED = 120


def heard(text: str, setting: Setting, opinion: Opinion | None) -> Understood:
    """What a message means to both readers; to the grammar alone without an ``opinion``."""
    read = understand(text, setting)
    if opinion is None:
        return read
    by_grammar = {one.hazard for one in read.meanings if isinstance(one, HazardSaid)}
    by_second = {hazard for hazard, share in opinion.hazards.items() if share >= HEARD}
    by_second -= _said_otherwise(read.meanings)
    hazards = by_grammar | by_second
    if hazards and not by_second and opinion.alarm < SURE_OF_NONE:
        return _asked(read, text)
    if hazards:
        return _endangered(read, hazards, opinion)
    uneasy = opinion.alarm >= (UNEASY if read.unheard else ALARMED)
    return _asked(read, text) if uneasy else read.model_copy(update={"unheard": ""})


def _said_otherwise(meanings: tuple[Remark, ...]) -> set[Hazard]:
    """Hazards that the grammar has told more exactly, as a remark of their own."""
    told: set[Hazard] = set()
    for one in meanings:
        match one:
            case Crack():
                told.add(Hazard.CRACK)
            case FireBan():
                told.add(Hazard.BAN)
            case Sign(kind="too_big"):
                told.add(Hazard.OUT_OF_CONTROL)
            case _:
                pass
    return told


def _endangered(read: Understood, hazards: set[Hazard], opinion: Opinion) -> Understood:
    ranked = sorted(hazards, key=lambda one: -opinion.hazards.get(one, 0.0))
    rest = [one for one in read.meanings if not isinstance(one, HazardSaid)]
    doubt = read.doubt if read.doubt is not None and read.doubt.why != "unclear" else None
    told: tuple[Remark, ...] = (*(HazardSaid(hazard=one) for one in ranked), *rest)
    return read.model_copy(update={"meanings": told, "doubt": doubt, "unheard": ""})


def _asked(read: Understood, text: str) -> Understood:
    """Nothing is taken for a danger, and the words are asked about."""
    rest = tuple(one for one in read.meanings if not isinstance(one, HazardSaid))
    words = read.unheard or text.strip()[:QUOTED]
    doubt = read.doubt if rest or read.doubt is not None else Doubt(why="unclear", heard=words)
    return read.model_copy(update={"meanings": rest, "doubt": doubt, "unheard": words})
