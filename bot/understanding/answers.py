"""Answers to the chat itself: "in 20", "remind me at ten", yes, no, not yet."""

import re
from datetime import timedelta

from bot.understanding import phrasebook as book
from bot.understanding.found import Found, matches, take
from bot.understanding.message import Clause, Message, Mood
from bot.understanding.moments import ClockTime, Span
from bot.understanding.patterns import words
from bot.understanding.stretches import number as number_at
from bot.understanding.tokens import TokenKind
from scheduling.remark import Expectation, Later, NotLit, Remark, Setting, Sign


def later(found: Found) -> None:
    """ "In 20", "give me half an hour", "remind me at ten"."""
    message = found.message
    if found.has("fire_ban"):
        # "No wait, there is a ban"
        return
    asked_later = [] if found.days else matches(found, book.LATER)
    for moment in found.moments:
        if moment.start in found.used:
            continue
        clause = message.clause_of(moment.start)
        wished = any(c is clause for c, _, _ in asked_later)
        minutes: float | None = None
        if isinstance(moment, Span) and not _tells_how_long(message, clause, moment):
            rest = set(range(clause.start, clause.stop)) - message.claimed
            bare = all(message.word(i) in _AROUND_A_SPAN for i in rest)
            if (moment.side == "ahead" and (wished or bare or clause.mood is not Mood.ASKED)) or (
                moment.side == "long" and (wished or bare) and clause.mood is not Mood.ASKED
            ):
                minutes = moment.minutes
        elif isinstance(moment, ClockTime) and wished:
            wait = moment.after(found.setting.now) - found.setting.now
            minutes = round(wait / timedelta(minutes=1))
        if minutes is not None:
            found.used.add(moment.start)
            found.taken.update(range(clause.start, clause.stop))
            # "A sec" is no count of seconds.
            found.add(moment.start, Later(minutes=minutes if minutes >= 1.0 else None))
            return
    for clause, start, stop in asked_later:
        if clause.mood is Mood.ASKED and "remind" not in clause.text:
            continue
        number = _bare_minutes(message, start, min(stop + 3, clause.stop))
        if number is not None:
            message.claim(number, number + 1)
            found.taken.update(range(clause.start, clause.stop))
            found.add(start, Later(minutes=message.tokens[number].value))
            return
        if _no_time_said(found, clause):
            take(found, start, stop)
            found.add(start, Later())
            return


def _tells_how_long(message: Message, clause: Clause, span: Span) -> bool:
    """ "From 230 to 241 in twenty minutes", "168 in 30 min": the stretch is behind us."""
    after_a_figure = number_at(message, span.start - 2) is not None
    return after_a_figure or any(
        message.word(i) in _MOVED for i in range(clause.start, clause.stop)
    )


_MOVED = words("from rose risen climbed gained dropped fell fallen lost jumped went took")
_AROUND_A_SPAN = words(
    """
    , . ! about ok yes no maybe need give me just please another more like say i want thanks
    will be am going to in got so or then not yet and it the check back do
    """
)


def _bare_minutes(message: Message, start: int, stop: int) -> int | None:
    """The figure of "give me 10"."""
    for index in range(start, stop):
        token = message.tokens[index]
        if (
            token.kind is TokenKind.NUMBER
            and index not in message.claimed
            and 1 <= token.value <= 120
            and message.word(index - 1) != "at"
        ):
            return index
    return None


def _no_time_said(found: Found, clause: Clause) -> bool:
    return not any(clause.start <= m.start < clause.stop for m in found.moments)


def yes_and_no(found: Found) -> None:
    """Answers: they count where a question was open, or where nothing else was said."""
    message, expect = found.message, found.setting.expect
    if any(remark.kind in ("later", "not_lit") for _, remark in found.remarks):
        return
    nothing_else = not [r for _, r in found.remarks if r.kind not in ("thanks", "greeting")]
    counts = expect is Expectation.YES_NO or nothing_else
    if not counts:
        return
    yet = matches(found, book.NOT_YET)
    if yet:
        take(found, *yet[0][1:])
        found.add(yet[0][1], _not_yet(found.setting))
        return
    for clause in message.clauses[:2]:
        if clause.mood is Mood.ASKED:
            continue
        for kind, match in _answers(clause.text):
            lead = len(match.group()) - len(match.group().lstrip())
            start = clause.token_at(match.start() + lead)
            stop = clause.token_at(match.end() - 2) + 1
            if found.taken & set(range(start, stop)) and kind == "yes":
                continue
            take(found, start, stop)
            found.add(start, Sign.model_validate({"kind": kind}))
            return
    if found.denied and nothing_else and not found.has("thanks"):
        found.add(0, Sign(kind="no"))


def _answers(text: str) -> list[tuple[str, re.Match[str]]]:
    """No and yes in ``text``, the longer first, as "no worries" is no no; of equals the no."""
    said = []
    for kind, patterns in (("no", book.NO), ("yes", book.YES)):
        matched = [m for m in (p.search(text) for p in patterns) if m]
        if matched:
            said.append((kind, max(matched, key=lambda m: len(m.group()))))
    return sorted(said, key=lambda one: -len(one[1].group()))


def _not_yet(setting: Setting) -> Remark:
    """ "Not yet" answers whatever was asked last."""
    if setting.expect is Expectation.READING:
        return Later()
    if setting.expect is Expectation.LIT:
        return NotLit()
    if setting.expect is Expectation.NOTHING and setting.last_top_c is None:
        return NotLit()
    return Sign(kind="no")
