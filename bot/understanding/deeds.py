"""What the owner did: door, fire, wood, leaving and coming back, with the time it was done."""

from datetime import datetime, timedelta

from bot.understanding import phrasebook as book
from bot.understanding.found import Found, inner_not, matches, take
from bot.understanding.message import Clause, Mood
from bot.understanding.moments import ClockTime, Moment, Span
from bot.understanding.patterns import words
from bot.understanding.tokens import TokenKind
from scheduling.remark import (
    DoorOff,
    DoorOn,
    Expectation,
    FireOut,
    Leaving,
    Lit,
    NotLit,
    Sign,
    Stoked,
)


def door(found: Found) -> None:
    """Add the door put on or taken off."""
    for remark, patterns in ((DoorOff(), book.DOOR_OFF), (DoorOn(), book.DOOR_ON)):
        for clause, start, stop in matches(found, patterns):
            if clause.mood in (Mood.ASKED, Mood.SUPPOSED):
                continue
            if found.message.negated(clause, start) or inner_not(found.message, start, stop):
                found.denied = True
                continue
            take(found, start, stop)
            found.add(start, remark)


def fire(found: Found) -> None:
    """Add a fire lit, not lit, or out, with its time."""
    for clause, start, stop in matches(found, book.FIRE_OUT, book.FIRE_OUT_IS_OTHER):
        if clause.mood in (Mood.ASKED, Mood.SUPPOSED) or found.message.negated(clause, start):
            continue
        if found.has("only_embers") or _on_a_day_to_come(found, clause):
            continue
        take(found, start, stop)
        found.add(start, FireOut(at=_at(found, clause)))
    for clause, start, stop in matches(found, book.NOT_LIT):
        if clause.mood is Mood.ASKED or any(p.search(clause.text) for p in book.IF):
            continue
        if _on_another_day(found, clause):
            continue
        take(found, start, stop)
        found.add(start, NotLit())
    for clause, start, stop in matches(found, book.LIT, book.LIGHTING_WORD_OTHER):
        if clause.mood in (Mood.ASKED, Mood.SUPPOSED):
            continue
        if found.message.negated(clause, start):
            found.add(start, NotLit())
            continue
        if found.has("fire_out") or found.has("not_lit") or _on_another_day(found, clause):
            continue
        take(found, start, stop)
        found.add(start, Lit(at=_at(found, clause)))


def _at(found: Found, clause: Clause) -> datetime | None:
    """The time said in ``clause``, else alone right after it."""
    for moment in found.moments:
        inside = clause.start <= moment.start < clause.stop
        if moment.start in found.used or not inside:
            continue
        if isinstance(moment, Span) and moment.side != "ago":
            continue
        found.used.add(moment.start)
        return _corrected(found, moment).before(found.setting.now)
    for moment in found.moments:
        # "lit, 9:20": the clause after holds nothing but the time
        rest = found.message.clause_of(moment.start)
        alone = rest.start == clause.stop and {
            found.message.word(i) for i in range(rest.start, rest.stop)
        } <= {
            *(found.message.word(i) for i in range(moment.start, moment.stop)),
            ",",
            "at",
            "about",
        }
        if (
            alone
            and moment.start not in found.used
            and not (isinstance(moment, Span) and moment.side != "ago")
        ):
            found.used.add(moment.start)
            return moment.before(found.setting.now)
    return None


def _corrected(found: Found, moment: Moment) -> Moment:
    """ "At half two, I mean half one": the later word counts."""
    clauses = found.message.clauses
    index = clauses.index(found.message.clause_of(moment.start))
    for clause in clauses[index : index + 3]:
        said = (one for one in found.moments if clause.start <= one.start < clause.stop)
        better = next((one for one in said if one.start > moment.start), None)
        if better is None or not isinstance(better, type(moment)):
            continue
        between = found.message.words(moment.stop, better.start)
        if any(p.search(between) for p in book.CORRECTING):
            found.used.add(better.start)
            return better
    return moment


def stoked(found: Found) -> None:
    """Add wood put on: how many pieces, and when."""
    message = found.message
    for clause, start, stop in matches(found, book.STOKED, book.STOKED_IS_OTHER):
        if clause.mood in (Mood.ASKED, Mood.SUPPOSED) or clause.mood is Mood.TOLD:
            continue
        if message.negated(clause, start) or inner_not(message, start, stop):
            found.denied = True
            continue
        if message.tokens[start].value > _MOST_LOGS and stop - start > 1:
            # "128 wood on": a reading, and then wood
            start += 1
        if any(token.value > _MOST_LOGS for token in message.tokens[start:stop]):
            # "from 230 to 241 in 20" is of no wood
            continue
        take(found, start, stop)
        found.add(start, Stoked(at=_at(found, clause), pieces=_pieces(found, clause)))
    expects = found.setting.expect is Expectation.STOKED
    if expects and not found.has("stoked") and not found.pieces:
        _count_and_time(found)
    for counted in found.pieces:
        clause = message.clause_of(counted.start)
        if counted.start in found.used or clause.mood is not Mood.SAID or found.has("stoked"):
            continue
        others = set(range(clause.start, clause.stop)) - message.claimed
        alone = all(message.word(i) in _ALONE for i in others)
        if (expects or alone) and not message.negated(clause, counted.start):
            found.used.add(counted.start)
            at = _at(found, clause)
            found.add(counted.start, Stoked(at=at, pieces=counted.count))


