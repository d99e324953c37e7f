"""Two readers of one message, and what is made of them.

The grammar reads meanings; the second reader, which has learnt from other people's words, says
how likely a message tells of each hazard, and of any danger at all. A danger that either hears is
a danger. Where the grammar alone hears one and the second reader is sure that there is none, or
where words are left over and the second reader is uneasy, the words are asked about instead: no
wood goes on before somebody has answered.
"""

from collections.abc import Sequence

from bot.understanding.grammar import understand
from bot.understanding.second_reader import Opinion, second_reader
from scheduling.hazard import Hazard
from scheduling.remark import (
    Crack,
    CrackSize,
    Doubt,
    FireBan,
    HazardSaid,
    Leaving,
    Looked,
    Remark,
    Setting,
    Sign,
    Understood,
)

UNEASY = 1.0
"""Of the level of alarm: from so much on, words that the grammar left over are asked about."""

SURE_OF_NONE = 0.7
"""Below this alarm a hazard that the grammar alone hears is asked about instead."""

CERTAIN_OF_NONE = 0.1
"""The same of a hazard that the grammar reads more exactly: a crack, a ban, a fire too big."""

HINTED = 0.3
"""Of the alarm: from so much on, a word that hints at a danger to the grammar is asked about."""

OFFERED = 3
"""So many hazards are offered by name beside "all is well"."""

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
    told = [hazard for one in read.meanings if (hazard := hazard_of(one)) is not None]
    calm = SURE_OF_NONE if by_grammar.issuperset(told) else CERTAIN_OF_NONE
    if told and not by_second and opinion.alarm < calm:
        return _asked(read, text, opinion, doubted=told)
    if by_grammar or by_second:
        return _endangered(read, by_grammar | by_second, opinion)
    exact = bool(_said_otherwise(read.meanings)) and not read.unheard
    wary = opinion.alarm >= UNEASY * opinion.levels.alarm_from and bool(read.unheard)
    if (opinion.alarmed and not exact) or wary or (read.hinted and opinion.alarm >= HINTED):
        return _asked(read, text, opinion)
    return read.model_copy(update={"unheard": ""})


def hazard_of(remark: Remark) -> Hazard | None:
    """The hazard that a remark tells of, whatever its kind."""
    match remark:
        case HazardSaid(hazard=hazard):
            return hazard
        case Crack(size=size) if size is not CrackSize.HAIRLINE:
            return Hazard.CRACK
        case FireBan(over=False):
            return Hazard.BAN
        case Sign(kind="too_big"):
            return Hazard.OUT_OF_CONTROL
        case _:
            return None


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


def _asked(
    read: Understood, text: str, opinion: Opinion, *, doubted: Sequence[Hazard] = ()
) -> Understood:
    """The words are asked about; the hazards ``doubted`` are not taken for told."""
    rest = tuple(one for one in read.meanings if hazard_of(one) not in doubted)
    words = read.unheard or text.strip()[:QUOTED]
    doubt = read.doubt if rest or read.doubt is not None else Doubt(why="unclear", heard=words)
    alarmed = [Hazard(one) for one in opinion.likeliest] if opinion.alarmed else []
    likely = tuple(dict.fromkeys([*doubted, *alarmed]))[:OFFERED]
    return read.model_copy(
        update={"meanings": rest, "doubt": doubt, "unheard": words, "likely": likely}
    )
