"""Hazards: told of, asked after, looked at.

What each one stops, who hears of it and whose word closes it stands in ``scheduling.hazard``.
"""

from collections.abc import Sequence
from datetime import datetime, timedelta

from scheduling.advance.burning import advise
from scheduling.advance.promising import remind
from scheduling.advance.turn import Turn
from scheduling.alarm import AlarmName
from scheduling.emergency import emergency_number
from scheduling.firing.aim import Action
from scheduling.hazard import HAZARDS, Closer, Hazard, Stops, gravest
from scheduling.journal import (
    Advised,
    CrackSeen,
    HazardClosed,
    HazardSeen,
)
from scheduling.meaning import (
    CrackTold,
    HazardAsked,
    HazardClosedTold,
    HazardStays,
    HazardTold,
    StaleTap,
    WhichHazard,
)
from scheduling.outcome import TENDERS, Urgency
from scheduling.record.hazards import OpenHazard, asked_next, hazard_in, keeps_away
from scheduling.remark import CrackSize, Looked

LONGEST_WORDS = 500
EMBERS_MINUTES = 120.0

COLD_AFTER = timedelta(hours=6)
"""So long after its last flame a dome is taken for hot (own choice)."""

SAFE_FIRST = timedelta(hours=1)
"""So long it is asked whether everybody is safe, before how the oven is."""

A_DAY = timedelta(days=1)


# ---------------------------------------------------------------- told


def noted(turn: Turn, hazards: Sequence[Hazard], words: str = "") -> None:
    """Keep what somebody tells of. ``words`` are theirs; empty where a button was pressed."""
    for hazard in hazards:
        turn.write(HazardSeen(at=turn.at, by=turn.by, hazard=hazard, words=words[:LONGEST_WORDS]))


def answered(turn: Turn, hazards: Sequence[Hazard], words: str = "") -> None:
    """The gravest is answered whole, of the others only what to do first; the builder is told."""
    informed = [_alert(turn, hazard) and HAZARDS[hazard].at_once for hazard in hazards]
    first = gravest(hazards)
    if first is None:
        return
    turn.danger(
        HazardTold(
            hazard=first,
            also=_said_besides(first, hazards),
            emergency=emergency_number(turn.record.zone),
            lit=turn.record.session is not None,
            builder_told=any(informed),
            since=_since(turn, first),
            from_words=bool(words),
            flue=turn.record.flue,
        )
    )
    _follow(turn, hazards)


def _said_besides(first: Hazard, hazards: Sequence[Hazard]) -> tuple[Hazard, ...]:
    """The others; where people are kept away, none that would have somebody be with the fire."""
    away = any(HAZARDS[one].keep_away for one in hazards)
    others = (one for one in hazards if one is not first)
    return tuple(one for one in others if not (away and HAZARDS[one].calls_there))


def crack(turn: Turn, size: CrackSize, photo: str | None) -> None:
    """A crack: a hairline is watched, an open one ends the firing, an unsaid one is asked."""
    lit, worded = turn.record.session is not None, bool(turn.words)
    words = turn.words[:LONGEST_WORDS]
    told = CrackSeen(at=turn.at, by=turn.by, size=size, photo=photo, from_words=worded, words=words)
    turn.write(told)
    opened = size is CrackSize.OPEN
    informed = opened and _alert(turn, Hazard.CRACK)
    what = hazard_in(told)
    new = any(one.what is what and one.since == told.at for one in turn.record.hazards)
    meaning = CrackTold(
        size=size,
        lit=lit,
        builder_told=informed,
        photo=photo is not None,
        misread_as=what if worded and new else None,
        since=told.at,
    )
    turn.say(meaning, TENDERS, Urgency.FIRE if lit else Urgency.ANSWER)
    if what is not None:
        _follow(turn, (what,))
        return
    _ask_when_due(turn)
    if lit:
        turn.in_minutes(AlarmName.NUDGE, 20.0)


