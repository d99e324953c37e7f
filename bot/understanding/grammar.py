"""``understand``: one message in, its meanings or a doubt out.

The readers take their words in this order: long figures that are no measure at all, times,
days, pieces of wood, wind, other measures; then what was done and seen; then the thermometer,
from what is left; then wishes, answers and questions. Danger is looked for first, in every
clause, and nothing else in the message can mask it.
"""

import math
import re
from datetime import datetime, timedelta

from bot.understanding.answers import later, yes_and_no
from bot.understanding.clock_times import moments
from bot.understanding.days import day_spans
from bot.understanding.figure_doubts import COLDEST_C, HOTTEST_C
from bot.understanding.found import Found
from bot.understanding.free_days import fire_ban, free_days
from bot.understanding.leftover import unclaimed
from bot.understanding.message import Clause, Message, Mood, clauses_of
from bot.understanding.moments import ClockTime, Moment, Span
from bot.understanding.normalise import normalise
from bot.understanding.patterns import words
from bot.understanding.phrasebook import PLACES
from bot.understanding.pieces import pieces
from bot.understanding.plain_figures import OTHER_DAYS
from bot.understanding.quantities import (
    claim_identifiers,
    claim_other_measures,
    wind_speeds,
)
from bot.understanding.questions import questions
from bot.understanding.signs import signs
from bot.understanding.temperatures import temperatures
from bot.understanding.tokens import TokenKind, tokenise
from bot.understanding.weather_words import weather
from scheduling.remark import (
    DoorOff,
    DoorOn,
    Doubt,
    Expectation,
    HazardSaid,
    Lit,
    Reading,
    Remark,
    Setting,
    Sign,
    Stoked,
    Understood,
)

_QUOTED = 80
"""Characters of a message that are quoted back."""
_LEAST_LIKELY = 20
"""A number below this that nobody could place is no temperature of a dome."""
_OVER_RANGE = ("HI", "Hi-", "H", "OL", "O.L")
"""What displays show past their end; in capitals no greeting."""


def understand(text: str, setting: Setting) -> Understood:
    """What ``text`` means to someone who knows ``setting``. Pure; never raises on any text."""
    if setting.expect is Expectation.READING and text.strip(" .!") in _OVER_RANGE:
        return Understood(doubt=Doubt(why="out_of_range", heard=text.strip()))
    plain = normalise(text)
    tokens = tokenise(plain)
    if not tokens:
        return Understood(doubt=Doubt(why="unclear", heard=""))
    message = Message(plain, tokens, clauses_of(tokens))
    claim_identifiers(message)
    bare = _bare_answer(message, setting)
    if bare is not None:
        return Understood(meanings=(bare,))
    winds = wind_speeds(message)
    when = moments(message, expects_time=_may_tell_when(message, setting))
    days = day_spans(message, setting.now.date(), expects_day=setting.expect is Expectation.DAY)
    found = Found(message, setting, when, pieces(message), days)
    claim_other_measures(message)
    fire_ban(found, days)
    signs(found)
    weather(found, days, winds)
    warmth = temperatures(message, setting)
    doubt = warmth.doubt
    if warmth.reading is not None:
        read_at = _read_at(found, warmth.at)
        if warmth.past and read_at is None:
            heard = message.text[:_QUOTED]
            doubt = Doubt(why="which_number", choices=(warmth.reading,), heard=heard)
        else:
            found.add(warmth.at, warmth.reading.model_copy(update={"at": read_at}))
    day_doubt = free_days(found, days)
    later(found)
    _expected_time(found)
    if doubt is None or setting.expect is Expectation.YES_NO:
        yes_and_no(found)
    questions(found)
    doubt = doubt or day_doubt or _left_over(message, setting, found)
    return _understood(found, doubt)


def _may_tell_when(message: Message, setting: Setting) -> bool:
    """Whether a bare number may say when the fire was lit: lately, and of no place. "Top 22" and
    a "22" in the morning are of a cold dome."""
    if setting.expect is not Expectation.LIT:
        return False
    if any(PLACES.get(token.text, "elsewhere") != "elsewhere" for token in message.tokens):
        return False
    bare = [token.value for token in message.tokens if token.kind is TokenKind.NUMBER]
    return all(_was_lately(value, setting.now) for value in bare)


def _was_lately(value: float, now: datetime) -> bool:
    hour, minute = (value, 0.0) if value <= _HOURS else divmod(value, 100.0)
    if not hour <= _HOURS or minute >= 60.0 or value % 1:
        return True  # no whole hour: told apart by its own form
    said = ClockTime(0, 0, int(hour) % 24, int(minute)).before(now)
    return now - said <= _LIT_LATELY


_HOURS = 24.0
_LIT_LATELY = timedelta(hours=3)


def _bare_answer(message: Message, setting: Setting) -> Remark | None:
    """A lone small number right after "how many pieces?", a lone "on" after "the door?", "did
    it", which is no question."""
    said = message.words(0, len(message.tokens))
    if _DID_IT.fullmatch(said):
        return Sign(kind="yes")
    if setting.expect is Expectation.READING and not setting.cold and _ON_NOW.fullmatch(said):
        return Stoked()
    if setting.expect is Expectation.DOOR:
        told = [token.text for token in message.tokens if token.text not in _AROUND_A_DOOR]
        if len(told) == 1 and told[0] in _ON_OR_OFF:
            return _ON_OR_OFF[told[0]]
    if setting.expect is not Expectation.STOKED or len(message.tokens) != 1:
        return None
    token = message.tokens[0]
    if token.kind is TokenKind.NUMBER and 1 <= token.value <= 12 and token.value % 1 == 0:
        return Stoked(pieces=int(token.value))
    return None


