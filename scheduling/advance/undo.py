"""Taking back: the last thing that somebody said, or the first version of an edited message."""

from collections.abc import Sequence
from datetime import datetime, timedelta
from typing import Literal

from scheduling.advance import showing
from scheduling.advance.promising import remind
from scheduling.advance.turn import Turn
from scheduling.alarm import AlarmName
from scheduling.firing.aim import Action
from scheduling.firing.session_fold import FROM_AFAR
from scheduling.hazard import HAZARDS
from scheduling.journal import (
    Advised,
    Agreed,
    Alerted,
    Entry,
    FireLit,
    HazardClosed,
    Joined,
    Left,
    LookedAfter,
    Measured,
    Opened,
    PromisedFiring,
    Settled,
    TalkSaid,
    Undone,
    Unheard,
    WoodPutOn,
)
from scheduling.meaning import (
    CrackTold,
    DaysMoved,
    FireStays,
    HazardStays,
    HazardTold,
    NothingToUndo,
    StaleTap,
    UndoneTold,
)
from scheduling.record.hazards import hazard_in
from scheduling.record.live import Numbered

TOO_OLD = timedelta(hours=24)
"""What was said longer ago is corrected, not taken back."""

STAYS = (
    *(Opened, Joined, Left, LookedAfter, Agreed, TalkSaid, Unheard),
    *(kind for kind in FROM_AFAR if kind is not HazardClosed),
)
"""Of people and what they agreed: others have acted on it. An order is taken back in a way of its
own, which asks before a plan gets harder. A look at a danger may be taken back: it stands again."""

LOOK_SOON_MINUTES = 10.0
"""A danger that an undoing opens again is asked about as soon as this (own choice)."""


def undo(turn: Turn, shown_at: datetime | None = None) -> None:
    """Take the last thing back that this person said; ``shown_at`` as in ``take_back_last``."""
    take_back_last(turn, shown_at=shown_at)


def take_back_last(
    turn: Turn, kinds: tuple[str, ...] | None = None, shown_at: datetime | None = None
) -> None:
    """Take back everything that followed from their last message, or the last of some kinds.

    ``shown_at`` is when the button was offered: what was said since then is not what it meant.
    What stays is told, and nothing older is taken back in its place.
    """
    last = next(
        (
            one
            for one in reversed(turn.record.live)
            if one.entry.by == turn.by
            and not isinstance(one.entry, STAYS)
            and (kinds is None or one.entry.kind in kinds)
            and turn.now - one.entry.at <= TOO_OLD
        ),
        None,
    )
    if last is None:
        turn.say(NothingToUndo())
        return
    told = [last] if last.entry.key is None else _told_by(turn, last.entry.key)
    if shown_at is not None and max(one.entry.at for one in told) > shown_at:
        turn.say(StaleTap(newer=True))
        return
    if _stays(turn, last.entry):
        _tell_why(turn, last.entry)
        return
    gone = [one for one in told if not _stays(turn, one.entry)]
    days_before = turn.record.promise
    shown = next((one for one in gone if one.entry.by == turn.by), last).entry
    _take_back(turn, gone, "undo")
    turn.say(
        UndoneTold(
            what=shown.kind,
            at=shown.at,
            top_c=shown.top_c if isinstance(shown, Measured) else None,
            pieces=shown.pieces if isinstance(shown, WoodPutOn) else None,
        )
    )
    _days_back(turn, days_before)


def _days_back(turn: Turn, before: Sequence[PromisedFiring]) -> None:
    """Days that an undoing brings back are told, so that the owner's calendar follows."""
    after = turn.record.promise
    if [(one.number, one.day) for one in after] == [(one.number, one.day) for one in before]:
        return
    turn.say(
        DaysMoved(
            why="undone",
            lines=showing.promised_lines(after),
            changes=showing.between(before, after),
            undo=False,
        ),
        replaces="days",
    )