def _alert(turn: Turn, hazard: Hazard) -> bool:
    return turn.alert(hazard, _since(turn, hazard))


def _since(turn: Turn, what: Hazard) -> datetime:
    """Since when a hazard has stood open."""
    return next((one.since for one in turn.record.hazards if one.what is what), turn.at)


def _follow(turn: Turn, hazards: Sequence[Hazard]) -> None:
    """The fire is stopped or held as far as they reach, and they are asked after."""
    described = [HAZARDS[one] for one in hazards]
    _ask_when_due(turn)
    session = turn.record.session
    if session is None:
        return
    turn.drop(AlarmName.NUDGE, AlarmName.REPEAT, AlarmName.SILENCE, AlarmName.UNATTENDED)
    if max(one.stops for one in described) is Stops.WOOD:
        # Who keeps away is asked after them, and for no number.
        if not any(one.keep_away for one in described):
            turn.in_minutes(AlarmName.NUDGE, 10.0)
    elif any(one.people for one in described):
        # Nobody is asked to do anything at the fire, nor after it, before they are safe.
        turn.write(Advised(at=turn.now, action=Action.STOP))
        turn.in_minutes(AlarmName.EMBERS, EMBERS_MINUTES)
    elif not session.stopped:
        # What to do has just been said.
        advise(turn, quietly=True)


# ---------------------------------------------------------------- asked after


def follow_up(turn: Turn) -> None:
    """A hazard that nobody has closed: ask whoever can."""
    standing = [one for one in turn.record.hazards if HAZARDS[one.what].asked]
    if not standing:
        return
    before = turn.now - timedelta(minutes=1)
    due = [one for one in standing if asked_next(one, before) <= turn.now] or standing
    if HAZARDS[due[0].what].at_once:
        # Something wrong that nobody has named by now.
        turn.alert(due[0].what, due[0].since)
    _ask(turn, due[0])
    _ask_when_due(turn)


def _ask_when_due(turn: Turn) -> None:
    """The next question is that of whichever hazard is due first."""
    due = [asked_next(one, turn.now) for one in turn.record.hazards if HAZARDS[one.what].asked]
    if due:
        turn.set(AlarmName.FOLLOW_UP, min(due))
    else:
        turn.drop(AlarmName.FOLLOW_UP)


def still_stands(turn: Turn) -> bool:
    """Whether a hazard that keeps people away stands open: then that is all that is said, whatever
    else they wrote or whatever is due."""
    hazard = keeps_away(turn.record.hazards)
    if hazard is not None:
        _ask(turn, hazard)
        _ask_when_due(turn)
    return hazard is not None


def _ask(turn: Turn, hazard: OpenHazard) -> None:
    described = HAZARDS[hazard.what]
    age = turn.now - hazard.since
    turn.say(
        HazardAsked(
            hazard=hazard.what,
            since=hazard.since,
            lit=turn.record.session is not None,
            emergency=emergency_number(turn.record.zone),
            ask=_may_close(turn, hazard.what),
            safe=described.keep_away and not described.people and age < SAFE_FIRST,
            flue=turn.record.flue,
        ),
        TENDERS,
        Urgency.DANGER if described.keep_away and age < A_DAY else Urgency.CALM,
        replaces="follow_up",
    )


def _may_close(turn: Turn, hazard: Hazard) -> bool:
    """Whether the word of whoever tends the oven closes it."""
    return HAZARDS[hazard].closer is Closer.OWNER or turn.record.builder is None


# ---------------------------------------------------------------- looked at


