"""Two readers of one message, and what is made of them.

The grammar reads meanings; the second reader, which has learnt from other people's words, says
how likely a message tells of each hazard, and of any danger at all. A danger that either hears is
a danger. Where the grammar alone hears one and the second reader is sure that there is none, or
where words are left over and the second reader is uneasy, the words are asked about instead: no
wood goes on before somebody has answered.
"""

from bot.understanding.grammar import understand
from bot.understanding.second_reader import Opinion, second_reader
from scheduling.hazard import Hazard
from scheduling.remark import (
    Crack,
    Doubt,
    FireBan,
    HazardSaid,
    Leaving,
    Looked,
    Remark,
    Setting,
    Understood,
)

UNEASY = 1.0
"""Of the level of alarm: from so much on, words that the grammar left over are asked about."""

SURE_OF_NONE = 0.02
"""Below this alarm a hazard that the grammar alone hears is asked about instead."""

QUOTED = 120


def heard(text: str, setting: Setting) -> Understood:
    """What a message means to both readers; to the grammar alone where there is no second."""
    reader = second_reader()
    return agreed(text, understand(text, setting), None if reader is None else reader.read(text))


def agreed(text: str, read: Understood, opinion: Opinion | None) -> Understood:
    """What the grammar ``read``, with what the second reader thinks of it."""
    if opinion is None:
        return read
    by_grammar = {one.hazard for one in read.meanings if isinstance(one, HazardSaid)}
    by_second = {Hazard(one) for one in opinion.heard} - _said_otherwise(read.meanings)
    if by_grammar and not by_second and opinion.alarm < SURE_OF_NONE:
        return _asked(read, text)
    if by_grammar or by_second:
        return _endangered(read, by_grammar | by_second, opinion)
    exact = bool(_said_otherwise(read.meanings)) and not read.unheard
    wary = opinion.alarm >= UNEASY * opinion.levels.alarm_from and bool(read.unheard)
    if (opinion.alarmed and not exact) or wary or (read.hinted and opinion.alarm >= SURE_OF_NONE):
        return _asked(read, text)
    return read.model_copy(update={"unheard": ""})


def _said_otherwise(meanings: tuple[Remark, ...]) -> set[Hazard]:
    """Hazards that the grammar has told more exactly, as a remark of their own."""
    told: set[Hazard] = set()
    for one in meanings:
        match one:
            case Crack():
                told.add(Hazard.CRACK)
            case FireBan():
                told.add(Hazard.BAN)
            case Leaving():
                told.add(Hazard.UNATTENDED)
            case Looked(sound=True, hazard=Hazard() as hazard):
                told.add(hazard)
            case _:
                pass
    return told


def _endangered(read: Understood, hazards: set[Hazard], opinion: Opinion) -> Understood:
    ranked = sorted(hazards, key=lambda one: -opinion.hazards.get(one, 0.0))
    rest = [one for one in read.meanings if not isinstance(one, HazardSaid | Looked)]
    doubt = read.doubt if read.doubt is not None and read.doubt.why != "unclear" else None
    told: tuple[Remark, ...] = (*(HazardSaid(hazard=one) for one in ranked), *rest)
    return read.model_copy(update={"meanings": told, "doubt": doubt, "unheard": ""})


def _asked(read: Understood, text: str) -> Understood:
    """Nothing is taken for a danger, and the words are asked about."""
    rest = tuple(one for one in read.meanings if not isinstance(one, HazardSaid))
    words = read.unheard or text.strip()[:QUOTED]
    doubt = read.doubt if rest or read.doubt is not None else Doubt(why="unclear", heard=words)
    return read.model_copy(update={"meanings": rest, "doubt": doubt, "unheard": words})
