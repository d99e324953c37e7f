"""Readings: the numbers left over when every other reader has had its turn.

A number becomes a reading only where its place ("top"), its unit ("°", "F") or the plainness
of the words around it say so; anything doubtful becomes a ``Doubt`` with its likely meanings.
A missed reading costs one question, an invented one may cost the oven.
"""

from dataclasses import dataclass

from bot.understanding.figure_doubts import doubt_about, readings, unit_of
from bot.understanding.figures import Figure, figures, to_celsius
from bot.understanding.message import Message
from bot.understanding.patterns import words
from bot.understanding.phrasebook import OVERLOAD, VAGUE_HEAT
from bot.understanding.places import placed
from bot.understanding.plain_figures import is_plain, is_spoken_of
from bot.understanding.tokens import TokenKind
from scheduling.remark import Doubt, Expectation, Reading, Setting

_SAME_AGAIN_C = 3.0
"""Two figures in two units this close are one reading, rounded."""


@dataclass(frozen=True, slots=True)
class Temperatures:
    """What the message says about temperatures."""

    reading: Reading | None = None
    doubt: Doubt | None = None
    past: bool = False
    """It "was" so: of use only with the time it was read."""
    at: int = 0
    """Index of its first token."""


def temperatures(message: Message, setting: Setting) -> Temperatures:
    """The reading in ``message``, or what is doubtful about it, or neither."""
    stated = [f for f in figures(message) if is_spoken_of(message, f) and is_plain(message, f)]
    if not stated:
        return _without_figure(message, setting)
    heard = message.said(stated[0].start, stated[-1].stop)
    located = placed(message, stated)
    for figure in stated:
        message.claim(figure.start, figure.stop)
    now = _current(_without_earlier(message, located))
    if not now:
        return Temperatures()
    doubt = doubt_about(message, now, setting)
    if doubt is not None:
        return Temperatures(doubt=_quoting(doubt, heard), at=stated[0].start)
    past = any(figure.past for figure in now)
    return Temperatures(_reading(now, setting), past=past, at=now[0].start)


def _quoting(doubt: Doubt, heard: str) -> Doubt:
    """``doubt`` with the words it is about."""
    return doubt.model_copy(update={"heard": heard})


def _without_earlier(message: Message, located: list[Figure]) -> list[Figure]:
    """Drop "182 at quarter to" where "187 now" follows."""
    if len(located) != 2 or located[0].place != located[1].place:
        return located
    first, second = (message.clause_of(figure.start) for figure in located)
    timed = any(
        message.tokens[i].kind is TokenKind.CLOCK or message.word(i) in _TIMED
        for i in range(located[0].stop, first.stop)
    )
    return located[1:] if timed and first != second and " now " in second.text else located


_TIMED = words("past to ago earlier before am pm o'clock half quarter at")


def _current(located: list[Figure]) -> list[Figure]:
    """Drop "was 140" where "now 152" follows, and a second unit for the same reading."""
    kept = [
        f
        for f in located
        if not (f.past and any(not g.past and g.place == f.place for g in located))
    ]
    return [
        figure
        for figure, before in zip(kept, [None, *kept], strict=False)
        if not _same(figure, before)
    ]


def _same(figure: Figure, before: Figure | None) -> bool:
    """Whether "152 C (306 F)" says the same again in the other unit."""
    if before is None or not (before.unit and figure.unit) or before.unit == figure.unit:
        return False
    apart = to_celsius(before.value, before.unit) - to_celsius(figure.value, figure.unit)
    return abs(apart) < _SAME_AGAIN_C


def _reading(stated: list[Figure], setting: Setting) -> Reading:
    unit = unit_of(stated, setting)
    top, hearth, sides = None, None, []
    for figure in stated:
        celsius = to_celsius(figure.value, figure.unit or unit)
        if figure.place in ("", "top"):
            top = celsius
        elif figure.place == "hearth":
            hearth = celsius
        else:
            sides.append(celsius)
    return Reading(
        top_c=top,
        sides_c=tuple(sides),
        hearth_c=hearth,
        approximate=any(f.approximate for f in stated),
        unit_named=all(f.unit for f in stated),
        taken_in="F" if unit == "F" else "C",
    )


def _without_figure(message: Message, setting: Setting) -> Temperatures:
    text = " " + message.words(0, len(message.tokens)) + " "
    if any(p.search(text) for p in OVERLOAD):
        return Temperatures(doubt=Doubt(why="out_of_range", heard=message.text))
    if setting.expect is Expectation.READING and any(p.search(text) for p in VAGUE_HEAT):
        same = () if setting.last_top_c is None else readings([setting.last_top_c])
        choices = (
            same if any(w in text for w in (" same ", " unchanged ", " steady ", " no ")) else ()
        )
        return Temperatures(doubt=Doubt(why="which_number", choices=choices, heard=message.text))
    return Temperatures()
