"""What letters tell of the course of a trial: wood asked for, on what number, and how it ended."""

from scheduling.firing.aim import Action
from scheduling.meaning import Advice, FiringDone, LitNoted, Nudge, PlanTold
from tests.trials.unmet_ovens.course import Course, wrong
from tests.trials.unmet_ovens.letters import Letter
from tests.trials.unmet_ovens.oven import Oven
from tests.trials.unmet_ovens.pointing import Shown

EDITED = "firing_status"
"""The one message that is edited in place: nobody is called by it."""
ENDING = (Action.HOLD_DONE, Action.SHUT_DOOR, Action.STOP)


def hear(course: Course, oven: Oven, letter: Letter, shown: Shown | None) -> None:
    """Enter it; ``shown`` is what the owner read last."""
    if letter.kind == EDITED:
        return
    fire = course.burning
    if fire is not None:
        fire.messages += 1
    match letter.meaning:
        case PlanTold(why="first") as plan if course.planned_fires is None:
            course.planned_fires = len(plan.lines)
            course.planned_aims = tuple(line.plateau_c for line in plan.lines)
            aims = ", ".join(f"{aim:.0f}" for aim in course.planned_aims)
            course.note(oven, f"PLAN of {len(plan.lines)} fires: {aims}")
        case LitNoted() as lit if fire is not None:
            fire.aim_c, fire.hold_h = lit.aim.plateau_c, lit.aim.hold_h
        case Advice() as told:
            _advice(course, oven, told, shown)
        case Nudge(read=False, kg=float(kg)) if fire is not None:
            fire.asked_kg += kg
            fire.wood_asks += 1
            course.note(oven, f"ASKED {kg:.2f} kg")
        case FiringDone() as done:
            _done(course, oven, done)
        case _:
            course.note(oven, f"[{letter.kind}]")


def _advice(course: Course, oven: Oven, told: Advice, shown: Shown | None) -> None:
    fire = course.burning
    went_by = "" if told.top_c is None else f" at {told.top_c:.0f}"
    amount = "" if told.why.amount is None else f" {told.why.amount:.2f}"
    again = "" if told.minutes is None else f", again in {told.minutes:.0f} min"
    wood = "" if told.kg is None else f" {told.kg:.2f} kg"
    said = f"{told.action.value}{wood}{went_by} ({told.why.what}{amount}){again}"
    course.note(oven, f"{'ASKED' if told.action is Action.ADD else 'told'} {said}")
    if fire is None:
        return
    if told.action is Action.ADD:
        fire.asked_kg += told.kg or 0.0
        fire.wood_asks += 1
        if told.top_c is not None and shown is not None and wrong(told.top_c, shown.true_c):
            fire.wrong_asks += 1
    if told.action in ENDING and fire.held_until is None:
        fire.held_until = oven.now


def _done(course: Course, oven: Oven, done: FiringDone) -> None:
    fire = course.burning
    following = "" if done.next_aim is None else f", next {done.next_aim.plateau_c:.0f}"
    course.note(oven, f"DONE {done.why}/{done.change}{following}")
    if fire is not None:
        fire.over_at = oven.now
        fire.told_why, fire.told_change = done.why, done.change
