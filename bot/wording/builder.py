"""Sentences to the builder's side, to a second person, and of a builder's orders."""

from bot.wording import buttons, office_buttons
from bot.wording.attached import photo
from bot.wording.buttons import Button
from bot.wording.clients import NEED_NAMES, phones
from bot.wording.hazard_texts import TEXTS
from bot.wording.measures import Measures, minutes, sentence, times
from bot.wording.speech import Sentences, bold, joined, parcel, quoted, says, theirs
from scheduling.clients import opening_of
from scheduling.meaning import (
    Alert,
    OrderLessGentle,
    OrderRefused,
    OrderTaken,
    OrderTold,
    PhotoCame,
    SecondTold,
)
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


def order_told(said: OrderTold, m: Measures) -> Parcel:
    """To the owner: what the builder ordered."""
    why = f"The reason given: {quoted(said.why)}" if said.why else None
    return parcel(_ordered(said, m), why, buttons=[[buttons.what_now()]])


def _ordered(said: OrderTold, m: Measures) -> str:
    span = m.span(said.first, said.last) if said.first is not None else "these days"
    match said.what:
        case "held":
            return (
                "No fire until further word, by order of your builder. One that burns is left to "
                "die: add nothing."
            )
        case "released":
            return "Your builder allows fires again. I’ll write before the next one."
        case "capped":
            if said.cap_c is None:
                return "Your builder has lifted the cap. I’ll tell you the aim before each fire."
            return (
                f"No fire goes above {bold(m.degrees(said.cap_c))} until further word, by order of "
                "your builder."
            )
        case "limits":
            return "Your builder has set limits of their own for your oven, and I keep to them."
        case "repeat":
            return "Your builder wants the last fire done once more, no higher than before."
        case "moved":
            return f"No fire before {bold(span)}, by order of your builder."
        case "forbidden":
            return f"No fire {bold(span)}, by order of your builder."
        case "taken_back":
            return "Your builder has taken an earlier order back. I’ll tell you if days change."
        case "closed":
            return (
                "Your builder has looked into what was reported: fires may go on, no hotter than "
                "before."
            )
        case _:
            return "Your builder has changed something. “What now?” tells you how things stand."


def order_taken(said: OrderTaken, m: Measures) -> Parcel:
    """To the builder: done, what exactly, and how to take it back."""
    oven = f"{theirs(said.oven)}: " if said.oven else ""
    named = "you, and that you confirmed it" if said.confirmed else "you"
    return parcel(
        f"{oven}{_taken(said, m)}." if oven else f"{sentence(_taken(said, m))}.",
        f"The owner has been told. The record names {named}.",
        buttons=[] if said.what in ("take_back", "close") else [[office_buttons.undo_order()]],
    )


def _taken(said: OrderTaken, m: Measures) -> str:
    match said.what:
        case "hold":
            return "all fires are on hold" + (
                "; the one that burns is left to die" if said.lit else ""
            )
        case "release":
            return "fires are allowed again"
        case "cap" if said.cap_c is None:
            return "the cap is lifted"
        case "cap":
            return f"no fire goes above {bold(m.degrees(said.cap_c or 0.0))}"
        case "limit":
            return "the limit is set"
        case "repeat":
            return "the last fire is to be done once more, no higher than before"
        case "move" if said.first is not None:
            return f"no fire before {m.dated(said.first)}"
        case "forbid" if said.first is not None and said.last in (None, said.first):
            return f"no fire on {m.dated(said.first)}"
        case "forbid" if said.first is not None:
            return f"no fire {m.on_span(said.first, said.last)}"
        case "take_back":
            return "the order is taken back"
        case "close":
            return "the matter is closed, and fires may go on, no hotter than before"
        case _:
            return "the order holds"


def less_gentle(said: OrderLessGentle, m: Measures) -> Parcel:
    """To the builder: this is less gentle; in so many words?"""
    numbers = None
    if said.what == "cap":
        before = "none" if said.from_value is None else m.degrees(said.from_value)
        after = "none" if said.to_value is None else m.degrees(said.to_value)
        numbers = f"The cap would go from {before} to {bold(after)}."
    elif said.from_value is not None and said.to_value is not None:
        numbers = f"It would go from {said.from_value:g} to {bold(f'{said.to_value:g}')}."
    if said.undoes:
        numbers = f"It takes this back: {_undone(said, m)}."
    oven = f"{theirs(said.oven)}: n" if said.oven else "N"
    return parcel(
        f"{oven}othing is changed yet: this makes the plan less gentle.",
        joined(
            numbers,
            "If you are sure, type “confirmed” with your reason, like “confirmed, I looked at it "
            "today”. The record will name you.",
        ),
    )


def _undone(said: OrderLessGentle, m: Measures) -> str:
    if said.undoes in ("capped", "repeat_ordered") and said.cap_c is not None:
        return f"no fire above {m.degrees(said.cap_c)}"
    if said.undoes == "moved" and said.first is not None:
        return f"no fire before {m.dated(said.first)}"
    if said.undoes == "forbidden" and said.first is not None:
        return f"no fire {m.on_span(said.first, said.last)}"
    return {"held": "all fires on hold", "limits_set": "limits of yours"}.get(
        said.undoes, "an order of yours"
    )


def order_refused(said: OrderRefused, _: Measures) -> Parcel:
    """To the builder: it cannot be."""
    why = {
        "only_seen_there": "only somebody at the oven can see that it is over, and cold. They are "
        "asked; or ring them",
        "no_such_order": "there is no such order or open matter. The journal shows the numbers",
        "in_the_past": "that day is over, or none was named. Give a day to come",
        "out_of_range": "the number is not a likely one. Give one in the usual range",
        "nothing_fired": "no fire has been made yet",
        "not_yours": "there is nothing here under that name",
    }.get(said.why, "it does not fit how the oven stands")
    return parcel(f"Not done: {why}.")


SENTENCES: Sentences = dict(
    (
        says(Alert, alert),
        says(PhotoCame, photo_came),
        says(SecondTold, second_told),
        says(OrderTold, order_told),
        says(OrderTaken, order_taken),
        says(OrderLessGentle, less_gentle),
        says(OrderRefused, order_refused),
    )
)
