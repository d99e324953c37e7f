"""Remarks that need no thermometer: what was done, seen, heard, felt, wished.

Every kind has its phrases in the phrase book. They are tried from the gravest to the lightest,
and words that one has taken are not read a second time as another.
"""

from dataclasses import dataclass, field
from datetime import datetime, timedelta

from bot.understanding import phrasebook as book
from bot.understanding.clock_times import ClockTime, Moment, Span
from bot.understanding.days import DaySpan
from bot.understanding.message import Clause, Message, Mood
from bot.understanding.patterns import Pattern, words
from bot.understanding.quantities import Pieces
from bot.understanding.tokens import TokenKind
from scheduling.remark import (
    Crack,
    CrackSize,
    DoorOff,
    DoorOn,
    Expectation,
    FireOut,
    Later,
    Lit,
    NotLit,
    Remark,
    Setting,
    Sign,
    Stoked,
)


@dataclass(slots=True)
class Found:
    """Remarks so far, each with the index of the token it begins at."""

    message: Message
    setting: Setting
    moments: list[Moment]
    pieces: list[Pieces]
    days: list[DaySpan]
    remarks: list[tuple[int, Remark]] = field(default_factory=list)
    taken: set[int] = field(default_factory=set)
    used: set[int] = field(default_factory=set)
    """Starts of moments and pieces that already belong to a remark."""
    denied: bool = False
    """Something was said not to be so ("no cracks")."""

    def add(self, index: int, remark: Remark) -> None:
        """Keep ``remark`` unless the same was already said."""
        if all(kept != remark for _, kept in self.remarks):
            self.remarks.append((index, remark))

    def has(self, kind: str) -> bool:
        """Whether a remark of this kind was found."""
        return any(remark.kind == kind for _, remark in self.remarks)


def signs(found: Found) -> None:
    """Add to ``found`` every remark that phrases alone tell."""
    _unwell(found)
    _flue_flames(found)
    for kind, patterns, skip in _PLAIN_FIRST:
        _plain(found, kind, patterns, skip)
    _door(found)
    _fire(found)
    _plain(found, "too_big", book.TOO_BIG, ())
    _stoked(found)
    _leaving_and_back(found)
    _crack(found)
    for kind, patterns, skip in _PLAIN_LAST:
        _plain(found, kind, patterns, skip)


_PLAIN_FIRST: tuple[tuple[str, tuple[Pattern, ...], tuple[Pattern, ...]], ...] = (
    ("stop_nudges", book.STOP_NUDGES, ()),
    ("undo", book.UNDO, ()),
    ("wood_out", book.WOOD_OUT, ()),
    ("soot_clear", book.SOOT_CLEAR, ()),
)
_PLAIN_LAST: tuple[tuple[str, tuple[Pattern, ...], tuple[Pattern, ...]], ...] = (
    ("popping", book.POPPING, ()),
    ("steam", book.STEAM, ()),
    ("damp", book.DAMP, book.DAMP_IS_OTHER),
    ("smoke", book.SMOKE, book.SMOKE_IS_OTHER),
    ("thanks", book.THANKS, book.THANKS_IS_OTHER),
    ("greeting", book.GREETING, ()),
)
_SAID_EVEN_AS_A_QUESTION = frozenset(["stop_nudges", "undo", "thanks", "greeting"])


def _matches(
    found: Found, patterns: tuple[Pattern, ...], skip: tuple[Pattern, ...] = ()
) -> list[tuple[Clause, int, int]]:
    """Clause and tokens of every match not yet taken; clauses matching ``skip`` are left out."""
    out: list[tuple[Clause, int, int]] = []
    for clause in found.message.clauses:
        if any(p.search(clause.text) for p in skip):
            continue
        for one in patterns:
            match = one.search(clause.text)
            if match is None or not match.group().strip():
                continue
            lead = len(match.group()) - len(match.group().lstrip())
            start = clause.token_at(match.start() + lead)
            stop = clause.token_at(match.end() - 2) + 1
            if not found.taken & set(range(start, stop)):
                out.append((clause, start, stop))
                break
    return out


def _take(found: Found, start: int, stop: int) -> None:
    found.taken.update(range(start, stop))
    words = [
        index
        for index in range(start, stop)
        if found.message.tokens[index].kind.value in ("word", "sign")
        and book.PLACES.get(found.message.tokens[index].text, "elsewhere") == "elsewhere"
    ]
    found.message.claimed.update(words)


def _plain(
    found: Found, kind: str, patterns: tuple[Pattern, ...], skip: tuple[Pattern, ...]
) -> None:
    for clause, start, stop in _matches(found, patterns, skip):
        if clause.mood is Mood.SUPPOSED:
            continue
        if clause.mood is Mood.ASKED and kind not in _SAID_EVEN_AS_A_QUESTION:
            continue
        if kind not in ("stop_nudges", "undo", "wood_out") and _is_denied(
            found, clause, start, stop
        ):
            continue
        _take(found, start, stop)
        found.add(start, Sign.model_validate({"kind": kind}))


