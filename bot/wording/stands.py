"""Sentences about where an oven stands: indoors, and near what can burn.

Keeping clear of what burns by two to three metres, dousing and clearing what is dry, and asking
the local code about flues: common practice of fire services, no single published source. That any
fire indoors gives off carbon monoxide, which cannot be seen or smelt, is public health advice
(from memory).
"""

from bot.wording import buttons
from bot.wording.measures import Measures
from bot.wording.speech import Sentences, bold, joined, parcel, says
from scheduling.choice import About, CommandName
from scheduling.meaning import FireIndoors, StandsIndoors
from scheduling.oven.stands import Over, Stands
from scheduling.ports import Parcel


def stands_indoors(said: StandsIndoors, _: Measures) -> Parcel:
    """No fire is led there."""
    told = "Your builder has been told." if said.builder_told else None
    return parcel(
        "Light nothing where it stands now: I lead no fire indoors, nor in a garage, shed or tent, "
        "with the door open or not.",
        "A wood fire gives off carbon monoxide, which nobody sees or smells and which kills, and "
        "walls and roof near the mouth can catch fire.",
        joined(
            "Move it into the open, or have a licensed fitter say what your local code wants: a "
            "flue of its own, air and distances. Then ask them who is to lead its first fires.",
            told,
        ),
        "Has it moved, or did I take you wrongly? Tell me where it stands.",
        buttons=[[moved()]],
    )


def fire_indoors(said: FireIndoors, _: Measures) -> Parcel:
    """A fire burns where none may."""
    number = (
        "your emergency number" if said.emergency is None else f"{bold(said.emergency)}"
    )  # fmt: skip
    told = "Your builder has been told of this fire." if said.builder_told else None
    return parcel(
        "Everybody out into fresh air now, children and animals too. Open doors and windows wide "
        "on the way, and stay out until the fire is dead and the air has cleared.",
        f"A headache, dizziness or feeling sick, or anything but the oven on fire: call {number} "
        "at once.",
        joined(
            "Add nothing and let it die with the mouth open. No water into the hot oven, and no "
            "door on it.",
            told,
        ),
        "Where is it really? If it stands in the open after all, tell me.",
        buttons=[[buttons.fire_out(), buttons.something_wrong()], [moved()]],
    )


def moved() -> buttons.Button:
    """It stands elsewhere now."""
    return buttons.command("It stands elsewhere", CommandName.SETTINGS, About.STANDS.value)


def when_laying(stands: Stands | None, flue: bool | None) -> str | None:
    """What to see to before the match, by what is over the oven and beside it."""
    beside = over = smoke = None
    if stands is not None and stands.beside:
        beside = (
            "Fence, hedge or shed beside it: wet it, clear away what is dry, and wait for another "
            "day if wind blows towards it."
        )
    if stands is not None and stands.covered:
        over = (
            "What is over it may burn, unless it is metal or stone: nothing may hang near "
            f"{'the mouth' if flue is False else 'mouth or flue'}, and if it gets too hot to "
            "touch, let the fire go down."
        )
    if beside or over:
        smoke = "How far it must be off, your local code says."
    opened = "Open the flue and look that it is clear." if flue else None
    return joined(beside, over, smoke, opened) or None


def in_wind(stands: Stands | None) -> str | None:
    """What sparks reach first."""
    if stands is None or not stands.may_catch:
        return None
    what = []
    if stands.beside:
        what.append("the fence, hedge or shed beside it")
    if stands.covered:
        what.append("what is over it" if stands.over is Over.SLATS else "the roof over it")
    return (
        f"Watch {' and '.join(what)} first: if it smokes or glows, get clear and call the fire "
        "service."
    )


def to_clear(stands: Stands | None) -> str | None:
    """The evening's preparation."""
    if stands is None or not stands.may_catch:
        return None
    return "a hose that reaches, and nothing dry within two metres of the mouth"


def flames_out(flue: bool | None) -> str:
    """Flames where none should be, as an owner of this oven would see them."""
    return "flames licking far out of the mouth" if flue is False else "flames in the flue"


SENTENCES: Sentences = dict(
    (says(StandsIndoors, stands_indoors), says(FireIndoors, fire_indoors)),
)
