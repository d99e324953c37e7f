"""Words beside a fire that nobody understood, and something wrong that nobody has named."""

from datetime import datetime

from scheduling.advance.burning import advise
from scheduling.advance.turn import Turn
from scheduling.alarm import AlarmName
from scheduling.emergency import emergency_number
from scheduling.hazard import HAZARDS, Hazard
from scheduling.journal import AllWell, HazardSeen, Unheard
from scheduling.meaning import HazardStays, NotHeard, StaleTap, WhatIsWrong
from scheduling.outcome import TENDERS, Urgency
from scheduling.record.need import unheard_since
from scheduling.record.standing import Concern

LONGEST_WORDS = 500

FAULT_MINUTES = 5.0
"""So soon the fire is asked about after a message that could not be worked on (own choice)."""

DENIED_MINUTES = 10.0
"""So soon it is asked again whether everybody is safe (own choice)."""


def unheard(turn: Turn) -> None:
    """Words beside a fire that no reader claimed are asked about, and hold the wood; so does a
    message that a fault of ours kept from being worked on, of which there are none."""
    session = turn.record.session
    # A question whether everybody is safe stays open beside newer words.
    misread = session is not None and session.unheard is not None and session.unheard.misread
    words = turn.unheard[:LONGEST_WORDS]
    turn.write(Unheard(at=turn.at, by=turn.by, words=words, misread=misread))
    turn.say(
        NotHeard(
            words=words,
            top_c=turn.read_c,
            lit=session is not None,
            since=turn.at,
            likely=turn.likely,
            misread=misread,
            flue=turn.record.flue,
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


def denied(turn: Turn, words: str) -> datetime:
    """A danger to people was read into these words, and whoever said them denies it: the wood is
    held until somebody says that everybody is safe. Returns when it is first asked."""
    turn.write(Unheard(at=turn.at, by=turn.by, words=words, misread=True))
    turn.in_minutes(AlarmName.NUDGE, DENIED_MINUTES)
    return turn.at


def asked_again(turn: Turn) -> bool:
    """Whether words that nobody understood are still unsettled: they are asked about once more."""
    session = turn.record.session
    unsettled = None if session is None else session.unheard
    if unsettled is not None:
        told = NotHeard(
            words=unsettled.words, lit=True, since=unsettled.at, misread=unsettled.misread
        )
        turn.at_fire(told)
    return unsettled is not None


def all_well(turn: Turn, since: datetime | None) -> None:
    """Nothing is wrong after all: the fire is advised on from the number that was kept. ``since``
    is when the words were said that a button asks about: an older one settles no newer words."""
    session = turn.record.session
    unsettled = None if session is None else session.unheard
    if since is not None and unsettled is not None and unsettled.at != since:
        turn.say(StaleTap())
        return
    turn.write(AllWell(at=turn.at, by=turn.by))
    if session is not None:
        advise(turn)
    else:
        turn.say(HazardStays(hazard=None, why="all_well"))


def something_wrong(turn: Turn) -> None:
    """Something is wrong: nothing goes on, and the short list of what it may be."""
    turn.write(HazardSeen(at=turn.at, by=turn.by, hazard=Hazard.UNNAMED))
    lit = turn.record.session is not None
    number = emergency_number(turn.record.zone)
    turn.danger(WhatIsWrong(lit=lit, emergency=number, flue=turn.record.flue))
    turn.in_minutes(AlarmName.FOLLOW_UP, HAZARDS[Hazard.UNNAMED].ask_minutes)
    turn.drop(AlarmName.NUDGE, AlarmName.REPEAT, AlarmName.SILENCE, AlarmName.UNATTENDED)