def _is_denied(found: Found, clause: Clause, start: int, stop: int) -> bool:
    """Whether "no", "not any more", "has stopped", "gone" undo what was matched."""
    before = found.message.negated(clause, start)
    inside = any(found.message.word(i) in ("not", "no") for i in range(start + 1, stop))
    after = " " + found.message.words(stop, min(stop + 5, clause.stop)) + " "
    over = any(p.search(after) for p in book.OVER_NOW)
    if found.message.word(start - 1) == "no" and found.message.word(start) == "no":
        before = True
    if before or inside or over:
        found.denied = True
        found.taken.update(range(start, stop))
        return True
    return False


# --- danger -------------------------------------------------------------------------------


def _unwell(found: Found) -> None:
    """Look through every clause, asked or supposed too: better once too often."""
    message = found.message
    for clause in message.clauses:
        text = clause.text
        for harmless in book.NOT_UNWELL:
            blank = harmless.regex.sub(lambda m: " " + "_ " * (len(m.group().split())), text)
            if blank != text:
                found.denied = found.denied or any(
                    message.word(i) in book.NEGATORS for i in range(clause.start, clause.stop)
                )
                text = blank
        for one in book.UNWELL:
            match = one.search(text)
            if match is None:
                continue
            index = clause.start + len(text[: match.start() + 1].split())
            if message.negated(clause, index, reach=3) and "not" not in match.group().split():
                found.denied = True
                continue
            stop = index + len(match.group().split())
            found.taken.update(range(index, stop))
            found.add(index, Sign(kind="unwell"))
            break


def _flue_flames(found: Found) -> None:
    for clause, start, stop in _matches(found, book.FLUE_FLAMES):
        if clause.mood is Mood.SUPPOSED and any(p.search(clause.text) for p in book.IF):
            continue
        if _is_denied(found, clause, start, stop):
            continue
        _take(found, start, stop)
        found.add(start, Sign(kind="flue_flames"))


# --- door, fire, wood ----------------------------------------------------------------------


def _door(found: Found) -> None:
    for remark, patterns in ((DoorOff(), book.DOOR_OFF), (DoorOn(), book.DOOR_ON)):
        for clause, start, stop in _matches(found, patterns):
            if clause.mood in (Mood.ASKED, Mood.SUPPOSED):
                continue
            if found.message.negated(clause, start) or _inner_not(found.message, start, stop):
                found.denied = True
                continue
            _take(found, start, stop)
            found.add(start, remark)


def _inner_not(message: Message, start: int, stop: int) -> bool:
    return any(message.word(i) == "not" for i in range(start, stop)) and message.words(
        start, stop
    ) not in ("door not on", "lid not on")


def _fire(found: Found) -> None:
    for clause, start, stop in _matches(found, book.FIRE_OUT, book.FIRE_OUT_IS_OTHER):
        if clause.mood in (Mood.ASKED, Mood.SUPPOSED) or found.message.negated(clause, start):
            continue
        _take(found, start, stop)
        found.add(start, FireOut(at=_at(found, clause, start)))
    for clause, start, stop in _matches(found, book.NOT_LIT):
        if clause.mood is Mood.ASKED or any(p.search(clause.text) for p in book.IF):
            continue
        _take(found, start, stop)
        found.add(start, NotLit())
    for clause, start, stop in _matches(found, book.LIT, book.LIGHTING_WORD_OTHER):
        if clause.mood in (Mood.ASKED, Mood.SUPPOSED):
            continue
        if found.message.negated(clause, start):
            found.add(start, NotLit())
            continue
        if found.has("fire_out") or found.has("not_lit") or _on_another_day(found, clause):
            continue
        _take(found, start, stop)
        found.add(start, Lit(at=_at(found, clause, start)))


def _at(found: Found, clause: Clause, start: int) -> datetime | None:
    """The time said with what begins at ``start``: in its clause, else right after it."""
    for moment in found.moments:
        inside = clause.start <= moment.start < clause.stop
        if moment.start in found.used or not inside:
            continue
        if isinstance(moment, Span) and moment.side != "ago":
            continue
        found.used.add(moment.start)
        return moment.before(found.setting.now)
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
    del start
    return None


def _stoked(found: Found) -> None:
    message = found.message
    for clause, start, stop in _matches(found, book.STOKED, book.STOKED_IS_OTHER):
        if clause.mood in (Mood.ASKED, Mood.SUPPOSED) or clause.mood is Mood.TOLD:
            continue
        if message.negated(clause, start) or _inner_not(message, start, stop):
            found.denied = True
            continue
        _take(found, start, stop)
        found.add(start, Stoked(at=_at(found, clause, start), pieces=_pieces(found, clause)))
    expects = found.setting.expect is Expectation.STOKED
    for counted in found.pieces:
        clause = message.clause_of(counted.start)
        if counted.start in found.used or clause.mood is not Mood.SAID or found.has("stoked"):
            continue
        others = set(range(clause.start, clause.stop)) - message.claimed
        alone = all(message.word(i) in _ALONE for i in others)
        if (expects or alone) and not message.negated(clause, counted.start):
            found.used.add(counted.start)
            at = _at(found, clause, counted.start)
            found.add(counted.start, Stoked(at=at, pieces=counted.count))


