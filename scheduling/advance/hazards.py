"""Hazards: told of, asked after, looked at, and words beside a fire that nobody understood.

What each one stops, who hears of it and whose word closes it stands in ``scheduling.hazard``.
"""

from collections.abc import Sequence
from datetime import datetime, timedelta

from scheduling.advance.burning import advise
from scheduling.advance.turn import Turn
from scheduling.alarm import AlarmName
from scheduling.emergency import emergency_number
from scheduling.firing.aim import Action
from scheduling.hazard import HAZARDS, Closer, Hazard, Stops, gravest
from scheduling.journal import (
    Advised,
    AllWell,
    CrackSeen,
    HazardClosed,
    HazardSeen,
    Undone,
    Unheard,
)
from scheduling.meaning import (
    CrackTold,
    HazardAsked,
    HazardClosedTold,
    HazardStays,
    HazardTold,
    NotHeard,
    StaleTap,
    WhatIsWrong,
    WhichHazard,
)
from scheduling.outcome import TENDERS, Urgency
from scheduling.record.hazards import OpenHazard
from scheduling.record.live import Numbered
from scheduling.record.need import unheard_since
from scheduling.record.standing import Concern
from scheduling.remark import CrackSize, Looked, Misheard

LONGEST_WORDS = 500
EMBERS_MINUTES = 120.0

FAULT_MINUTES = 5.0
"""So soon the fire is asked about after a message that could not be worked on (own choice)."""

MISHEARD_WITHIN = timedelta(minutes=30)
"""So long after it was heard, whoever told it may say that they told of no such thing."""


# ---------------------------------------------------------------- told


def noted(turn: Turn, hazards: Sequence[Hazard], words: str = "") -> None:
    """Keep what somebody tells of. ``words`` are theirs; empty where a button was pressed."""
    for hazard in hazards:
        turn.write(HazardSeen(at=turn.at, by=turn.by, hazard=hazard, words=words[:LONGEST_WORDS]))


def answered(turn: Turn, hazards: Sequence[Hazard], words: str = "") -> None:
    """The gravest is answered whole, of the others only what to do first; the builder is told."""
    informed = [_alert(turn, hazard, words) and HAZARDS[hazard].at_once for hazard in hazards]
    first = gravest(hazards)
    if first is None:
        return
    turn.danger(
        HazardTold(
            hazard=first,
            also=tuple(one for one in hazards if one is not first),
            emergency=emergency_number(turn.record.zone),
            lit=turn.record.session is not None,
            builder_told=any(informed),
            since=_since(turn, first),
            from_words=bool(words),
        )
    )
    _follow(turn, hazards)


def crack(turn: Turn, size: CrackSize, photo: str | None) -> None:
    """A crack: a hairline is watched, an open one ends the firing, an unsaid one is asked."""
    lit = turn.record.session is not None
    turn.write(CrackSeen(at=turn.at, by=turn.by, size=size, photo=photo))
    opened = size is CrackSize.OPEN
    informed = opened and _alert(turn, Hazard.CRACK, photo=photo)
    meaning = CrackTold(size=size, lit=lit, builder_told=informed, photo=photo is not None)
    turn.say(meaning, TENDERS, Urgency.FIRE if lit else Urgency.ANSWER)
    if opened:
        _follow(turn, (Hazard.CRACK,))
    elif lit:
        turn.in_minutes(AlarmName.NUDGE, 10.0 if size is CrackSize.UNSAID else 20.0)


def _alert(turn: Turn, hazard: Hazard, words: str = "", photo: str | None = None) -> bool:
    since = _since(turn, hazard)
    return turn.alert(hazard, since, detail=words[:LONGEST_WORDS], photo=photo)


def _since(turn: Turn, what: Hazard) -> datetime:
    """Since when a hazard has stood open."""
    return next((one.since for one in turn.record.hazards if one.what is what), turn.at)


