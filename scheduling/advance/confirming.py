"""Yes and no: to the question that is open, or to the button of one."""

from scheduling.advance import after, days, hazards, lighting
from scheduling.advance.turn import Turn
from scheduling.choice import Confirm
from scheduling.journal import Asked, Settled
from scheduling.meaning import DaysKept, HazardStays, Noted, StaleTap
from scheduling.record.hazards import bars_lighting

LIGHTS = ("eve", "light", "is_lit")
"""Questions of which a yes leads to a fire."""


def confirm(turn: Turn, said: Confirm) -> None:
    """A button that names its proposal; a stale one does nothing."""
    asked = turn.record.question
    if asked is None or asked.proposal != said.proposal:
        turn.say(StaleTap())
        return
    _settle(turn, asked, said.yes)


def confirm_open(turn: Turn, yes: bool) -> None:
    """A bare yes or no."""
    asked = turn.record.question
    if asked is None:
        turn.say(Noted(what="yes" if yes else "no"))
        return
    _settle(turn, asked, yes)


def _settle(turn: Turn, asked: Asked, yes: bool) -> None:
    kind = asked.what.partition(":")[0]
    if yes and kind in LIGHTS and bars_lighting(turn.record.hazards):
        hazards.follow_up(turn)
        return
    match kind:
        case "days":
            days.confirmed(turn, asked, yes)
        case "eve":
            turn.write(Settled(at=turn.now, by=turn.by, what=asked.what, yes=yes))
            if yes:
                lighting.kept(turn)
            else:
                days.which_day(turn)
        case "look":
            # Asked before a look had buttons of its own: a bare yes closes nothing.
            turn.write(Settled(at=turn.now, by=turn.by, what=asked.what))
            turn.say(HazardStays(hazard=None, why="none_open"))
        case "stopped":
            turn.write(Settled(at=turn.now, by=turn.by, what=asked.what, yes=yes))
            if yes:
                after.gone_on(turn)
            else:
                turn.say(Noted(what="no"))
        case "soot":
            after.soot(turn, clear=yes)
        case "light":
            # "All right" to how it is laid: it burns when they say so.
            if yes:
                turn.say(Noted(what="to_light"))
            else:
                lighting.not_lit(turn)
        case "is_lit":
            if yes:
                lighting.lit(turn, turn.at)
            else:
                lighting.not_lit(turn)
        case "door":
            if yes:
                after.door(turn, on=True)
            else:
                turn.say(Noted(what="no"))
        case "idle":
            turn.write(Settled(at=turn.now, by=turn.by, what=asked.what, yes=yes))
            if yes:
                days.reopened(turn, "idle")
            else:
                turn.say(DaysKept(why="left"))
        case _:
            turn.say(Noted(what="yes" if yes else "no"))