_DID_IT = re.compile(r"(?:yes |yep |ok |i )?(?:did|done) (?:it|that)(?: now| already)?(?: [.!])*")
_ON_NOW = re.compile(
    r"(?:ok |yes |and )?(?:it is |its |they are |that is |all |both |the wood is )?(?:on|in)"
    r"(?: now| there| the fire)*(?: [.!])*"
)
_AROUND_A_DOOR = words(
    ", . ! yes ok yep yeah it is the door now just still already back for again all well and firmly"
)
_ON_OR_OFF: dict[str, DoorOn | DoorOff] = {
    "on": DoorOn(),
    "shut": DoorOn(),
    "closed": DoorOn(),
    "off": DoorOff(),
    "open": DoorOff(),
}


def _read_at(found: Found, index: int) -> datetime | None:
    """When the temperature at token ``index`` was read, if its clause says so of nothing else."""
    clause = found.message.clause_of(index)
    for moment in found.moments:
        inside = clause.start <= moment.start < clause.stop
        of_another = (
            moment.start < index and "now" in found.message.words(moment.stop, index).split()
        )
        if inside and not of_another and moment.start not in found.used and _is_past_moment(moment):
            found.used.add(moment.start)
            return moment.before(found.setting.now)
        if moment.start not in found.used and _heads(found, moment, clause):
            found.used.add(moment.start)
            return moment.before(found.setting.now)
    return None


def _heads(found: Found, moment: Moment, clause: Clause) -> bool:
    """Whether nothing but the time stands before the clause: "quarter to ten: 184"."""
    first = found.message.clause_of(moment.start)
    signs = (":", ",", "-", "at", ".")
    return (
        isinstance(moment, ClockTime)
        and first.stop == clause.start
        and moment.start <= first.start + 1
        and all(found.message.word(i) in signs for i in range(moment.stop, first.stop))
    )


def _is_past_moment(moment: Moment) -> bool:
    return isinstance(moment, ClockTime) or (isinstance(moment, Span) and moment.side == "ago")


def _expected_time(found: Found) -> None:
    """A bare time answers "when did you light it?" and "when did you stoke?"."""
    expect = found.setting.expect
    if found.remarks or expect not in (Expectation.LIT, Expectation.STOKED):
        return
    for moment in found.moments:
        if moment.start not in found.used and not (
            isinstance(moment, Span) and moment.side == "ahead"
        ):
            found.used.add(moment.start)
            at = moment.before(found.setting.now)
            found.add(moment.start, Lit(at=at) if expect is Expectation.LIT else Stoked(at=at))
            return


def _left_over(message: Message, setting: Setting, found: Found) -> Doubt | None:
    """A number of a plain statement that no reader could place."""
    for index, token in enumerate(message.tokens):
        if token.kind is not TokenKind.NUMBER or index in message.claimed or index in found.taken:
            continue
        clause = message.clause_of(index)
        # "That was wrong, should be 141": what takes its place is asked for.
        stands_alone = not found.remarks or found.has("undo")
        if clause.mood is Mood.ASKED or (clause.mood is not Mood.SAID and not stands_alone):
            continue
        if any(message.word(i) in OTHER_DAYS for i in range(clause.start, clause.stop)):
            continue
        if found.has("reading") and (_is_negated(message, index) or _is_of_before(message, index)):
            continue
        if found.has("leaving") and message.words(index - 2, index) in _BACK_AT:
            continue
        if math.isnan(token.value) or (token.value < _LEAST_LIKELY and found.remarks):
            continue
        celsius = round((token.value - 32) / 1.8, 1) if setting.unit == "F" else token.value
        likely = COLDEST_C <= celsius <= HOTTEST_C and token.value >= _LEAST_LIKELY
        slipped = index + 1 < len(message.tokens) and message.tokens[index + 1].glued
        if token.value < _LEAST_LIKELY and _is_a_sentence(message) and not slipped:
            continue
        choices = (Reading(top_c=celsius),) if likely else ()
        heard = (
            message.text[:_QUOTED] if len(message.tokens) <= 8 else message.said(index, index + 1)
        )
        return Doubt(why="which_number", choices=choices, heard=heard)
    return None


_BACK_AT = ("back at", "back by", "back around", "back about", "back before", "back after")


def _is_of_before(message: Message, index: int) -> bool:
    """ "97 now, up from 92", "214, was 209"."""
    return message.word(index - 1) in ("from", "was", "were", "previously", "earlier", "before")


def _is_a_sentence(message: Message) -> bool:
    """Whether enough words stand around a small number to tell that it is no reading."""
    return sum(token.kind is TokenKind.WORD for token in message.tokens) >= _FEW_WORDS


_FEW_WORDS = 3


def _is_negated(message: Message, index: int) -> bool:
    return "not" in (message.word(index - step) for step in (1, 2, 3))


def _understood(found: Found, doubt: Doubt | None) -> Understood:
    ordered = sorted(found.remarks, key=lambda one: (not isinstance(one[1], HazardSaid), one[0]))
    meanings = tuple(remark for _, remark in ordered)
    if not meanings and doubt is None:
        doubt = Doubt(why="unclear", heard=found.message.text[:_QUOTED])
    return Understood(meanings=meanings, doubt=doubt, unheard=unclaimed(found), hinted=found.hinted)