def looked(turn: Turn, said: Looked) -> None:
    """Somebody says that they have looked, and how it is."""
    standing = [one for one in turn.record.hazards if HAZARDS[one.what].asked]
    meant = [one for one in standing if said.hazard in (None, *_names_of(one.what))]
    if said.since is not None and all(one.since != said.since for one in meant):
        turn.say(StaleTap())
        return
    if not meant:
        turn.say(HazardStays(hazard=said.hazard, why="none_open"))
    elif said.sound is None or [one.what for one in meant] == [Hazard.CRACK_UNSAID]:
        # Of a crack it has to be said how wide it is: sound is no answer to that.
        _ask(turn, meant[0])
    elif len(meant) > 1:
        open_ = tuple((one.what, one.since) for one in meant)
        turn.say(WhichHazard(hazards=open_, flue=turn.record.flue))
    else:
        _judged(turn, meant[0], sound=said.sound)


def _names_of(hazard: Hazard) -> tuple[Hazard, ...]:
    """What somebody names who has looked at it."""
    return (hazard, Hazard.CRACK) if hazard is Hazard.CRACK_UNSAID else (hazard,)


def _judged(turn: Turn, hazard: OpenHazard, *, sound: bool) -> None:
    why = _why_it_stays(turn, hazard.what, sound=sound)
    lit = turn.record.session is not None
    if why is not None:
        number = emergency_number(turn.record.zone)
        stays = HazardStays(
            hazard=hazard.what,
            why=why,
            lit=lit,
            since=hazard.since,
            emergency=number,
            flue=turn.record.flue,
        )
        turn.say(stays)
        if why == "builder":
            turn.tell_team(hazard.what, hazard.since, looked=True)
        return
    close(turn, hazard.what)


def close(turn: Turn, hazard: Hazard) -> None:
    """It is over, by a word that may say so: everybody at the oven is told what comes next."""
    turn.write(HazardClosed(at=turn.now, by=turn.by, what=hazard))
    tell_closed(turn, hazard)


def only_seen_there(turn: Turn, hazard: Hazard) -> bool:
    """Whether nobody from afar may close it now: a life at stake beside a fire, or a hot wall."""
    described = HAZARDS[hazard]
    if described.people:
        return turn.record.session is not None
    return described.closer is Closer.BUILDER and is_hot(turn)


def _why_it_stays(turn: Turn, hazard: Hazard, *, sound: bool) -> str | None:
    if not sound:
        return "not_sound"
    described = HAZARDS[hazard]
    if not _may_close(turn, hazard):
        return "builder"
    of_the_wall = described.stops is Stops.FIRING and not described.people
    if is_hot(turn) and of_the_wall and hazard is not Hazard.BAN:
        # The flue, or the wall: nobody sees into either before it is cold.
        return "hot"
    return None


def is_hot(turn: Turn) -> bool:
    """Whether a fire burns, or burnt so lately that nobody can judge a wall or a flue."""
    session, ended = turn.record.session, turn.record.ended_sessions[-1:]
    if session is not None:
        return session.died_at is None or turn.now - session.died_at < COLD_AFTER
    return any(one.ended is not None and turn.now - one.ended.at < COLD_AFTER for one in ended)


def tell_closed(
    turn: Turn, hazard: Hazard, *, misheard: bool = False, safe_since: datetime | None = None
) -> None:
    """Whoever is at the oven is told that it is over, and what comes next. ``misheard``: there was
    none; ``safe_since``: whether everybody is safe has been open since then."""
    session = turn.record.session
    ending = session is not None and session.ending
    others = [one for one in turn.record.hazards if HAZARDS[one.what].asked]
    turn.say(
        HazardClosedTold(
            hazard=hazard,
            lit=session is not None and not ending and not others and safe_since is None,
            ending=ending,
            misheard=misheard,
            others=tuple(one.what for one in others),
            safe_since=safe_since,
            flue=turn.record.flue,
        ),
        TENDERS,
        Urgency.ANSWER if session is None else Urgency.FIRE,
    )
    _ask_when_due(turn)
    if session is None:
        remind(turn)
    elif not ending and safe_since is None:
        # A fresh number first: the last one is as old as the fright.
        turn.in_minutes(AlarmName.NUDGE, 2.0)
