"""Days on which the owner can or cannot tend a fire."""

from datetime import date, timedelta

from bot.understanding import phrasebook as book
from bot.understanding.days import DaySpan, told_together
from bot.understanding.found import Found, matches, take
from bot.understanding.message import Clause, Mood
from bot.understanding.moments import ClockTime, Moment
from bot.understanding.patterns import Pattern
from scheduling.remark import Available, Doubt, Expectation, FireBan, Remark, Unavailable

_EVENING_HOUR, _NOON_HOUR = 17.0, 12.0
_BESIDE_A_DAY = frozenset(
    ["greeting", "thanks", "yes", "no", "later", "leaving", "back", "unavailable", "available"]
)
"""Beside these a day is of the diary: "thanks, not friday"."""
_ALWAYS = timedelta(days=13)
"""How far "only evenings" reaches when no day was said."""


def free_days(found: Found, days: list[DaySpan]) -> Doubt | None:
    """Add the days said to be free or not; return what is doubtful about one."""
    message, today = found.message, found.setting.now.date()
    doubt: Doubt | None = None
    hours_said = _only_part_of_day(found, days, today)
    for span in days:
        clause = message.clause_of(span.start)
        if hours_said or span.start in found.taken or _belongs_elsewhere(found, clause):
            continue
        remark = _remark(found, clause, span, today)
        if remark is None:
            continue
        if isinstance(remark, Doubt):
            doubt = doubt or remark
            continue
        if not span.certain or span.last < today:
            doubt = doubt or _which_day(found, span, remark)
            continue
        for one in told_together(message, span, days):
            if one.certain:
                also = remark.model_copy(update={"first": one.first, "last": one.last})
                found.add(one.start, remark if one is span else also)
                found.taken.update(range(one.start, one.stop))
        found.taken.update(range(clause.start, clause.stop))
    return doubt


def fire_ban(found: Found, days: list[DaySpan]) -> None:
    """A fire restriction, from today or its day on; "until friday" from today to then."""
    today = found.setting.now.date()
    over = matches(found, book.FIRE_BAN_IS_OVER)
    for clause, start, stop in over or matches(found, book.FIRE_BAN):
        if clause.mood in (Mood.ASKED, Mood.SUPPOSED):
            continue
        if not over and found.message.negated(clause, start):
            continue
        take(found, start, stop)
        endless = any(p.search(clause.text) for p in book.WITHOUT_END)
        first, last = today, today + _TILL_FURTHER_NOTICE if endless else today
        for day in days:
            if day.certain and day.last >= today:
                until = found.message.word(day.start - 1) in _UP_TO
                first, last = (today if until else day.first), day.last
                found.taken.update(range(day.start, day.stop))
                break
        ban = {"from": first, "to": last, "over": bool(over)}
        found.add(start, FireBan.model_validate(ban))
        return


_TILL_FURTHER_NOTICE = timedelta(days=30)
"""A ban without an end holds so long, or until it is told to be over."""
_UP_TO = frozenset(["until", "till", "til", "through", "thru", "to", "before"])


def _belongs_elsewhere(found: Found, clause: Clause) -> bool:
    """Whether the day in this clause dates weather or a fire rather than a diary."""
    kinds = {remark.kind for index, remark in found.remarks if clause.start <= index < clause.stop}
    return bool(kinds - _BESIDE_A_DAY)


