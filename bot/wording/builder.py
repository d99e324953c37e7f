"""Sentences to the builder's side that somebody is needed, and to a second person."""

from bot.wording import buttons, office_buttons
from bot.wording.attached import photo
from bot.wording.hazard_texts import TEXTS
from bot.wording.measures import Measures, minutes, times
from bot.wording.speech import Sentences, bold, joined, parcel, quoted, says, theirs
from bot.wording.terms import no_fire_because
from scheduling.meaning import Alert, SecondTold
from scheduling.ports import Parcel

NEEDS: dict[str, str] = {
    **{hazard.value: text.report for hazard, text in TEXTS.items()},
    "too_hot": "The dome is far too hot. They were told to rake the fire apart.",
    "silent": "A fire is lit and nobody answers. Ring them.",
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


def alert(said: Alert, m: Measures) -> Parcel:
    """Somebody needs the builder."""
    told = NEEDS.get(said.needs, "Somebody has to look at this oven.")
    if said.looked:
        told = "They say that they have looked at what was reported, and that it is well."
    if said.misheard:
        told = "They say that I misread their words, and that nothing of the kind is wrong."
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
    oven = f"{theirs(said.oven)}: " if said.oven else ""
    untaken = f"Nobody has taken this yet; told {times(said.again + 1)}." if said.again else None
    return parcel(
        f"{oven}{told}",
        untaken,
        "; ".join(facts) + ".",
        _detail(said),
        buttons=[
            [office_buttons.take_case(), office_buttons.this_card()],
            [office_buttons.talk(), office_buttons.hold()],
        ],
        attachments=photo(said.photo, "A photo from the owner of what was reported."),
    )


def _detail(said: Alert) -> str | None:
    if said.needs == "undelivered":
        return UNDELIVERED.get(said.detail or "")
    if said.needs == "lit_early":
        return f"No fire may burn: {no_fire_because(said.detail)}." if said.detail else None
    return f"Their words: {quoted(said.detail)}" if said.detail else None


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
        says(SecondTold, second_told),
    )
)
