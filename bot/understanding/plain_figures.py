"""Whether a number is stated as a temperature: by its mood, its unit, its place, its neighbours."""

import re

from bot.understanding.figures import Figure, is_free_number
from bot.understanding.message import Clause, Message, Mood
from bot.understanding.patterns import words
from bot.understanding.phrasebook import (
    ABOUT,
    DISTRUST,
    ESTRANGING,
    FRIENDLY_AFTER,
    FRIENDLY_BEFORE,
    OTHER_PEOPLE,
    PLACES,
)
from bot.understanding.places import is_place
from bot.understanding.tokens import TokenKind

SMALLEST_BARE = 12.0
"""A bare number below this is as likely pieces, or a day, as a cold dome."""
OTHER_DAYS = frozenset(
    ["tomorrow", "yesterday", "tv", "radio", "forecast", "weather", "outside", "outdoors"]
)
_ASKING_WORDS = frozenset(["is", "are", "should", "be", "can", "what", "do", "does", "will", "if"])
_OF_A_PLACE = words(
    "hand brick bricks surface temperature inside side wall face tiles stone area part bit"
)
"""What may stand between a place and its figure: "hearth bricks 190"."""
_AHEAD = words("will shall would should could might")
"""Before a figure they make it one that nobody has read yet: "I will check at 150"."""
_LINKS = words("am is was are were at to of hit only about now just be been")
_GUSTS = frozenset(["gusting", "gusts", "gust", "wind", "winds", "windy", "blowing"])


def is_spoken_of(message: Message, figure: Figure) -> bool:
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
    if any(message.word(i) in _AHEAD for i in range(clause.start, figure.start)):
        return False
    return not any(
        message.word(i) in ("not", "never", "minus" if figure.value > 0 else "never")
        for i in range(max(clause.start, figure.start - 4), figure.start)
    )


def is_plain(message: Message, figure: Figure) -> bool:
    """Whether unit, place or plain neighbours make the number a temperature."""
    if figure.value != figure.value or re.match(r"0\d", message.word(figure.start)):
        return False
    if figure.marked or figure.risen or figure.bound or figure.spread is not None:
        return True
    if message.tokens[figure.start].spoken and figure.value < SMALLEST_BARE:
        # "one side", "two walls"
        return False
    before = _left_word(message, figure.start)
    after = message.word(figure.stop)
    if before in PLACES or after in PLACES:
        return True
    if _is_of_another_thing(message, figure.start) or _goes_on_counting(message, figure):
        return False
    left = (
        figure.approximate
        or before in ("", "\n", ".", "!", "?", ";")
        or before in FRIENDLY_BEFORE
        or figure.start - 1 in message.claimed
        or is_free_number(message, figure.start - 1)
        or before in ABOUT
    )
    right = (
        after in ("", "\n", ".", "!", "?", ";", ":", "/")
        or after in FRIENDLY_AFTER
        or figure.stop in message.claimed
        or figure.stop >= message.clause_of(figure.start).stop
        or is_free_number(message, figure.stop)
    )
    return left and right


def is_estranged(message: Message, figure: Figure) -> bool:
    """Whether its clause, or the one before it in the sentence, takes the figure elsewhere.

    Someone else's oven, a target, a limit, another day, the coals: such a number is asked
    about, even where it looks plain; and so is one its own sender does not trust.
    """
    clause = message.clause_of(figure.start)
    if any(p.search(clause.text) for p in ESTRANGING) or _is_elsewhere_too(message, clause):
        return True
    if any(p.search(message.clauses_text()) for p in DISTRUST):
        return True
    index = message.clauses.index(clause)
    for before in message.clauses[max(index - 1, 0) : index]:
        if _ABACK & _words(message, before) and _words(message, before) <= _TAKEN_ABACK:
            return True
        if before.mood is Mood.ASKED or _numbers_in(message, before):
            continue
        if _points_elsewhere(message, before):
            return True
        if any(p.search(before.text) for p in OTHER_PEOPLE):
            return not _words(message, clause) & _OURS
    return False


def _is_elsewhere_too(message: Message, clause: Clause) -> bool:
    """ "Air in the dome 240": one number, and a place that is not the wall's."""
    return _numbers_in(message, clause) == 1 and any(
        is_place(message, i) and PLACES[message.word(i)] == "elsewhere"
        for i in range(clause.start, clause.stop)
    )


def _points_elsewhere(message: Message, clause: Clause) -> bool:
    """ "In the flames", said before "it is 600"."""
    return message.word(clause.start) in _POINTING and any(
        is_place(message, i) and PLACES[message.word(i)] == "elsewhere"
        for i in range(clause.start, clause.stop)
    )


_ABACK = words("what why how really huh eh seriously")
_TAKEN_ABACK = _ABACK | words("come so , ? ! .")
"""Nothing but these before a figure: its sender wonders at it rather than tells it."""
_POINTING = words("in on at near by over above behind outside under pointing pointed aiming")
_OURS = words("now mine ours i we top crown dome")


def _words(message: Message, clause: Clause) -> set[str]:
    return {message.word(i) for i in range(clause.start, clause.stop)}


def _numbers_in(message: Message, clause: Clause) -> int:
    return sum(message.tokens[i].kind is TokenKind.NUMBER for i in range(clause.start, clause.stop))


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


def _goes_on_counting(message: Message, figure: Figure) -> bool:
    """ "Kids are 8 and 12": the second of two small numbers is of the first one's kind."""
    first = figure.start - 2
    return (
        message.word(figure.start - 1) in ("and", ",")
        and first in message.claimed
        and message.tokens[first].kind is TokenKind.NUMBER
        and max(figure.value, message.tokens[first].value) < _MOST_COUNTED
    )


_MOST_COUNTED = 32


def _left_word(message: Message, start: int) -> str:
    """The word before the figure; before a colon, the label the colon belongs to."""
    before = message.word(start - 1)
    if before in _OF_A_PLACE and message.word(start - 2) in PLACES:
        return message.word(start - 2)
    if before not in (":", "="):
        return before
    return "" if start - 2 in message.claimed else message.word(start - 2)