def _follow(turn: Turn, hazards: Sequence[Hazard]) -> None:
    """The fire is stopped or held as far as they reach, and they are asked after."""
    described = [HAZARDS[one] for one in hazards]
    turn.in_minutes(AlarmName.FOLLOW_UP, min(one.ask_minutes for one in described))
    session = turn.record.session
    if session is None:
        return
    turn.drop(AlarmName.NUDGE, AlarmName.REPEAT, AlarmName.SILENCE, AlarmName.UNATTENDED)
    if max(one.stops for one in described) is Stops.WOOD:
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
    standing = [one for one in turn.record.hazards if HAZARDS[one.what].told]
    if not standing:
        return
    worst = standing[0]
    if HAZARDS[worst.what].at_once:
        # Something wrong that nobody has named by now.
        turn.alert(worst.what, worst.since, detail=worst.words)
    _ask(turn, worst)
    again = HAZARDS[worst.what].ask_minutes
    while turn.now - worst.since >= timedelta(minutes=again) and again < 24 * 60.0:
        again *= 2
    turn.in_minutes(AlarmName.FOLLOW_UP, min(again, 24 * 60.0))


def _ask(turn: Turn, hazard: OpenHazard) -> None:
    described = HAZARDS[hazard.what]
    turn.say(
        HazardAsked(
            hazard=hazard.what,
            since=hazard.since,
            lit=turn.record.session is not None,
            emergency=emergency_number(turn.record.zone),
            ask=_may_close(turn, hazard.what),
        ),
        TENDERS,
        Urgency.DANGER if described.people else Urgency.CALM,
        replaces="follow_up",
    )


def _may_close(turn: Turn, hazard: Hazard) -> bool:
    """Whether the word of whoever tends the oven closes it."""
    return HAZARDS[hazard].closer is Closer.OWNER or turn.record.builder is None


# ---------------------------------------------------------------- looked at


def looked(turn: Turn, said: Looked) -> None:
    """Somebody says that they have looked, and how it is."""
    standing = [one for one in turn.record.hazards if HAZARDS[one.what].told]
    meant = [one for one in standing if said.hazard in (None, one.what)]
    if said.since is not None and all(one.since != said.since for one in meant):
        turn.say(StaleTap())
        return
    if not meant:
        turn.say(HazardStays(hazard=said.hazard, why="none_open"))
    elif said.sound is None:
        _ask(turn, meant[0])
    elif len(meant) > 1:
        open_ = tuple((one.what, one.since) for one in meant)
        turn.say(WhichHazard(hazards=open_))
    else:
        _judged(turn, meant[0], sound=said.sound)


def _judged(turn: Turn, hazard: OpenHazard, *, sound: bool) -> None:
    why = _why_it_stays(turn, hazard.what, sound=sound)
    lit = turn.record.session is not None
    if why is not None:
        stays = HazardStays(hazard=hazard.what, why=why, lit=lit, since=hazard.since)
        turn.say(stays)
        if why == "builder":
            turn.tell_team(hazard.what, hazard.since, looked=True)
        return
    turn.write(HazardClosed(at=turn.now, by=turn.by, what=hazard.what))
    _tell_closed(turn, hazard.what)


def _why_it_stays(turn: Turn, hazard: Hazard, *, sound: bool) -> str | None:
    if not sound:
        return "not_sound"
    described, session = HAZARDS[hazard], turn.record.session
    if not _may_close(turn, hazard):
        return "builder"
    hot = session is not None and session.died_at is None
    if hot and described.stops is Stops.FIRING and not described.people:
        # The flue, or the wall: nobody sees into either before it is cold.
        return "hot"
    return None


