"""What a builder looks for in their list: a need, how clients stand, a day, a place.

"crack", "who is silent", "on hold", "tomorrow", "in Leeds", "cracks in Leeds", "fires on Saturday".
Only what is a search through and through counts as one; a word left over may be a name.
"""

import re
from datetime import date

from bot.understanding.days import day_spans
from bot.understanding.message import Message, clauses_of
from bot.understanding.normalise import normalise
from bot.understanding.office_words import Group
from bot.understanding.tokens import TokenKind, tokenise
from scheduling.choice import Listing
from scheduling.hazard import HAZARDS, Hazard
from scheduling.record.standing import Concern, Need

_H, _C = Hazard, Concern

_NEEDS: tuple[tuple[str, tuple[Need, ...]], ...] = (
    (r"(?:open )?crack(?:s|ed)?", (_H.CRACK, _H.CRACK_UNSAID)),
    (r"silen(?:t|ce)|no (?:answer|reply)|not answering", (_C.SILENT,)),
    (r"(?:too |over)?hot|overheat(?:ed|ing)", (_C.TOO_HOT,)),
    (r"popp(?:ing|ed)|flak(?:ing|ed)|spall(?:ing|ed)", (_H.POPPING,)),
    (r"flues?|chimneys?", (_H.FLUE_FLAMES, _H.FLUE_BLOCKED)),
    (r"unwell|ill|sick|carbon monoxide", (_H.UNWELL,)),
    (r"hurt|burnt|burned|injured", (_H.BURNT,)),
    (r"smoke", (_H.FIRE_INDOORS, _H.FLUE_BLOCKED)),
    (r"(?:hole|collapsed?|falling bricks)", (_H.COLLAPSE,)),
    (r"(?:fire )?bans?", (_H.BAN,)),
    (r"(?:lit )?(?:too )?early", (_H.LIT_EARLY,)),
    (r"child(?:ren)?|kids", (_H.CHILD_NEAR,)),
    (r"frost|frozen", (_C.MORTAR,)),
    (r"indoors", (_C.INDOORS,)),
    (r"not reached|unreached|blocked|undelivered", (_C.UNDELIVERED,)),
    (r"thermometers?", (_C.INSTRUMENT,)),
    (r"forecasts?", (_C.FORECAST,)),
    (r"(?:open )?questions?|unanswered|waiting", (_C.WAITING,)),
    (r"slip(?:ping|ped)|late", (_C.SLIPPING,)),
    (r"dangers?", (*(one.hazard for one in HAZARDS.values() if one.at_once),
     _C.TOO_HOT, _C.SILENT)),
)  # fmt: skip
"""Words for what may be wrong, with the needs that they mean."""

_GROUPS: tuple[tuple[str, Group], ...] = (
    (r"burning|lit|firing", "firing"),
    (r"(?:on )?hold|held|paused", "held"),
    (r"curing", "curing"),
    (r"planned|to come|coming", "planned"),
    (r"(?:being )?set(?:ting)? up|setup", "set_up"),
    (r"done|finished", "done"),
    (r"invited|not (?:here|come|joined)(?: yet)?", "invited"),
)

_LEAD = re.compile(
    r"(?:who|which|what|all|any|every|everybody|everyone|anybody|anyone|clients?|ovens?|fires?|"
    r"firings?|is|are|has|have|with|a|an|the|there|due|for|on|that)\b"
)
_PLACE = re.compile(r"(?:in|at|near|around|from)\s+(?P<name>[^\d]+)$")


def search_in(text: str, today: date) -> Listing | None:
    """The search that ``text`` is; None where it may be a name. Days are counted from ``today``."""
    rest = " ".join(normalise(text).lower().strip(" .!?").split())
    found: dict[str, object] = {}
    if place := _PLACE.search(rest):
        found["place"] = place["name"].strip()
        rest = rest[: place.start()].strip()
    rest, day = _without_day(rest, today)
    if day is not None:
        found["day"] = day
    while rest:
        rest, told = _next(rest)
        if told is None:
            return None
        found |= told
    return Listing.model_validate(found) if found else None


def _next(rest: str) -> tuple[str, dict[str, object] | None]:
    """What the next words ask for, and the words behind them; None for words of no search."""
    for pattern, needs in _NEEDS:
        if said := re.match(rf"(?:{pattern})(?!\w)", rest):
            return rest[said.end() :].strip(), {"needs": tuple(one.value for one in needs)}
    for pattern, group in _GROUPS:
        if said := re.match(rf"(?:{pattern})(?!\w)", rest):
            return rest[said.end() :].strip(), {"group": group}
    if said := _LEAD.match(rest):
        return rest[said.end() :].strip(), {}
    return rest, None


def _without_day(rest: str, today: date) -> tuple[str, date | None]:
    """The words without the one day that they name for certain, and that day."""
    tokens = tuple(one for one in tokenise(rest) if one.kind is not TokenKind.BREAK)
    message = Message(rest, tokens, clauses_of(tokens))
    spans = day_spans(message, today)
    if len(spans) != 1 or not spans[0].certain or spans[0].first != spans[0].last:
        return rest, None
    words = [message.word(index) for index in range(len(tokens))]
    del words[spans[0].start : spans[0].stop]
    return " ".join(words), spans[0].first