def _count_and_time(found: Found) -> None:
    """ "3 at 9:45", answered to the question how much went on and when."""
    message = found.message
    free = [i for i in range(len(message.tokens)) if i not in message.claimed]
    counts = [i for i in free if message.tokens[i].kind is TokenKind.NUMBER]
    if len(counts) != 1 or any(
        message.word(i) not in _AROUND_A_COUNT for i in free if i not in counts
    ):
        return
    count = message.tokens[counts[0]].value
    moment = next(
        (m for m in found.moments if not (isinstance(m, Span) and m.side == "ahead")), None
    )
    if moment is None or count % 1 or not 1 <= count <= _MOST_PIECES:
        return
    message.claim(counts[0], counts[0] + 1)
    found.used.add(moment.start)
    at = moment.before(found.setting.now)
    found.add(counts[0], Stoked(at=at, pieces=int(count)))


_MOST_LOGS = 40
_MOST_PIECES = 12
_AROUND_A_COUNT = words(", . ! at about around just on in good now - : ( ) it was then and yes ok")
_ALONE = words(", . ! and just of good now on in small big done ok yes")


def _pieces(found: Found, clause: Clause) -> int | None:
    for counted in found.pieces:
        if clause.start <= counted.start < clause.stop and counted.start not in found.used:
            found.used.add(counted.start)
            return counted.count
    for counted in found.pieces:
        # "stoked, 3 sticks": the clause after holds nothing but the count
        after = found.message.clause_of(counted.start)
        rest = set(range(after.start, after.stop)) - set(range(counted.start, counted.stop))
        alone = all(found.message.word(i) in _ALONE for i in rest)
        if after.start == clause.stop and alone and counted.start not in found.used:
            found.used.add(counted.start)
            return counted.count
    return None


def leaving_and_back(found: Found) -> None:
    """Add the owner leaving the fire or coming back to it."""
    for clause, start, stop in matches(found, book.BACK, book.NOT_BACK):
        if clause.mood in (Mood.ASKED, Mood.SUPPOSED) or found.message.negated(clause, start):
            continue
        if any(
            m.start >= stop and isinstance(m, Span) and m.side == "ahead" for m in found.moments
        ):
            continue
        take(found, start, stop)
        found.add(start, Sign(kind="back"))
    for patterns, skip in ((book.LEAVING, book.NOT_LEAVING), (book.BACK_LATER, ())):
        for clause, start, stop in matches(found, patterns, skip):
            if clause.mood is Mood.ASKED or any(p.search(clause.text) for p in book.IF):
                continue
            if found.message.negated(clause, start) or _on_another_day(found, clause):
                continue
            take(found, start, stop)
            minutes = _for_minutes(found, clause)
            found.add(start, Leaving(minutes=minutes))


def _for_minutes(found: Found, clause: Clause) -> float | None:
    """For how long they go: as they say ("back in ten", "back at 11"), or as such errands take."""
    minutes = None
    for moment in found.moments:
        if moment.start < clause.start:
            continue
        found.used.add(moment.start)
        match moment:
            case Span(minutes=said, side="ahead" | "long"):
                minutes = said
            case ClockTime():
                now = found.setting.now
                minutes = (moment.after(now) - now) / timedelta(minutes=1)
            case _:
                pass
    if minutes is None and any(p.search(clause.text) for p in book.A_MOMENT):
        return A_MOMENT_MINUTES
    return minutes


A_MOMENT_MINUTES = 5.0
"""What a wee or a kettle takes (own choice)."""


def _on_another_day(found: Found, clause: Clause) -> bool:
    today = found.setting.now.date()
    if len(found.days) == 1 and found.days[0].first > today:
        # "from Friday I'm off for a week"
        return True
    return any(clause.start <= d.start < clause.stop and d.last != today for d in found.days)


def _on_a_day_to_come(found: Found, clause: Clause) -> bool:
    """ "At work tomorrow so no fire": a day off, and no fire that went out."""
    today = found.setting.now.date()
    return any(clause.start <= d.start < clause.stop and d.first > today for d in found.days)
