"""Sentences to the builder's side, to a second person, and of a builder's orders."""

from bot.wording import buttons
from bot.wording.attached import photo
from bot.wording.measures import Measures, minutes
from bot.wording.speech import Sentences, bold, joined, parcel, quoted, says, theirs
from scheduling.meaning import (
    Alert,
    OrderLessGentle,
    OrderRefused,
    OrderTaken,
    OrderTold,
    SecondTold,
)
from scheduling.ports import Parcel

NEEDS: dict[str, str] = {
    "unwell": "Somebody is unwell or burnt. Ring them now: they were told to call for help.",
    "popping": "Popping or flaking reported. They were told to let the fire die.",
    "flue_flames": "Flames in the flue. They were told to starve it and call the fire service.",
    "crack": "An open crack reported. No fire goes on until you have looked.",
    "lit_early": "A fire was lit too early. They were told to let it die.",
    "too_hot": "The dome is far too hot. They were told to rake the fire apart.",
    "silent": "A fire is lit and nobody answers. Try to reach them.",
    "undelivered": "My messages do not arrive. Try another way.",
    "mortar": "Hard frost in the first days: the mortar has to be looked at.",
    "instrument": "The thermometer ends below what the last fires need.",
    "forecast": "The forecast is against the next fire.",
    "waiting_for_answer": "A question has been left open for long.",
    "slipping": "The days keep slipping.",
}
"""Why somebody should look at an oven, in the words of an alert."""

NEED_NAMES: dict[str, str] = {
    "unwell": "unwell or burnt",
    "popping": "popping or flaking",
    "flue_flames": "flames in the flue",
    "crack": "open crack",
    "lit_early": "lit too early",
    "too_hot": "too hot",
    "silent": "lit and silent",
    "undelivered": "not reached",
    "mortar": "frost in the mortar",
    "instrument": "thermometer too small",
    "forecast": "poor forecast",
    "waiting_for_answer": "answer outstanding",
    "slipping": "days slipping",
}
"""The same for a line of a list."""

PHASE_NAMES: dict[str, str] = {
    "set_up": "being set up",
    "curing": "curing",
    "waiting": "between fires",
    "firing_day": "fire today",
    "lit": "fire burning",
    "embers": "burning down",
    "held": "on hold",
    "done": "done",
    "left": "left by its owner",
}
"""How an oven stands, for a line of a list."""


def alert(said: Alert, m: Measures) -> Parcel:
    """Somebody needs the builder."""
    told = NEEDS.get(said.needs, "Somebody has to look at this oven.")
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
    return parcel(
        f"{oven}{told}",
        "; ".join(facts) + ".",
        f"Note: {theirs(said.detail)}" if said.detail else None,
        attachments=photo(said.photo, "A photo from the owner of what was reported."),
    )


def second_told(said: SecondTold, m: Measures) -> Parcel:
    """To a second person: can you look?"""
    last = (
        f"The last reading was {bold(m.degrees(said.top_c))}." if said.top_c is not None else None
    )
    return parcel(
        "Can you look after the oven fire, please? Add nothing, and look first whether everybody "
        "is well.",
        joined(
            f"It is lit, and I have had no answer for {minutes(said.minutes)}.",
            last,
            "Then send me the top of the dome as a number.",
        ),
        buttons=[[buttons.at_the_fire(), buttons.fire_out()], [buttons.unwell()]],
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
            return "Your builder has set own limits for your oven, and I keep to them."
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


ORDER_NAMES: dict[str, str] = {
    "hold": "All fires are on hold",
    "release": "Fires are allowed again",
    "cap": "The cap holds",
    "limit": "The limit is set",
    "repeat": "The last fire is to be done again",
    "move": "The next fire is moved",
    "forbid": "Those days are closed",
    "take_back": "The order is taken back",
    "close": "The matter is closed",
}


def order_taken(said: OrderTaken, _: Measures) -> Parcel:
    """To the builder: done."""
    return parcel(
        f"{ORDER_NAMES.get(said.what, 'The order holds')}. The owner has been told, and the record "
        "names you."
    )


def less_gentle(said: OrderLessGentle, m: Measures) -> Parcel:
    """To the builder: this is less gentle; in so many words?"""
    numbers = None
    if said.what == "cap":
        before = "none" if said.from_value is None else m.degrees(said.from_value)
        after = "none" if said.to_value is None else m.degrees(said.to_value)
        numbers = f"The cap would go from {before} to {bold(after)}."
    elif said.from_value is not None and said.to_value is not None:
        numbers = f"It would go from {said.from_value:g} to {bold(f'{said.to_value:g}')}."
    return parcel(
        "Nothing is changed yet: this makes the plan less gentle.",
        joined(
            numbers,
            "If you are sure, order it again with the word “confirmed” and your reason. The record "
            "will name you.",
        ),
    )


def order_refused(said: OrderRefused, _: Measures) -> Parcel:
    """To the builder: it cannot be."""
    why = {
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
        says(SecondTold, second_told),
        says(OrderTold, order_told),
        says(OrderTaken, order_taken),
        says(OrderLessGentle, less_gentle),
        says(OrderRefused, order_refused),
    )
)