def _tell_closed(turn: Turn, hazard: Hazard, *, misheard: bool = False) -> None:
    session = turn.record.session
    ending = session is not None and session.ending
    turn.say(
        HazardClosedTold(
            hazard=hazard,
            lit=session is not None and not ending,
            ending=ending,
            misheard=misheard,
        )
    )
    if any(HAZARDS[one.what].told for one in turn.record.hazards):
        turn.in_minutes(AlarmName.FOLLOW_UP, 1.0)
    else:
        turn.drop(AlarmName.FOLLOW_UP)
    if session is not None and not ending:
        # A fresh number first: the last one is as old as the fright.
        turn.in_minutes(AlarmName.NUDGE, 2.0)


def misheard(turn: Turn, said: Misheard) -> None:
    """What was read into their words was not in them: it counts no more, nor what followed."""
    told_by = [
        one
        for one in turn.record.live
        if isinstance(one.entry, HazardSeen)
        and one.entry.hazard is said.hazard
        and one.entry.by == turn.by
        and one.entry.words
        and turn.now - one.entry.at <= MISHEARD_WITHIN
    ]
    standing = any(
        one.what is said.hazard and one.since == said.since for one in turn.record.hazards
    )
    if not told_by or not standing:
        turn.say(StaleTap())
        return
    gone = [*told_by, *_stops_since(turn, told_by[0].entry.at)]
    turn.write(Undone(at=turn.now, by=turn.by, seqs=tuple(one.seq for one in gone), why="undo"))
    _tell_closed(turn, said.hazard, misheard=True)
    if turn.record.builder is not None:
        turn.tell_team(said.hazard, said.since, misheard=True)


def _stops_since(turn: Turn, at: datetime) -> list[Numbered]:
    """The stop that the hazard brought about, where nothing else calls for one."""
    others = [one for one in turn.record.hazards if one.stops >= Stops.FIRE]
    if len(others) > 1 or turn.record.held is not None:
        return []
    return [
        one
        for one in turn.record.live
        if isinstance(one.entry, Advised) and one.entry.action is Action.STOP and one.entry.at >= at
    ]


# ---------------------------------------------------------------- words that nobody understood


def unheard(turn: Turn) -> None:
    """Words beside a fire that no reader claimed are asked about, and hold the wood; so does a
    message that a fault of ours kept from being worked on, of which there are none."""
    turn.write(Unheard(at=turn.at, by=turn.by, words=turn.unheard[:LONGEST_WORDS]))
    session = turn.record.session
    turn.say(
        NotHeard(
            words=turn.unheard[:LONGEST_WORDS],
            top_c=turn.read_c,
            lit=session is not None,
        ),
        turn.by or TENDERS,
        Urgency.ANSWER if session is None else Urgency.FIRE,
    )
    if session is not None and not session.ending and session.aim is not None:
        turn.drop(AlarmName.REPEAT, AlarmName.SILENCE, AlarmName.UNATTENDED)
        turn.in_minutes(AlarmName.NUDGE, 10.0 if turn.unheard else FAULT_MINUTES)
    since = unheard_since(turn.record, turn.now)
    if since is not None:
        turn.alert(Concern.UNHEARD, since)


def all_well(turn: Turn) -> None:
    """Nothing is wrong after all: the fire is advised on from the number that was kept."""
    turn.write(AllWell(at=turn.at, by=turn.by))
    session = turn.record.session
    if session is not None:
        advise(turn)
    else:
        turn.say(HazardStays(hazard=None, why="all_well"))


def something_wrong(turn: Turn) -> None:
    """Something is wrong: nothing goes on, and the short list of what it may be."""
    turn.write(HazardSeen(at=turn.at, by=turn.by, hazard=Hazard.UNNAMED))
    lit = turn.record.session is not None
    number = emergency_number(turn.record.zone)
    turn.danger(WhatIsWrong(lit=lit, emergency=number))
    turn.in_minutes(AlarmName.FOLLOW_UP, HAZARDS[Hazard.UNNAMED].ask_minutes)
    if lit:
        turn.drop(AlarmName.REPEAT, AlarmName.SILENCE, AlarmName.UNATTENDED)
        turn.in_minutes(AlarmName.NUDGE, 10.0)
