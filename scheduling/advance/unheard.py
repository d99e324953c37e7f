"""A message that was kept, but that a fault of ours kept from being worked on.

Nobody knows what it said: it may have been a danger. So it is told at once, it is a sign of life,
and no wood goes on until they have told more of the fire.
"""

from scheduling.advance.burning import measures
from scheduling.advance.turn import Turn
from scheduling.alarm import AlarmName
from scheduling.journal import Unheard
from scheduling.meaning import UnheardTold
from scheduling.outcome import Urgency
from scheduling.record import Need
from scheduling.record.need import unheard_since

ASK_MINUTES = 5.0
"""So soon the fire is asked about, where nobody tells more of it by themselves (own choice)."""


def unheard(turn: Turn) -> None:
    """Tell them, and, where it happens again, whoever looks after the oven."""
    turn.write(Unheard(at=turn.now, by=turn.by))
    session = turn.record.session
    urgency = Urgency.ANSWER if session is None else Urgency.FIRE
    told = UnheardTold(lit=session is not None, reads=session is not None and measures(turn))
    turn.say(told, urgency=urgency)
    if session is not None and session.aim is not None and not session.ending:
        turn.drop(AlarmName.REPEAT, AlarmName.SILENCE, AlarmName.UNATTENDED)
        turn.in_minutes(AlarmName.NUDGE, ASK_MINUTES)
    since = unheard_since(turn.record, turn.now)
    if since is not None:
        turn.alert(Need.UNHEARD, since)
