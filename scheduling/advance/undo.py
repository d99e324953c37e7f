"""Taking back: the last thing that somebody said, or the first version of an edited message."""

from collections.abc import Sequence
from datetime import timedelta

from scheduling.advance import showing
from scheduling.advance.promising import remind
from scheduling.advance.turn import Turn
from scheduling.alarm import AlarmName
from scheduling.firing.session import FROM_AFAR
from scheduling.journal import (
    Agreed,
    Joined,
    Left,
    LookedAfter,
    Measured,
    Opened,
    PromisedFiring,
    TalkSaid,
    Undone,
    WoodPutOn,
)
from scheduling.meaning import DaysMoved, NothingToUndo, UndoneTold
from scheduling.record.live import Numbered

TOO_OLD = timedelta(hours=24)
"""What was said longer ago is corrected, not taken back."""

STAYS = (Opened, Joined, Left, LookedAfter, Agreed, TalkSaid, *FROM_AFAR)
"""Of people and what they agreed: others have acted on it. An order is taken back in a way of its
own, which asks before a plan gets harder."""


def undo(turn: Turn) -> None:
    """Take the last thing back that this person said."""
    take_back_last(turn)


def take_back_last(turn: Turn, kinds: tuple[str, ...] | None = None) -> None:
    """Take back everything that followed from their last message, or the last of some kinds."""
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
    group = _group(turn, last)
    days_before = turn.record.promise
    shown = next((one for one in group if one.entry.by == turn.by), last).entry
    turn.write(Undone(at=turn.now, by=turn.by, seqs=tuple(one.seq for one in group)))
    turn.say(
        UndoneTold(
            what=shown.kind,
            at=shown.at,
            top_c=shown.top_c if isinstance(shown, Measured) else None,
            pieces=shown.pieces if isinstance(shown, WoodPutOn) else None,
        )
    )
    settle(turn)
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
    """An edited message: what followed from its first version counts no more."""
    seqs = tuple(one.seq for one in turn.record.live if one.entry.key == key)
    if seqs:
        turn.write(Undone(at=turn.now, by=turn.by, seqs=seqs, why="edited"))
        settle(turn)


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


def _group(turn: Turn, last: Numbered) -> tuple[Numbered, ...]:
    if last.entry.key is None:
        return (last,)
    return tuple(one for one in turn.record.live if one.entry.key == last.entry.key)
