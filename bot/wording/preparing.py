"""Sentences about the make-up of an oven that its builder fills in."""

from collections.abc import Iterable

from bot.wording import preparing_buttons as buttons
from bot.wording.asking import reason_refused
from bot.wording.buttons import Button, command, revoke
from bot.wording.measures import Measures, listed, sentence
from bot.wording.speech import Sentences, bold, joined, lines, parcel, says, theirs
from bot.wording.terms import QUESTION_NAMES, answer_words
from scheduling.choice import About, CommandName
from scheduling.firing.answers import BUILDERS
from scheduling.meaning import (
    FilledIn,
    FillingWaits,
    MakeUpAsked,
    MakeUpShown,
    ModelsOffered,
    OwnerSaysOtherwise,
)
from scheduling.ports import Parcel

TYPED = "Or type lines, like “size: {size}” or “finished: 2 May”."


def told(answers: Iterable[tuple[About, str]], m: Measures) -> str:
    """Answers, one a line, in the order in which they are asked."""
    order = tuple(About)
    return lines(
        f"{sentence(QUESTION_NAMES[about])}: {answer_words(about, value, m)}"
        for about, value in sorted(answers, key=lambda one: order.index(one[0]))
    )


def make_up(said: MakeUpShown, m: Measures) -> Parcel:
    """All that is known of an oven, and what is left to its owner."""
    ids = {"oven": said.oven, "invitation": said.invitation}
    until = said.open_until
    waiting = (
        None
        if until is None
        else f"Nobody has come for it yet; the invitation is good until "
        f"{m.dated(until.astimezone(m.zone).date())}."
    )
    model = f"Your model {theirs(said.model)}." if said.model else None
    left = [QUESTION_NAMES[about] for about in said.left]
    asked = f"The owner is asked: {listed(left)}." if left else None
    ask = [buttons.ask(_label(about), about, **ids) for about in BUILDERS]
    return parcel(
        bold(theirs(said.name) or "A client"),
        joined(waiting, model, None if said.answers else "Nothing is filled in yet."),
        told(said.answers, m) if said.answers else None,
        joined(asked, "Tap what you want to fill in or put right."),
        TYPED.format(size=_size(m)),
        buttons=[[buttons.models(**ids)], *_rows(ask), *_of_invitation(said)],
    )


def _of_invitation(said: MakeUpShown) -> list[list[Button]]:
    if not said.invitation:
        return []
    return [[buttons.renew(said.invitation)], [revoke("Take the invitation back", said.invitation)]]


def asked(said: MakeUpAsked, m: Measures) -> Parcel:
    """One question to the builder."""
    ids = {"oven": said.oven, "invitation": said.invitation}
    refusal = reason_refused(said.refusal, m) if said.refusal is not None else None
    known = (
        f"So far: {answer_words(said.about, said.known, m)}." if said.known is not None else None
    )
    answers = [
        buttons.fill(
            option.title or answer_words(said.about, option.value, m),
            (*said.along, (said.about, option.value)),
            **ids,
        )
        for option in said.options
    ]
    how = "Tap an answer, or type it." if answers else f"Type it{_like(said.about, m)}."
    return parcel(
        refusal,
        joined(f"{bold(sentence(_of(said.name)))}, {QUESTION_NAMES[said.about]}?", known),
        how,
        "The rest of what you typed waits for this." if said.along else None,
        buttons=[*_rows(answers), [buttons.make_up("Back to the oven", **ids)]],
    )


def _like(about: About, m: Measures) -> str:
    match about:
        case About.PLACE:
            return ", the town or a town nearby"
        case About.WET_WORK:
            return ", like 12 May"
        case About.THICKNESS:
            return ", like 3 in" if m.unit == "F" else ", like 75 mm"
        case _:
            return ""


def offered(said: ModelsOffered, _: Measures) -> Parcel:
    """The builder's models, or how to have one."""
    ids = {"oven": said.oven, "invitation": said.invitation}
    if not said.models:
        return parcel(
            "You have no model yet: an oven that you build again and again, so that one tap "
            "fills it in.",
            "/ways gives you your file, with a model to copy in it. Change it, send it back, and "
            "the model stands here.",
            buttons=[
                [command("My ways, as a file", CommandName.WAYS)],
                [buttons.make_up("Back to the oven", **ids)],
            ],
        )
    shown = [
        buttons.fill(one.title or one.value, said.along, model=one.value, **ids)
        for one in said.models
    ]
    return parcel(
        f"{bold(sentence(_of(said.name)))}: which of your models is it?",
        "What the model says is filled in. Anything of it can be put right afterwards.",
        buttons=[*_rows(shown), [buttons.make_up("Back to the oven", **ids)]],
    )


def filled_in(said: FilledIn, m: Measures) -> Parcel:
    """To the builder what is noted; to the owner what their builder has said of their oven."""
    if said.owner:
        by = theirs(said.by) or "Your builder"
        return parcel(
            f"{by} has put down for your oven:",
            told(said.answers, m),
            "If any of it is not so, please put it right.",
            buttons=[[command("Something is not right", CommandName.SETTINGS, "all")]],
        )
    ids = {"oven": "", "invitation": said.invitation}
    if not said.answers:
        return parcel(
            f"{sentence(_of(said.oven))}: that is what I have already.",
            buttons=[[buttons.make_up("The whole oven", **ids)]],
        )
    model = f"It is a {theirs(said.model)}." if said.model else None
    left = [buttons.ask(_label(about), about, **ids) for about in said.left]
    whose = "" if said.invitation else " Its owner is told."
    return parcel(
        joined(f"{sentence(_of(said.oven))}, noted.{whose}", model),
        told(said.answers, m),
        "These you could fill in as well; else the owner is asked." if left else None,
        buttons=[*_rows(left), [buttons.make_up("The whole oven", **ids)]],
    )


def waits(said: FillingWaits, _: Measures) -> Parcel:
    """Not under a burning fire."""
    return parcel(
        f"Nothing is changed: a fire burns at {theirs(said.oven) or 'this oven'}, and it was laid "
        "for the oven as I know it. Put it right once it is out.",
        "If something is wrong now, give an order: “hold” lets the fire die.",
    )


def otherwise(said: OwnerSaysOtherwise, m: Measures) -> Parcel:
    """The owner put right what the builder had filled in."""
    name = QUESTION_NAMES[said.about]
    told_ = answer_words(said.about, said.told, m)
    given = answer_words(said.about, said.given, m)
    return parcel(
        f"{theirs(said.oven) or 'A client'} says otherwise of the {name}: {told_}. You had put "
        f"down: {given}.",
        "I go by the owner’s word now. If you know better, say so.",
        buttons=[[buttons.make_up("Look at the oven")]],
    )


def _of(name: str) -> str:
    return f"the oven of {theirs(name)}" if name else "this oven"


def _label(about: About) -> str:
    return sentence(QUESTION_NAMES[about])


def _size(m: Measures) -> str:
    return "32 in" if m.unit == "F" else "80 cm"


def _rows(shown: list[Button]) -> list[list[Button]]:
    width = 1 if any(len(label) > 18 for label, _ in shown) else 2
    return [shown[start : start + width] for start in range(0, len(shown), width)]


SENTENCES: Sentences = dict(
    (
        says(MakeUpShown, make_up),
        says(MakeUpAsked, asked),
        says(ModelsOffered, offered),
        says(FilledIn, filled_in),
        says(FillingWaits, waits),
        says(OwnerSaysOtherwise, otherwise),
    )
)