def replaced(turn: Turn, key: str) -> None:
    """An edited message: what followed from its first version counts no more, but what stays."""
    gone = [one for one in _told_by(turn, key) if not _stays(turn, one.entry)]
    if gone:
        _take_back(turn, gone, "edited")


def remind_of_danger(turn: Turn, key: str) -> None:
    """An edited message told of a danger before, and speaks of none now: that one stays."""
    danger = next((one for one in _told_by(turn, key) if _is_danger(one.entry)), None)
    if danger is not None and not turn.said([HazardTold, CrackTold]):
        _tell_why(turn, danger.entry)


def _told_by(turn: Turn, key: str) -> list[Numbered]:
    """All that one message led to."""
    return [one for one in turn.record.live if one.entry.key == key]


def _take_back(turn: Turn, gone: Sequence[Numbered], why: Literal["undo", "edited"]) -> None:
    before = {one.what for one in turn.record.hazards}
    turn.write(Undone(at=turn.now, by=turn.by, seqs=tuple(one.seq for one in gone), why=why))
    settle(turn)
    opened = {one.what for one in turn.record.hazards} - before
    if any(HAZARDS[one].asked for one in opened):
        turn.in_minutes(AlarmName.FOLLOW_UP, LOOK_SOON_MINUTES)


# ---------------------------------------------------------------- what stays


def _stays(turn: Turn, entry: Entry) -> bool:
    """What nobody takes back.

    A danger, with all that was told in one breath with it: it is looked at. The lighting of a
    fire of which more is known, which would be forgotten with it. And wood that was asked for:
    it may be on the fire by now, and no more is asked for on top of it.
    """
    match entry:
        case Advised(action=Action.ADD):
            return True
        case FireLit() if _is_tended(turn, entry):
            return True
        case Settled() | Alerted() if entry.key is not None and any(
            isinstance(one.entry, FireLit) and _is_tended(turn, one.entry)
            for one in _told_by(turn, entry.key)
        ):
            # What the lighting answered, and who was told of it.
            return True
    return _danger_with(turn, entry) is not None


def _is_tended(turn: Turn, lighting: FireLit) -> bool:
    """Whether more is known of the fire than this word of its lighting."""
    return any(lighting in one.lightings for one in turn.record.sessions if one.tended)


def _danger_with(turn: Turn, entry: Entry) -> Entry | None:
    """The danger that was told in the same message, this entry itself included."""
    told = [entry]
    if entry.key is not None:
        told += [one.entry for one in _told_by(turn, entry.key)]
    return next((one for one in told if _is_danger(one)), None)


def _is_danger(entry: Entry) -> bool:
    what = hazard_in(entry)
    return what is not None and HAZARDS[what].told


def _tell_why(turn: Turn, entry: Entry) -> None:
    """Why it is not taken back."""
    session = turn.record.session
    danger = _danger_with(turn, entry)
    if danger is None:
        turn.say(FireStays(lit=session is not None and entry in session.lightings))
        return
    what = hazard_in(danger)
    open_ = next((one for one in turn.record.hazards if one.what is what), None)
    turn.say(
        HazardStays(
            hazard=what,
            why="over" if open_ is None else "undo",
            lit=session is not None,
            since=None if open_ is None else open_.since,
            flue=turn.record.flue,
        )
    )


# ---------------------------------------------------------------- what follows


def settle(turn: Turn) -> None:
    """Set the alarms that the record now calls for."""
    turn.drop(
        AlarmName.NUDGE,
        AlarmName.REPEAT,
        AlarmName.SILENCE,
        AlarmName.UNATTENDED,
        AlarmName.EMBERS,
    )
    session = turn.record.session
    if session is None:
        remind(turn)
    elif session.ending or session.aim is None:
        turn.in_minutes(AlarmName.EMBERS, 45.0)
    else:
        # Whatever was advised leant on what is gone: a fresh reading first.
        turn.in_minutes(AlarmName.NUDGE, 5.0)