def _remark(found: Found, clause: Clause, span: DaySpan, today: date) -> Remark | Doubt | None:
    cannot = _near(found, clause, book.CANNOT) or found.message.negated(clause, span.start, 2)
    if any(p.search(clause.text) for p in book.CANNOT_IS_OTHER):
        cannot = False
    can = _near(found, clause, book.CAN)
    wished = any(p.search(clause.text) for p in book.WISHED)
    if clause.mood is Mood.ASKED and not wished:
        return None
    before = found.message.word(span.start - 1)
    first, last = span.first, span.last
    if cannot and before in ("until", "till", "til", "before", "thru", "through"):
        first = today
    if cannot and found.message.words(span.start - 2, span.start) in ("back on", "back by"):
        return Unavailable(first=today, last=max(today, span.first - timedelta(days=1)))
    if cannot and before in ("from", "after") and first == last and "on" not in clause.text.split():
        open_ended = Unavailable(first=first, last=first)
        return Doubt(
            why="which_day", choices=(open_ended,), heard=found.message.said(span.start, span.stop)
        )
    if cannot and not wished:
        return Unavailable(first=first, last=last)
    if can or wished or found.setting.expect is Expectation.DAY:
        return Available(first=first, last=last)
    if clause.mood is Mood.SAID and _is_all(found, clause, span):
        return Doubt(
            why="which_day",
            choices=(Available(first=first, last=last), Unavailable(first=first, last=last)),
            heard=found.message.said(span.start, span.stop),
        )
    return None


def _near(found: Found, clause: Clause, patterns: tuple[Pattern, ...]) -> bool:
    """Whether the words go with this day: in its clause, or in a dayless clause beside it."""
    if any(p.search(clause.text) for p in patterns):
        return True
    index = found.message.clauses.index(clause)
    beside = list(found.message.clauses[max(index - 1, 0) : index])
    if patterns is book.CANNOT:
        # "in-laws over on sunday, cant fire"
        following = found.message.clauses[index + 1 : index + 2]
        beside += [c for c in following if not _has_a_day(found, c)]
    beside = [c for c in beside if not any(p.search(c.text) for p in book.CANNOT_IS_OTHER)]
    return (
        patterns is book.CANNOT
        and any(p.search(c.text) for c in beside for p in patterns)
        and not any(p.search(clause.text) for p in book.CAN)
    )


def _has_a_day(found: Found, clause: Clause) -> bool:
    return any(clause.start <= day.start < clause.stop for day in found.days)


def _is_all(found: Found, clause: Clause, span: DaySpan) -> bool:
    rest = set(range(clause.start, clause.stop)) - set(range(span.start, span.stop))
    return all(
        found.message.word(i) in ("on", "off", ",", "?", ".", "the", "maybe", "then", "ok")
        for i in rest
    )


def _which_day(found: Found, span: DaySpan, remark: Remark) -> Doubt:
    choices: tuple[Remark, ...] = ()
    if span.certain is False and span.first >= found.setting.now.date():
        away = span.other - span.first if span.other else timedelta(days=7)
        later = type(remark).model_validate(
            remark.model_dump() | {"first": span.first + away, "last": span.last + away}
        )
        choices = (remark, later)
    return Doubt(why="which_day", choices=choices, heard=found.message.said(span.start, span.stop))


def _only_part_of_day(found: Found, days: list[DaySpan], today: date) -> bool:
    """ "Only evenings next week", "mornings only", "after five on weekdays"."""
    text = "".join(c.text for c in found.message.clauses if c.mood is not Mood.ASKED)
    if not any(p.search(text) for p in book.ONLY) or found.has("lit") or found.has("stoked"):
        return False
    evening = any(p.search(text) for p in book.EVENINGS)
    morning = any(p.search(text) for p in book.MORNINGS)
    if evening == morning:
        return False
    first = days[0].first if days else today
    last = days[0].last if days else today + _ALWAYS
    if days and (not days[0].certain or last < today):
        return False
    hour = _hour(found.moments)
    remark = Unavailable(
        first=first,
        last=last,
        before_hour=(hour or _EVENING_HOUR) if evening else None,
        after_hour=(hour or _NOON_HOUR) if morning else None,
    )
    found.add(0, remark)
    found.taken.update(range(len(found.message.tokens)))
    return True


def _hour(moments: list[Moment]) -> float | None:
    for moment in moments:
        if isinstance(moment, ClockTime) and moment.hour is not None:
            hour = (moment.hour or 0) + moment.minute / 60
            return hour + 12 if moment.half != "am" and hour < 9 else hour
    return None
