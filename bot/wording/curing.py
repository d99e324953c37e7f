"""Sentences of the plan, and of the mortar that it waits for."""

from bot.wording import buttons
from bot.wording.attached import plan_picture
from bot.wording.measures import Measures, counted, percent
from bot.wording.plans import SHEET_FIRST
from bot.wording.speech import Sentences, bold, joined, parcel, says
from bot.wording.terms import fires, plan_lines
from scheduling.meaning import CureCountdown, CureDone, MortarInDoubt, PlanTold
from scheduling.ports import Parcel

_CHANGED = {
    "reading": "Your reading has changed the plan.",
    "soaked": "The wall got wet, so the plan goes back a step.",
    "gap": "After the gap the oven starts lower, so the plan has changed.",
    "order": "Your builder has changed the plan.",
    "repair": "Fresh mortar has to gain strength first, so the plan starts later.",
    "set_up": "With that answer the plan has changed.",
    "moved": "The days have moved.",
    "short": "The last fire fell short, so the next step is smaller.",
    "hot": "The last fire went hotter than meant, so the plan has changed.",
    "unattended": "Nobody could read the last fire to its end, so the next step is smaller.",
    "idle": "After the long rest the oven wants gentle fires first.",
}


def plan(said: PlanTold, m: Measures) -> Parcel:
    """The plan in a few lines and a picture."""
    if not said.lines:
        return parcel(
            joined(_CHANGED.get(said.why), "There is no fire to plan at the moment."),
            buttons=[[buttons.what_now()]],
        )
    opening = _CHANGED.get(said.why) or (
        f"Here is your plan: {fires(len(said.lines))}, each a small step on from the one before."
    )
    ready = (
        f"Light nothing before {m.dated(said.ready_on)}: the mortar needs until then."
        if said.ready_on is not None
        else None
    )
    done = (
        f"If weather and wall agree, you are through on {bold(m.dated(said.done_by))}."
        if said.done_by is not None
        else None
    )
    usual = (
        "I have used the usual sizes of such an oven; give me yours and the plan gets better."
        if said.preset
        else None
    )
    return parcel(
        joined(opening, ready),
        plan_lines(said.lines, m),
        joined(done, "I’ll write the evening before each one.", usual),
        SHEET_FIRST if said.why == "first" else None,
        buttons=[[buttons.show_days(), buttons.settings()]],
        attachments=plan_picture(said.lines, m),
    )


_HELD_BY = {
    "strength": "The mortar is still gaining strength, faster in mild weather than in cold.",
    "floor": "The mortar still has its shortest time of rest to run, whatever the weather.",
    "frost": "Frost in its first days has set the mortar back.",
    "cold": "It is too cold for mortar to harden.",
}


def cure(said: CureCountdown, m: Measures) -> Parcel:
    """How the mortar stands."""
    if said.ready_on is None:
        first = "No fire yet, and I cannot name a day: it is too cold for the mortar to harden."
        why = None
    else:
        left = "" if said.days_left is None else f", {_days_left(said.days_left)}"
        first = f"No fire before {bold(m.dated(said.ready_on))}{left}."
        why = _HELD_BY[said.held_by]
    frost = (
        f"The hardest frost was {m.degrees(said.frost_c)} on {m.dated(said.frost_on)}."
        if said.frost_c is not None and said.frost_on is not None
        else None
    )
    return parcel(
        joined(first, why, frost),
        f"The mortar has about {percent(said.strength)} of its full strength. Until then keep "
        "rain and frost off it, and the mouth open to the air.",
    )


def _days_left(days: int) -> str:
    return "tomorrow" if days == 1 else f"{counted(days, 'day')} from now"


def cured(said: CureDone, m: Measures) -> Parcel:
    """The mortar is strong enough."""
    when = (
        f"Your first fire is planned for {bold(m.day(said.first))}; I’ll write the evening before."
        if said.first is not None
        else "I am still looking for a day for the first fire, and will write."
    )
    return parcel(f"The mortar is strong enough. {when}", buttons=[[buttons.show_plan()]])


def mortar(said: MortarInDoubt, m: Measures) -> Parcel:
    """Hard frost in the first days."""
    return parcel(
        "Light no fire yet: somebody who builds ovens has to look at the mortar first.",
        f"It had {bold(m.degrees(said.frost_c))} on {m.dated(said.frost_on)}, while it was still "
        "full of water. Frost then can break it inside where nobody sees it; joints that crumble "
        "under a nail are not sound.",
    )


SENTENCES: Sentences = dict(
    (
        says(PlanTold, plan),
        says(CureCountdown, cure),
        says(CureDone, cured),
        says(MortarInDoubt, mortar),
    )
)
