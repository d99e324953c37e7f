"""A builder's own ways come to an oven: at its beginning, or while it is being broken in."""

from scheduling.advance.burning import advise
from scheduling.advance.promising import promise
from scheduling.advance.turn import Turn
from scheduling.happening import WaysTaken
from scheduling.meaning import OrderTold
from scheduling.outcome import TENDERS, Urgency


def take_over(turn: Turn, ways: WaysTaken) -> None:
    """Write them down, saying nothing: a new oven's owner hears of them where they count."""
    turn.write(*ways.constructed)
    if ways.worded is not None:
        turn.write(ways.worded)
    if ways.limits is not None:
        turn.write(ways.limits)


def taken(turn: Turn, ways: WaysTaken) -> None:
    """Take them over on a running oven: its owner is told of limits, and the days follow."""
    take_over(turn, ways)
    if ways.limits is None:
        return
    lit = turn.record.session is not None
    urgency = Urgency.FIRE if lit else Urgency.CALM
    turn.say(OrderTold(what="limits", by=ways.person, why=ways.limits.why), TENDERS, urgency)
    if lit:
        advise(turn)
    elif turn.record.makeup is not None:
        promise(turn, "order")
