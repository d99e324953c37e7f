"""What is doubtful about figures that were stated: unit, size, a slip, the place, the company.

An accepted number may send an owner for more wood, so each doubt here ends in a question.
"""

from collections.abc import Iterable

from bot.understanding.figures import Figure, is_free_number, to_celsius
from bot.understanding.message import Message, Mood
from bot.understanding.patterns import words
from bot.understanding.phrasebook import CORRECTING, HOMELY
from bot.understanding.plain_figures import SMALLEST_BARE, is_estranged
from bot.understanding.tokens import TokenKind
from scheduling.remark import Doubt, Expectation, Reading, Setting

COLDEST_C, HOTTEST_C = -30.0, 700.0
"""Past these no dome reads: a hard frost below, more than any break-in fire above."""
_BARE_HOTTEST_C = 500.0
"""A bare number above this was more likely typed in °F."""
_FAR_C = 100.0
_A_TAG = 3
"""Tokens of "is ok ?"."""
_LEAP_C = 40.0
"""More than a dome changes between two readings of a small fire (common practice)."""
_COLD_C = 40.0
_A_HUNDRED = 100.0
"""A figure was only left out of a number that is shorter than it should be."""
_MINUTES_LIKE = 60.0
"""Up to here a bare number out of the blue may as well be minutes."""


def doubt_about(message: Message, figures: list[Figure], setting: Setting) -> Doubt | None:
    """The first doubt about ``figures``, with its likely meanings; None where they are clear."""
    unit = unit_of(figures, setting)
    explicit = any(f.unit for f in figures)
    for figure in figures:
        celsius = to_celsius(figure.value, figure.unit or unit)
        if figure.spread is not None:
            ends = sorted((celsius, to_celsius(figure.spread, figure.unit or unit)))
            return _either(ends, approximate=True)
        if figure.bound:
            return _either([celsius], approximate=True)
        hottest = setting.instrument_max_c or HOTTEST_C
        other = to_celsius(figure.value, "F" if unit == "C" else "C")
        beside_a_top = figure.place not in ("", "top") and any(f.place == "top" for f in figures)
        known = explicit or beside_a_top or setting.judged
        if not known and _typed_in_other_unit(celsius, other, unit, setting):
            return Doubt(why="which_unit", choices=_in_units(celsius, other, unit))
        if not COLDEST_C <= celsius <= min(hottest, HOTTEST_C):
            return Doubt(why="out_of_range")
        doubt = _slip(figure, celsius, unit, setting)
        if doubt is not None:
            return doubt
        if message.clause_of(figure.start).mood is Mood.ASKED:
            return _either([celsius])
    if not explicit and any(
        _is_far_too_hot(to_celsius(f.value, unit), setting) or _like_air(message, f, unit)
        for f in figures
    ):
        return _either(to_celsius(f.value, unit) for f in figures)
    if _asks_about_a_leap(message, figures, setting):
        return _either(to_celsius(f.value, f.unit or unit) for f in figures)
    if _is_in_strange_company(message, figures):
        return _either(to_celsius(f.value, f.unit or unit) for f in figures)
    return _doubtful_place(message, figures, unit, setting)


def _is_far_too_hot(celsius: float, setting: Setting) -> bool:
    """Whether a bare figure is hotter than break-ins get, and nothing led up to it."""
    last = setting.last_top_c
    return celsius > _BARE_HOTTEST_C and (last is None or celsius - last > _FAR_C)


def _like_air(message: Message, figure: Figure, unit: str) -> bool:
    """Whether "sunny and 25" tells of the day rather than of the dome."""
    words_said = set(message.clauses_text().split())
    return to_celsius(figure.value, unit) <= _HOTTEST_AIR_C and bool(words_said & _OF_THE_DAY)


_HOTTEST_AIR_C = 45.0
_OF_THE_DAY = words(
    "freezing frosty frost tonight today sunny sun cloudy mild chilly day out outside humid breeze"
)


def _asks_about_a_leap(message: Message, figures: list[Figure], setting: Setting) -> bool:
    """Whether "200 ok?" may as well ask for leave to go there: far from the last reading."""
    first = figures[0]
    if setting.last_top_c is None or not message.clause_of(first.start).questioned:
        return False
    alone = len(message.tokens) - (first.stop - first.start) <= _A_TAG
    now = to_celsius(first.value, first.unit or setting.unit)
    return alone and abs(now - setting.last_top_c) > _LEAP_C


def _is_strange(message: Message, index: int) -> bool:
    """Whether a word or a number stands there that no reader knows what to do with."""
    token = message.tokens[index]
    if is_free_number(message, index):
        return message.word(index - 1) != "not"
    return (
        token.kind is TokenKind.WORD and index not in message.claimed and token.text not in HOMELY
    )


