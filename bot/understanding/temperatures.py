"""Readings: the numbers left over when every other reader has had its turn.

A number becomes a reading only where its place ("top"), its unit ("°", "F") or the plainness
of the words around it say so; anything doubtful becomes a ``Doubt`` with its likely meanings.
A missed reading costs one question, an invented one may cost the oven.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Literal

from bot.understanding.message import Message, Mood
from bot.understanding.numbers import joined_value
from bot.understanding.patterns import words
from bot.understanding.phrasebook import (
    ABOUT,
    DEGREES,
    FRIENDLY_AFTER,
    FRIENDLY_BEFORE,
    OVERLOAD,
    PLACES,
    UNITS,
    VAGUE_HEAT,
)
from bot.understanding.tokens import TokenKind
from scheduling.remark import Doubt, Expectation, Reading, Setting

COLDEST_C, HOTTEST_C = -30.0, 700.0
"""Past these no dome reads: a hard frost below, more than any break-in fire above."""
_BARE_HOTTEST_C = 500.0
"""A bare number above this was more likely typed in °F."""
_SMALLEST_BARE = 12.0
"""A bare number below this is as likely pieces, or a day, as a cold dome."""
_MINUTES_LIKE = 60.0
"""Up to here a bare number out of the blue may as well be minutes."""


@dataclass(frozen=True, slots=True)
class _Figure:
    """A number that may be a temperature."""

    start: int
    stop: int
    value: float
    unit: Literal["C", "F", ""] = ""
    marked: bool = False
    """It carries a degree sign, a unit or the word."""
    approximate: bool = False
    place: str = ""
    past: bool = False
    risen: bool = False
    """It ends "from 140 to 152"."""
    bound: bool = False
    """ "Over 150" says less than a number."""
    spread: float | None = None
    """The other end of "150-160"."""
    joined: float | None = None
    """What "1 60" would be without its first figure."""


@dataclass(frozen=True, slots=True)
class Temperatures:
    """What the message says about temperatures."""

    reading: Reading | None = None
    doubt: Doubt | None = None
    at: int = 0
    """Index of its first token."""


def temperatures(message: Message, setting: Setting, when: datetime | None) -> Temperatures:
    """The reading in ``message``, or what is doubtful about it, or neither."""
    figures = list(_figures(message, setting))
    if not figures:
        return _without_figure(message, setting)
    first = figures[0].start
    heard = message.said(first, figures[-1].stop)
    placed = _placed(message, figures)
    for figure in figures:
        message.claim(figure.start, figure.stop)
    figures = _current(placed)
    if not figures:
        return Temperatures()
    why = _doubt_about(message, figures, setting)
    if why is not None:
        return Temperatures(doubt=replace_heard(why, heard), at=first)
    reading = _reading(figures, setting, when)
    return Temperatures(reading=reading, at=first)


def replace_heard(doubt: Doubt, heard: str) -> Doubt:
    """``doubt`` with the words it is about."""
    return doubt.model_copy(update={"heard": heard})


# --- finding ------------------------------------------------------------------------------


def _figures(message: Message, setting: Setting) -> Iterable[_Figure]:
    index = 0
    while index < len(message.tokens):
        token = message.tokens[index]
        if token.kind is not TokenKind.NUMBER or index in message.claimed:
            index += 1
            continue
        figure = _figure_at(message, index)
        index = figure.stop
        if _is_spoken_of(message, figure) and _is_plain(message, figure, setting):
            yield figure


def _figure_at(message: Message, index: int) -> _Figure:
    stop = index + 1
    parts = [message.word(index)]
    while (
        len(parts) < 3 and _is_free_number(message, stop) and _fits_join(parts, message.word(stop))
    ):
        parts.append(message.word(stop))
        stop += 1
    joined = joined_value(parts)
    value, without = message.tokens[index].value, None
    if joined is not None:
        without = message.tokens[stop - 1].value
        value = joined
    else:
        stop = index + 1
    if _is_minus(message, index):
        value = -value
    unit, marked, stop = _unit_at(message, stop)
    spread, risen = None, False
    if message.word(stop) in ("-", "to", "or", "and") and _is_free_number(message, stop + 1):
        between = message.word(index - 1) == "between"
        if message.word(stop) != "and" or between:
            other = message.tokens[stop + 1].value
            if message.word(index - 1) == "from" or message.word(index - 2) == "from":
                value, stop, risen = other, stop + 2, True
            else:
                spread, stop = other, stop + 2
            other_unit, other_marked, stop = _unit_at(message, stop)
            unit, marked = unit or other_unit, marked or other_marked
    return _Figure(
        index,
        stop,
        value,
        unit,
        marked,
        approximate=_is_approximate(message, index, stop),
        past=_is_past(message, index) and not risen,
        risen=risen,
        bound=_is_bound(message, index),
        spread=spread,
        joined=without,
    )


def _fits_join(parts: list[str], after: str) -> bool:
    return (
        len(parts[0]) == 1
        and after.isdigit()
        and (
            (len(parts) == 1 and len(after) in (1, 2))
            or (len(parts) == 2 and len(parts[1]) == len(after) == 1)
        )
    )


def _is_free_number(message: Message, index: int) -> bool:
    return (
        index < len(message.tokens)
        and message.tokens[index].kind is TokenKind.NUMBER
        and index not in message.claimed
    )


def _is_minus(message: Message, index: int) -> bool:
    before = message.word(index - 1)
    if before == "minus":
        return True
    return before == "-" and message.tokens[index].glued and not message.tokens[index - 1].glued


def _unit_at(message: Message, stop: int) -> tuple[Literal["C", "F", ""], bool, int]:
    marked = False
    if message.word(stop) in DEGREES:
        marked = True
        stop += 1
    word = message.word(stop)
    if word in UNITS and stop not in message.claimed:
        return ("C" if UNITS[word] == "C" else "F"), True, stop + 1
    return "", marked, stop


def _is_approximate(message: Message, start: int, stop: int) -> bool:
    before = {message.word(start - step) for step in (1, 2)}
    return (
        bool(before & ABOUT)
        or message.word(stop) == "ish"
        or (message.words(stop, stop + 2) in ("or so", "give or", "or thereabouts", "or around"))
        or message.words(start - 2, start)
        in (
            "just over",
            "just under",
            "bit over",
            "bit under",
            "just above",
            "just below",
            "a touch",
        )
    )


def _is_past(message: Message, index: int) -> bool:
    clause = message.clause_of(index)
    for before in range(index - 1, max(clause.start, index - 5) - 1, -1):
        if message.word(before) == "now":
            return False
        if message.word(before) in ("was", "were", "from"):
            return True
    return False


def _is_bound(message: Message, index: int) -> bool:
    before, earlier = message.word(index - 1), message.word(index - 2)
    if before in ("over", "above", "under", "below", "beyond", "<", ">", "exceeding", "past"):
        return earlier not in ("just", "bit", "little", "touch", "slightly")
    return before == "than" and earlier in ("more", "less", "higher", "lower", "hotter", "cooler")


# --- weighing the words around ------------------------------------------------------------


def _is_spoken_of(message: Message, figure: _Figure) -> bool:
    """Whether the clause states the number rather than asking, supposing or quoting it."""
    clause = message.clause_of(figure.start)
    if clause.mood is Mood.ASKED:
        # "152?" is a figure offered with a doubt, not a question about one
        return all(
            message.word(i) in (*FRIENDLY_BEFORE, *PLACES, "?") or figure.start <= i < figure.stop
            for i in range(clause.start, clause.stop)
        ) and not any(message.word(i) in _ASKING_WORDS for i in range(clause.start, clause.stop))
    if clause.mood is not Mood.SAID:
        return False
    if any(message.word(i) in OTHER_DAYS for i in range(clause.start, clause.stop)):
        return False
    return not any(
        message.word(i) in ("not", "never", "minus" if figure.value > 0 else "never")
        for i in range(max(clause.start, figure.start - 4), figure.start)
    )


OTHER_DAYS = frozenset(
    ["tomorrow", "yesterday", "tv", "radio", "forecast", "weather", "outside", "outdoors"]
)
_ASKING_WORDS = frozenset(["is", "are", "should", "be", "can", "what", "do", "does", "will", "if"])


def _is_plain(message: Message, figure: _Figure, setting: Setting) -> bool:
    """Whether unit, place or plain neighbours make the number a temperature."""
    if figure.value != figure.value or re.match(r"0\d", message.word(figure.start)):
        return False
    if figure.marked or figure.risen or figure.bound or figure.spread is not None:
        return True
    before = _left_word(message, figure.start)
    after = message.word(figure.stop)
    if before in PLACES or after in PLACES:
        return True
    if _is_of_another_thing(message, figure.start):
        return False
    left = (
        figure.approximate
        or before in ("", "\n", ".", "!", "?", ";")
        or before in FRIENDLY_BEFORE
        or figure.start - 1 in message.claimed
        or _is_free_number(message, figure.start - 1)
        or before in ABOUT
    )
    right = (
        after in ("", "\n", ".", "!", "?", ";", ":", "/")
        or after in FRIENDLY_AFTER
        or figure.stop in message.claimed
        or _is_free_number(message, figure.stop)
    )
    if message.tokens[figure.start].spoken and figure.value < _SMALLEST_BARE:
        return False
    del setting
    return left and right


_LINKS = words("is was are were at to of hit only about now just be been")
_GUSTS = frozenset(["gusting", "gusts", "gust", "wind", "winds", "windy", "blowing"])


def _is_of_another_thing(message: Message, start: int) -> bool:
    """Whether the figure belongs to a word nobody uses of an oven ("gas bill was 160")."""
    clause = message.clause_of(start)
    index = start - 1
    while index > clause.start and message.word(index) in _LINKS:
        index -= 1
    word = message.word(index)
    if index < clause.start or index == start - 1 or word in _LINKS:
        return word in _GUSTS
    return word in _GUSTS or not (
        word in FRIENDLY_BEFORE
        or word in FRIENDLY_AFTER
        or word in PLACES
        or word in ABOUT
        or index in message.claimed
        or message.tokens[index].kind is not TokenKind.WORD
    )


def _left_word(message: Message, start: int) -> str:
    """The word before the figure; before a colon, the label the colon belongs to."""
    before = message.word(start - 1)
    return message.word(start - 2) if before in (":", "=") else before


# --- places -------------------------------------------------------------------------------


def _placed(message: Message, figures: list[_Figure]) -> list[_Figure]:
    """Give each figure the place it was read at, in whichever order the owner writes them."""
    places = [
        (index, PLACES[token.text])
        for index, token in enumerate(message.tokens)
        if token.text in PLACES and index not in message.claimed and not _is_tag(message, index)
    ]
    if not places:
        return figures
    before = _assign(message, figures, places, place_first=True)
    after = _assign(message, figures, places, place_first=False)
    place_first = _unmatched(before, places) <= _unmatched(after, places)
    chosen = before if place_first else after
    if places[0][0] < figures[0].start and _linked(message, places[0][0], figures[0].start):
        chosen = before
    out = list(chosen)
    if not out[0].place and len(out) > 1 and not any(f.place == "top" for f in out[1:]):
        # "152 sides 140 138": the crown is what people read first
        out[0] = replace(out[0], place="top")
    return [figure for figure in out if figure.place != "elsewhere"]


def _is_tag(message: Message, index: int) -> bool:
    """ "Right" and "back" are places only beside a number."""
    word = message.word(index)
    if word not in ("right", "back", "stone", "fire", "l", "r", "house", "water", "front"):
        return False
    near = [
        message.tokens[i] for i in (index - 1, index + 1, index + 2) if 0 <= i < len(message.tokens)
    ]
    if word == "right" and any(token.text in ("left", "l") for token in message.tokens):
        return False
    if word in ("right", "back"):
        after = message.word(index + 1)
        return not (
            after in ("wall", "side", "is", "=", ":") or _is_free_number(message, index + 1)
        )
    return not any(token.kind is TokenKind.NUMBER for token in near)


def _linked(message: Message, place: int, number: int) -> bool:
    return all(
        message.word(i) in FRIENDLY_BEFORE or message.word(i) in PLACES
        for i in range(place + 1, number)
    )


def _assign(
    message: Message, figures: list[_Figure], places: list[tuple[int, str]], *, place_first: bool
) -> list[_Figure]:
    out: list[_Figure] = []
    for figure in figures:
        if place_first:
            near = [p for p in places if p[0] < figure.start]
            candidate = near[-1] if near else None
        else:
            near = [p for p in places if p[0] >= figure.stop]
            candidate = near[0] if near else None
        out.append(replace(figure, place=candidate[1] if candidate else ""))
    del message
    return out


def _unmatched(figures: list[_Figure], places: list[tuple[int, str]]) -> int:
    kinds = {kind for _, kind in places}
    got = [figure.place for figure in figures if figure.place]
    singles = sum(max(0, got.count(kind) - 1) for kind in ("top", "hearth"))
    return 2 * len(kinds - set(got)) + sum(not f.place for f in figures) + 2 * singles


def _current(figures: list[_Figure]) -> list[_Figure]:
    """Drop "was 140" where "now 152" follows, and a second unit for the same reading."""
    kept = [
        f
        for f in figures
        if not (f.past and any(not g.past and g.place == f.place for g in figures))
    ]
    out: list[_Figure] = []
    for figure in kept:
        if out and out[-1].unit and figure.unit and out[-1].unit != figure.unit:
            if abs(_celsius(out[-1].value, out[-1].unit) - _celsius(figure.value, figure.unit)) < 3:
                continue
        out.append(figure)
    return out


# --- doubts -------------------------------------------------------------------------------


def _celsius(value: float, unit: str) -> float:
    return round((value - 32) / 1.8, 1) if unit == "F" else value


def _unit_of(figures: list[_Figure], setting: Setting) -> str:
    said = {figure.unit for figure in figures if figure.unit}
    return said.pop() if len(said) == 1 else setting.unit


def _doubt_about(message: Message, figures: list[_Figure], setting: Setting) -> Doubt | None:
    unit = _unit_of(figures, setting)
    explicit = any(f.unit for f in figures)
    for figure in figures:
        celsius = _celsius(figure.value, figure.unit or unit)
        if figure.spread is not None:
            ends = sorted((celsius, _celsius(figure.spread, figure.unit or unit)))
            return _either(ends, approximate=True)
        if figure.bound:
            return _either([celsius], approximate=True)
        hottest = setting.instrument_max_c or HOTTEST_C
        other = _celsius(figure.value, "F" if unit == "C" else "C")
        if not explicit and _typed_in_other_unit(celsius, other, unit, setting):
            return Doubt(why="which_unit", choices=_readings([celsius, other]))
        if not COLDEST_C <= celsius <= min(hottest, HOTTEST_C):
            return Doubt(why="out_of_range")
        doubt = _slip(figure, celsius, unit, setting)
        if doubt is not None:
            return doubt
        if message.clause_of(figure.start).mood is Mood.ASKED:
            return _either([celsius])
    return _doubtful_place(message, figures, unit, setting)


def _either(values: Iterable[float], *, approximate: bool = False) -> Doubt:
    return Doubt(why="which_number", choices=_readings(values, approximate=approximate))


def _readings(values: Iterable[float], *, approximate: bool = False) -> tuple[Reading, ...]:
    return tuple(
        Reading(top_c=value, approximate=approximate)
        for value in values
        if COLDEST_C <= value <= HOTTEST_C
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


def _slip(figure: _Figure, celsius: float, unit: str, setting: Setting) -> Doubt | None:
    """A figure left out, or one too many."""
    last = setting.last_top_c
    if figure.joined is not None and last is not None:
        alone = _celsius(figure.joined, figure.unit or unit)
        if abs(alone - last) < abs(celsius - last):
            return _either([celsius, alone])
    if last is None or figure.place not in ("", "top") or last < 80:
        return None
    hundred = _celsius(figure.value + 100, figure.unit or unit)
    if last - celsius > 70 and abs(hundred - last) < 45:
        return _either([hundred, celsius])
    if celsius < 30 and last > 80:
        return _either([celsius])
    return None


def _doubtful_place(
    message: Message, figures: list[_Figure], unit: str, setting: Setting
) -> Doubt | None:
    bare = [f for f in figures if not f.place]
    tops = [f for f in figures if f.place == "top"]
    values = [_celsius(f.value, f.unit or unit) for f in figures]
    if len(bare) > 1 or (bare and tops):
        return Doubt(why="which_place", choices=_arrangements(values))
    if len(tops) > 1 or sum(f.place == "hearth" for f in figures) > 1:
        return _either(_celsius(f.value, f.unit or unit) for f in figures)
    if len(bare) == 1 and len(figures) == 1 and not bare[0].marked:
        return _doubtful_bare(message, bare[0], values[0], setting)
    return None


def _doubtful_bare(
    message: Message, figure: _Figure, celsius: float, setting: Setting
) -> Doubt | None:
    expected = setting.expect is Expectation.READING
    last = setting.last_top_c
    if figure.value < _SMALLEST_BARE and not (expected and last is not None and last < 40):
        return Doubt(why="unclear", choices=_readings([celsius]))
    alone = len(message.tokens) == figure.stop - figure.start
    if not expected and alone and figure.value <= _MINUTES_LIKE:
        return Doubt(why="unclear", choices=_readings([celsius]))
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


def _reading(figures: list[_Figure], setting: Setting, when: datetime | None) -> Reading:
    unit = _unit_of(figures, setting)
    top, hearth, sides = None, None, []
    for figure in figures:
        celsius = _celsius(figure.value, figure.unit or unit)
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
        approximate=any(f.approximate for f in figures),
        at=when,
    )


def _without_figure(message: Message, setting: Setting) -> Temperatures:
    text = " " + message.words(0, len(message.tokens)) + " "
    if any(p.search(text) for p in OVERLOAD):
        return Temperatures(doubt=Doubt(why="out_of_range", heard=message.text))
    if setting.expect is Expectation.READING and any(p.search(text) for p in VAGUE_HEAT):
        same = () if setting.last_top_c is None else _readings([setting.last_top_c])
        choices = (
            same if any(w in text for w in (" same ", " unchanged ", " steady ", " no ")) else ()
        )
        return Temperatures(doubt=Doubt(why="which_number", choices=choices, heard=message.text))
    return Temperatures()
