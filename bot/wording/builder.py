"""Sentences to the builder's side that somebody is needed, and to a second person."""

from bot.wording import buttons, office_buttons
from bot.wording.attached import photo
from bot.wording.buttons import Button
from bot.wording.clients import NEED_NAMES, phones
from bot.wording.hazard_texts import TEXTS
from bot.wording.measures import Measures, minutes, times
from bot.wording.speech import Sentences, bold, joined, parcel, quoted, says, theirs
from scheduling.clients import opening_of
from scheduling.meaning import Alert, PhotoCame, SecondTold
from scheduling.ports import Parcel

NEEDS: dict[str, str] = {
    **{hazard.value: text.report for hazard, text in TEXTS.items()},
    "lit_early": "A fire burns that must not. They were told to let it die.",
    "too_hot": "The dome is far too hot. Ring them now: they were told to rake the fire apart.",
    "silent": "A fire is lit and nobody answers. Ring them now.",
    "indoors": "It stands indoors, they say. No fire is led there: ring them, and agree where it "
    "is to stand.",
    "undelivered": "My messages do not arrive. Ring them, or try another way.",
    "unheard": "Message after message of theirs could not be worked on. Ring them; whoever runs "
    "the bot finds what they wrote with `stokewatch aside`.",
    "mortar": "Hard frost in the first days: the mortar has to be looked at.",
    "instrument": "The thermometer ends below what the last fires need.",
    "forecast": "The forecast is against the next fire.",
    "waiting_for_answer": "A question of mine has waited long for their answer.",
    "slipping": "The days keep slipping.",
}
"""Why somebody should look at an oven, in the words of an alert."""

UNDELIVERED: dict[str, str] = {
    "blocked": "They have blocked me.",
    "late": "I go on trying.",
    "given_up": "I tried long and have given up on the last one.",
    "unknown": "Nobody can know whether the last one arrived.",
    "refused": "The chat does not take the last one.",
}
"""What is known of a letter that did not arrive."""


LIT_ALTHOUGH: dict[str, str] = {
    "cure": "Lit too early: the mortar is not strong enough yet.",
    "mortar": "Lit too early: the mortar froze in its first days and has to be looked at.",
    "held": "Lit although you have put its fires on hold.",
    "trouble": "Lit although something reported has to be looked at first.",
    "restricted": "Lit although a local fire restriction holds.",
    "forbidden": "Lit although you wanted no fire there today.",
    "weather": "Lit although the weather is against it.",
    "warm": "Lit although the dome is still too warm for the cap that you set.",
    "indoors": "Lit although it stands indoors, they say, where I lead no fire.",
    "set_up": "Lit before I know the oven well enough to lead a fire.",
}
"""What is wrong with a fire that must not burn, by why it must not."""

IN_THE_FIRE = "They were told to let the fire die."
"""How a report ends that says what is done about a fire."""


def alert(said: Alert, m: Measures) -> Parcel:
    """Somebody needs the builder."""
    oven = f"{_whose(said)}: " if said.oven else ""
    return parcel(
        f"{oven}{_report(said)}",
        f"Their words: {quoted(said.words)}" if said.words else None,
        UNDELIVERED.get(said.detail or "") if said.needs == "undelivered" else None,
        phones(said.contacts),
        _standing(said),
        _facts(said, m),
        buttons=[
            [_take(said), office_buttons.this_card(opening_of(said))],
            [office_buttons.talk(), office_buttons.hold()],
        ],
        attachments=[
            shown
            for one in said.photos
            for shown in photo(one, f"A photo sent from the oven of {_whose(said)}.")
        ],
        chats=said.contacts,
    )


def _whose(said: Alert | PhotoCame) -> str:
    place = f" ({theirs(said.place)})" if said.place else ""
    return f"{theirs(said.oven)}{place}"


def _report(said: Alert) -> str:
    if said.looked:
        return "They say that they have looked at what was reported, and that it is well."
    if said.misheard:
        return "They say that I misread their words, and that nothing of the kind is wrong."
    if said.needs == "lit_early":
        why = LIT_ALTHOUGH.get(said.detail, "A fire burns that must not.")
        return f"{why} {IN_THE_FIRE}"
    told = NEEDS.get(said.needs, "Somebody has to look at this oven.")
    if said.lit:
        return told
    # With no fire nobody was told to let one die.
    return told.removesuffix(IN_THE_FIRE).replace(" and let the fire die", "").strip()


def _standing(said: Alert) -> str | None:
    """Who has it, and how often it was told."""
    told = f"told {times(said.again + 1)}"
    if said.mine:
        return joined(
            "You have them: the others are not told."
            if said.alone
            else "You have them; the others are told too.",
            f"Nothing has been done about this yet; {told}." if said.again else None,
        )
    if said.held_by:
        return f"{theirs(said.held_by)} has them, and has not answered to this; {told}."
    return f"Nobody has taken this yet; {told}." if said.again else None


def _take(said: Alert) -> Button:
    if said.mine:
        return office_buttons.on_it()
    return office_buttons.take_over_case() if said.held_by else office_buttons.take_case()


def _facts(said: Alert, m: Measures) -> str:
    facts = [f"Since {m.clock(said.since)}"]
    if said.minutes is not None:
        facts.append(f"{minutes(said.minutes)} without an answer")
    if said.firing is not None:
        facts.append(f"fire {said.firing}")
    if said.lit:
        facts.append("burning now")
    if said.top_c is not None:
        aim = "" if said.aim_c is None else f", aim {m.about_degrees(said.aim_c)}"
        facts.append(f"last reading {bold(m.degrees(said.top_c))}{aim}")
    if not said.lit:
        facts.append("no fire burns")
    return "; ".join(facts) + "."


def photo_came(said: PhotoCame, _: Measures) -> Parcel:
    """A photo of what was reported, sent since."""
    need = NEED_NAMES.get(said.needs, "what was reported")
    return parcel(
        f"{_whose(said)}: a photo of what was reported ({need}).",
        f"Their words: {quoted(said.words)}" if said.words else None,
        buttons=[[office_buttons.this_card(), office_buttons.talk()]],
        attachments=photo(said.photo, f"A photo sent from the oven of {_whose(said)}."),
    )


def second_told(said: SecondTold, m: Measures) -> Parcel:
    """To a second person: can you look?"""
    last = (
        f"The last reading was {bold(m.degrees(said.top_c))}." if said.top_c is not None else None
    )
    return parcel(
        "Can you look after the oven fire, please? Look first whether everybody is well: if not, "
        "get them into fresh air and call your emergency number. Add nothing.",
        joined(
            f"It is lit, and I have had no answer for {minutes(said.minutes)}.",
            last,
            "Then send me the top of the dome as a number.",
        ),
        buttons=[[buttons.at_the_fire(), buttons.fire_out()], [buttons.something_wrong()]],
    )


SENTENCES: Sentences = dict(
    (
        says(Alert, alert),
        says(PhotoCame, photo_came),
        says(SecondTold, second_told),
    )
)
