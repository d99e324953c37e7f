"""A builder's own ways come to an oven: at its beginning, or while it is being broken in."""

from scheduling.advance import showing
from scheduling.advance.burning import advise
from scheduling.advance.promising import promise
from scheduling.advance.turn import Turn
from scheduling.happening import WaysTaken
from scheduling.meaning import DaysMoved, OrderTold
from scheduling.outcome import TENDERS, Urgency
from scheduling.record import Record


def take_over(turn: Turn, ways: WaysTaken) -> None:
    """Write them down, saying nothing: a new oven's owner hears of them where they count."""
    turn.write(*ways.constructed)
    if ways.worded is not None:
        turn.write(ways.worded)
    if ways.limits is not None:
        turn.write(ways.limits)
    turn.write(*ways.learnt)


def taken(turn: Turn, ways: WaysTaken) -> None:
    """Take them over on a running oven: its owner is told of limits, and the days follow."""
    before = turn.record
    take_over(turn, ways)
    if ways.limits is None:
        if turn.record.learnt != before.learnt:
            _planned_anew(turn, before)
        return
    lit = turn.record.session is not None
    urgency = Urgency.FIRE if lit else Urgency.CALM
    turn.say(OrderTold(what="limits", by=ways.person, why=ways.limits.why), TENDERS, urgency)
    if lit:
        advise(turn)
    elif turn.record.makeup is not None:
        promise(turn, "order")


def _planned_anew(turn: Turn, before: Record) -> None:
    """Another prior gives another plan: whoever tends it hears of days that move. While a fire
    burns it goes on as it was lit, and the days follow when it is over."""
    if turn.record.session is not None or turn.record.makeup is None:
        return
    outlook = promise(turn, "order")
    if changes := showing.changes(before, outlook):
        lines = showing.lines(outlook)
        moved = DaysMoved(why="order", lines=lines, changes=changes, undo=False)
        turn.say(moved, TENDERS, Urgency.CALM, replaces="days")