def _is_in_strange_company(message: Message, figures: list[Figure]) -> bool:
    """Whether a clause holds what nobody claims, or speaks of other ovens and days."""
    for figure in figures:
        if is_estranged(message, figure):
            return True
        clause = message.clause_of(figure.start)
        if any(_is_strange(message, index) for index in range(clause.start, clause.stop)):
            return True
    return False


def unit_of(figures: list[Figure], setting: Setting) -> str:
    """The one unit the message names, else the sender's own."""
    said = {figure.unit for figure in figures if figure.unit}
    return said.pop() if len(said) == 1 else setting.unit


def _either(values: Iterable[float], *, approximate: bool = False) -> Doubt:
    return Doubt(why="which_number", choices=readings(values, approximate=approximate))


def readings(values: Iterable[float], *, approximate: bool = False) -> tuple[Reading, ...]:
    """Crown readings of those ``values`` in °C that a dome can show, to choose from."""
    return tuple(
        Reading(top_c=value, approximate=approximate)
        for value in values
        if COLDEST_C <= value <= HOTTEST_C
    )


def _in_units(celsius: float, other: float, unit: str) -> tuple[Reading, ...]:
    """The same number in its sender's unit and in the other; who chooses has named the unit."""
    units = (unit, "F" if unit == "C" else "C")
    return tuple(
        one.model_copy(update={"unit_named": True, "taken_in": taken_in})
        for value, taken_in in zip((celsius, other), units, strict=True)
        for one in readings([value])
    )


def _typed_in_other_unit(celsius: float, other: float, unit: str, setting: Setting) -> bool:
    last = setting.last_top_c
    if last is not None:
        return abs(other - last) <= 40 and abs(celsius - last) >= 45 + 2 * abs(other - last)
    return (
        unit == "C"
        and celsius > min(_BARE_HOTTEST_C, setting.instrument_max_c or _BARE_HOTTEST_C)
        and (other <= (setting.instrument_max_c or HOTTEST_C))
        and celsius <= 1200
    )


def _slip(figure: Figure, celsius: float, unit: str, setting: Setting) -> Doubt | None:
    """A figure left out, or one too many."""
    last = setting.last_top_c
    if figure.joined is not None and last is not None:
        alone = to_celsius(figure.joined, figure.unit or unit)
        if abs(alone - last) < abs(celsius - last):
            return _either([celsius, alone])
    if last is None or last < 80:
        return None
    if celsius < 30:
        return _either([celsius])
    if figure.place not in ("", "top"):
        return None
    if figure.value >= _A_HUNDRED:
        return None
    hundred = to_celsius(figure.value + 100, figure.unit or unit)
    if last - celsius > 70 and abs(hundred - last) < 45:
        return _either([hundred, celsius])
    return None


def _doubtful_place(
    message: Message, figures: list[Figure], unit: str, setting: Setting
) -> Doubt | None:
    bare = [f for f in figures if not f.place]
    tops = [f for f in figures if f.place == "top"]
    values = [to_celsius(f.value, f.unit or unit) for f in figures]
    if len(bare) > 1 and any(p.search(message.clauses_text()) for p in CORRECTING):
        return _either(values[::-1])
    if len(bare) > 1 or (bare and tops):
        return Doubt(why="which_place", choices=_arrangements(values))
    if len(tops) > 1 or sum(f.place == "hearth" for f in figures) > 1:
        return _either(to_celsius(f.value, f.unit or unit) for f in figures)
    if len(bare) == 1 and len(figures) == 1 and not bare[0].marked:
        return _doubtful_bare(message, bare[0], values[0], setting)
    return None


def _doubtful_bare(
    message: Message, figure: Figure, celsius: float, setting: Setting
) -> Doubt | None:
    expected = setting.expect is Expectation.READING
    last = setting.last_top_c
    cold = setting.cold or (last is not None and last < _COLD_C)
    if figure.value < SMALLEST_BARE and not (expected and cold):
        return Doubt(why="unclear", choices=readings([celsius]))
    alone = len(message.tokens) == figure.stop - figure.start
    if not expected and alone and figure.value <= _MINUTES_LIKE:
        return Doubt(why="unclear", choices=readings([celsius]))
    return None


def _arrangements(values: list[float]) -> tuple[Reading, ...]:
    if any(not COLDEST_C <= value <= HOTTEST_C for value in values):
        return ()
    first, rest = values[0], tuple(values[1:])
    choices = [Reading(top_c=first, sides_c=rest)]
    if len(values) == 2:
        choices.append(Reading(top_c=values[1], sides_c=(first,)))
    choices.append(Reading(sides_c=tuple(values)))
    return tuple(choices)
