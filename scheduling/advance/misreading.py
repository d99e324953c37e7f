"""What was read into somebody's words, and was not in them."""

from datetime import datetime, timedelta

from scheduling.advance.hazards import tell_closed
from scheduling.advance.turn import Turn
from scheduling.advance.unsettled import denied
from scheduling.firing.aim import Action
from scheduling.hazard import HAZARDS, Stops
from scheduling.journal import Advised, CrackSeen, HazardSeen, Undone
from scheduling.meaning import StaleTap
from scheduling.record.hazards import hazard_in
from scheduling.record.need import alerted
from scheduling.remark import Misheard

MISHEARD_WITHIN = timedelta(minutes=30)
"""So long after it was heard, whoever told it may say that they told of no such thing."""


def misheard(turn: Turn, said: Misheard) -> None:
    """What was read into one message was not in it: nothing of it counts, nor what followed. A
    crack told of beside another hazard is a matter of its own: either is denied alone.

    Whatever was told of since, in words or by a button, stays, and makes the button too old. Where
    a life would be at stake one press may be a slip: before wood goes on again it is asked whether
    everybody is safe.
    """
    told = [
        (one.seq, one.entry)
        for one in turn.record.live
        if isinstance(one.entry, HazardSeen | CrackSeen) and hazard_in(one.entry) is not None
    ]
    meant = next((entry for _, entry in told if _is_meant(turn, entry, said)), None)
    standing = any(
        one.what is said.hazard and one.since == said.since for one in turn.record.hazards
    )
    if meant is None or not standing or told[-1][1].key != meant.key:
        turn.say(StaleTap())
        return
    gone = [seq for seq, one in told if one.key == meant.key and one.kind == meant.kind]
    stops = _stops_since(turn, meant.at, len(gone))
    turn.write(Undone(at=turn.now, by=turn.by, seqs=(*gone, *stops), why="undo"))
    tell_closed(turn, said.hazard, misheard=True, safe_since=_asked_whether_safe(turn, meant))
    if turn.record.builder is not None and alerted(turn.record, said.hazard, said.since):
        turn.tell_team(said.hazard, said.since, misheard=True)


def _is_meant(turn: Turn, entry: HazardSeen | CrackSeen, said: Misheard) -> bool:
    """Whether it is what this person denies: read out of their own words, and lately."""
    worded = entry.from_words if isinstance(entry, CrackSeen) else bool(entry.words)
    of_it = hazard_in(entry) is said.hazard and entry.at == said.since
    return of_it and worded and entry.by == turn.by and turn.now - entry.at <= MISHEARD_WITHIN


def _stops_since(turn: Turn, at: datetime, told: int) -> list[int]:
    """The stop that the ``told`` hazards of a message brought about, where nothing else calls for
    one."""
    stopping = [one for one in turn.record.hazards if one.stops >= Stops.FIRE]
    if len(stopping) > told or turn.record.held is not None:
        return []
    return [
        one.seq
        for one in turn.record.live
        if isinstance(one.entry, Advised) and one.entry.action is Action.STOP and one.entry.at >= at
    ]


def _asked_whether_safe(turn: Turn, entry: HazardSeen | CrackSeen) -> datetime | None:
    """Since when it is asked, beside a fire, whether everybody is safe. One that burns down is no
    different: what stops it may be denied next."""
    if turn.record.session is None or isinstance(entry, CrackSeen):
        return None
    return denied(turn, entry.words) if HAZARDS[entry.hazard].people else None
