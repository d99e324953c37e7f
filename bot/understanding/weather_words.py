"""Weather as owners tell it: what the sky does, on which day, and how hard it blows."""

from datetime import date, timedelta
from typing import Literal

from bot.understanding import phrasebook as book
from bot.understanding.days import DaySpan, told_together
from bot.understanding.found import Found
from bot.understanding.message import Clause, Message, Mood
from bot.understanding.patterns import words
from bot.understanding.quantities import WindSpeed
from scheduling.remark import Sky, WeatherSaid

_GALE_MS = 17.2
"""Beaufort 8 begins at 17.2 m/s (WMO-No. 306, code table 1100)."""
_SOON = words(
    """
    later tonight soon forecast might may shortly expecting expected looks evening afternoon
    """
)


def weather(found: Found, days: list[DaySpan], winds: list[WindSpeed]) -> None:
    """Add what ``found``'s message says about the weather."""
    message, today = found.message, found.setting.now.date()
    for clause in message.clauses:
        if clause.mood is Mood.ASKED or any(p.search(clause.text) for p in book.IF):
            continue
        if any(p.search(clause.text) for p in book.SKY_IS_OTHER):
            continue
        for what, index in _skies(found, clause):
            for when in _whens(message, clause, days, today):
                found.add(index, _said(what, when, _speed(clause, winds)))
    if found.has("weather"):
        return
    for wind in winds:
        clause = message.clause_of(wind.start)
        if clause.mood is Mood.SAID:
            for when in _whens(message, clause, days, today):
                found.add(wind.start, _said(Sky.WIND, when, wind.wind_ms))


def _skies(found: Found, clause: Clause) -> list[tuple[Sky, int]]:
    """Kinds of weather in one clause; "not raining" is dry."""
    text, out, taken = clause.text, [], set(found.taken)
    for name, patterns in _IN_ORDER:
        for one in patterns:
            match = one.search(text)
            if match is None:
                continue
            start = clause.token_at(match.start() + 1)
            stop = clause.token_at(match.end() - 2) + 1
            if taken & set(range(start, stop)):
                continue
            taken.update(range(start, stop))
            found.taken.update(range(start, stop))
            found.message.claimed.update(
                i
                for i in range(start, stop)
                if found.message.tokens[i].kind.value == "word" or "#" in one.written
            )
            what = Sky(name)
            if found.message.negated(clause, start) and what is not Sky.DRY:
                found.denied = True
                if what in (Sky.RAIN, Sky.SNOW, Sky.SOAKED):
                    out.append((Sky.DRY, start))
                break
            out.append((what, start))
            break
    kinds = {what for what, _ in out}
    if Sky.SOAKED in kinds:
        out = [one for one in out if one[0] is not Sky.RAIN]
    if Sky.GALE in kinds:
        out = [one for one in out if one[0] is not Sky.WIND]
    return out


_IN_ORDER = sorted(book.SKY, key=lambda named: named[0] != "dry")


def _whens(
    message: Message, clause: Clause, days: list[DaySpan], today: date
) -> list[date | Literal["now"]]:
    near = [d for d in days if clause.start <= d.start < clause.stop] or [
        d
        for d in days
        if message.clause_of(d.start).questioned == clause.questioned and len(days) == 1
    ]
    words = {message.word(i) for i in range(clause.start, clause.stop)}
    if not near:
        return [today] if words & _SOON else ["now"]
    if near[0].first == today == near[0].last and not words & (_SOON | {"will", "going"}):
        return ["now"]
    return [
        span.first + timedelta(days=step)
        for span in told_together(message, near[0], days)
        for step in range(min((span.last - span.first).days, 6) + 1)
    ]


def _speed(clause: Clause, winds: list[WindSpeed]) -> float | None:
    here = [w.wind_ms for w in winds if clause.start <= w.start < clause.stop]
    if not here and len(winds) == 1:
        return winds[0].wind_ms
    return here[0] if here else None


def _said(what: Sky, when: date | Literal["now"], wind_ms: float | None) -> WeatherSaid:
    if what in (Sky.WIND, Sky.GALE) and wind_ms is not None:
        what = Sky.GALE if wind_ms >= _GALE_MS else Sky.WIND
        return WeatherSaid(what=what, when=when, wind_ms=wind_ms)
    return WeatherSaid(what=what, when=when)