_ALONE = words(", . ! and just of good now on in small big done ok yes")


def _pieces(found: Found, clause: Clause) -> int | None:
    for counted in found.pieces:
        if clause.start <= counted.start < clause.stop and counted.start not in found.used:
            found.used.add(counted.start)
            return counted.count
    return None


# --- the wall, the sky's rest ---------------------------------------------------------------


def _crack(found: Found) -> None:
    for clause, start, stop in _matches(found, book.CRACK, book.CRACK_IS_SOUND):
        if clause.mood in (Mood.ASKED, Mood.SUPPOSED):
            continue
        if _is_denied(found, clause, start, stop):
            continue
        _take(found, start, stop)
        found.add(start, Crack(size=_crack_size(found.message, clause)))


def _crack_size(message: Message, clause: Clause) -> CrackSize:
    sentence = _sentence_around(message, clause)
    hair = any(p.search(sentence) for p in book.HAIRLINE)
    opened = any(p.search(sentence) for p in book.OPEN_CRACK)
    width = book.WIDTH_MM.search(sentence)
    if width is not None:
        millimetres = float(width.group(1).replace(",", ".").rstrip(".")) * (
            10 if width.group(2).startswith("c") else 1
        )
        return CrackSize.OPEN if millimetres >= 1 else CrackSize.HAIRLINE
    if opened:
        return CrackSize.OPEN
    return CrackSize.HAIRLINE if hair else CrackSize.UNSAID


def _sentence_around(message: Message, clause: Clause) -> str:
    index = message.clauses.index(clause)
    near = message.clauses[max(index - 1, 0) : index + 2]
    return "".join(c.text for c in near if c.mood is not Mood.ASKED or c is clause)


def _leaving_and_back(found: Found) -> None:
    for clause, start, stop in _matches(found, book.BACK, book.NOT_BACK):
        if clause.mood in (Mood.ASKED, Mood.SUPPOSED) or found.message.negated(clause, start):
            continue
        if any(
            m.start >= stop and isinstance(m, Span) and m.side == "ahead" for m in found.moments
        ):
            continue
        _take(found, start, stop)
        found.add(start, Sign(kind="back"))
    for patterns, skip in ((book.LEAVING, book.NOT_LEAVING), (book.BACK_LATER, ())):
        for clause, start, stop in _matches(found, patterns, skip):
            if clause.mood is Mood.ASKED or any(p.search(clause.text) for p in book.IF):
                continue
            if found.message.negated(clause, start) or _on_another_day(found, clause):
                continue
            _take(found, start, stop)
            for moment in found.moments:
                if moment.start >= clause.start:
                    found.used.add(moment.start)
            found.add(start, Sign(kind="leaving"))


def _on_another_day(found: Found, clause: Clause) -> bool:
    today = found.setting.now.date()
    return any(clause.start <= d.start < clause.stop and d.last != today for d in found.days)


# --- later, yes, no -------------------------------------------------------------------------


def later(found: Found) -> None:
    """ "In 20", "give me half an hour", "remind me at ten"."""
    message = found.message
    asked_later = [] if found.days else _matches(found, book.LATER)
    for moment in found.moments:
        if moment.start in found.used:
            continue
        clause = message.clause_of(moment.start)
        wished = any(c is clause for c, _, _ in asked_later)
        minutes: float | None = None
        if isinstance(moment, Span):
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
            found.add(moment.start, Later(minutes=minutes))
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
            _take(found, start, stop)
            found.add(start, Later())
            return


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
    yet = _matches(found, book.NOT_YET)
    if yet:
        _take(found, *yet[0][1:])
        found.add(yet[0][1], _not_yet(found.setting))
        return
    for clause in message.clauses[:2]:
        for kind, patterns in (("no", book.NO), ("yes", book.YES)):
            match = next((m for m in (p.search(clause.text) for p in patterns) if m), None)
            if match is None or clause.mood is Mood.ASKED:
                continue
            lead = len(match.group()) - len(match.group().lstrip())
            start = clause.token_at(match.start() + lead)
            stop = clause.token_at(match.end() - 2) + 1
            if found.taken & set(range(start, stop)) and kind == "yes":
                continue
            _take(found, start, stop)
            found.add(start, Sign.model_validate({"kind": kind}))
            return
    if found.denied and nothing_else and not found.has("thanks"):
        found.add(0, Sign(kind="no"))


def _not_yet(setting: Setting) -> Remark:
    """ "Not yet" answers whatever was asked last."""
    if setting.expect is Expectation.READING:
        return Later()
    if setting.expect is Expectation.LIT:
        return NotLit()
    if setting.expect is Expectation.NOTHING and setting.last_top_c is None:
        return NotLit()
    return Sign(kind="no")
