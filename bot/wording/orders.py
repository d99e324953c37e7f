"""Sentences of a builder's orders for one oven, to the builder and to its owner."""

from bot.wording import buttons, office_buttons
from bot.wording.buttons import Button
from bot.wording.measures import Measures, sentence
from bot.wording.speech import Sentences, bold, joined, lines, parcel, quoted, says, theirs
from scheduling.meaning import (
    JournalLine,
    OrderLessGentle,
    OrderRefused,
    OrderTaken,
    OrderTold,
)
from scheduling.ports import Parcel


def standing(one: JournalLine, m: Measures) -> str:
    """An order as it stands: "no fire on Saturday"."""
    match one.what:
        case "held":
            return "all fires on hold"
        case "capped" if one.value is not None:
            return f"no fire above {m.degrees(one.value)}"
        case "capped":
            return "the cap lifted"
        case "released":
            return "fires allowed again"
        case "limits_set":
            return "limits of your own"
        case "repeat_ordered" if one.value is not None:
            return f"the last fire once more, no higher than {m.degrees(one.value)}"
        case "moved" if one.day is not None:
            return f"no fire before {m.dated(one.day)}"
        case "forbidden" if one.day is not None and one.last in (None, one.day):
            return f"no fire on {m.dated(one.day)}"
        case "forbidden" if one.day is not None:
            return f"no fire {m.on_span(one.day, one.last)}"
        case _:
            return "an order of yours"


def order_told(said: OrderTold, m: Measures) -> Parcel:
    """To the owner: what the builder ordered."""
    why = f"The reason given: {quoted(said.why)}" if said.why else None
    return parcel(_ordered(said, m), _still(said, m), why, buttons=[[buttons.what_now()]])


def _ordered(said: OrderTold, m: Measures) -> str:
    span = m.span(said.first, said.last) if said.first is not None else "these days"
    match said.what:
        case "held":
            return (
                "No fire until further word, by order of your builder. One that burns is left to "
                "die: add nothing."
            )
        case "released" if said.stays:
            return "Your builder has lifted the hold."
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
            what = f": {_theirs(said.undone, m)}" if said.undone is not None else ""
            return f"Your builder has taken an order back{what}. I’ll tell you if days change."
        case "closed":
            return (
                "Your builder has looked into what was reported: fires may go on, no hotter than "
                "before."
            )
        case _:
            return "Your builder has changed something. “What now?” tells you how things stand."


def _theirs(one: JournalLine, m: Measures) -> str:
    """An order as its owner reads it."""
    return "limits of theirs" if one.what == "limits_set" else standing(one, m)


def _still(said: OrderTold, m: Measures) -> str | None:
    """To the owner: what still stands, so that nobody lights on the strength of one word."""
    if not said.stays:
        return None
    lead = "These orders of your builder still stand:"
    if said.day is not None:
        lead = f"There is still no fire {m.on_day(said.day)}, by these orders:"
    return f"{lead}\n{lines(_theirs(one, m) for one in said.stays)}"


def order_taken(said: OrderTaken, m: Measures) -> Parcel:
    """To the builder: done, what exactly, what stays besides, and how to take it back."""
    oven = f"{theirs(said.oven)}: " if said.oven else ""
    named = "you, and that you confirmed it" if said.confirmed else "you"
    rows = [_take_back(one, m) for one in said.stays[:4]]
    if said.what not in ("take_back", "close") and said.seq is not None:
        rows.append([office_buttons.take_order_back("Take the order back", said.seq)])
    return parcel(
        f"{oven}{_taken(said, m)}." if oven else f"{sentence(_taken(said, m))}.",
        stays(said, m),
        f"The owner has been told. The record names {named}.",
        buttons=rows,
    )


def stays(said: OrderTaken | OrderLessGentle, m: Measures) -> str | None:
    """What still stands once an order is taken back."""
    if not said.stays:
        opens = isinstance(said, OrderTaken) and said.day is not None
        return f"Nothing else closes {m.day(said.day)}." if opens and said.day is not None else None
    done = isinstance(said, OrderTaken)
    lead = "Still standing:" if done else "These would still stand:"
    if said.day is not None:
        still = "is still closed" if done else "would still be closed"
        lead = f"{sentence(m.day(said.day))} {still} by:"
    return f"{lead}\n{lines(standing(one, m) for one in said.stays)}"


def _take_back(one: JournalLine, m: Measures) -> list[Button]:
    return [office_buttons.take_order_back(f"Take back: {standing(one, m)}", one.seq)]


def _taken(said: OrderTaken, m: Measures) -> str:
    match said.what:
        case "hold":
            return "all fires are on hold" + (
                "; the one that burns is left to die" if said.lit else ""
            )
        case "release" if said.stays:
            return "the hold is lifted"
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
        case "take_back" if said.undone is not None:
            return f"this no longer holds: {standing(said.undone, m)}"
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
    if said.undone is not None:
        numbers = f"It takes this back: {standing(said.undone, m)}."
    oven = f"{theirs(said.oven)}: n" if said.oven else "N"
    return parcel(
        f"{oven}othing is changed yet: this makes the plan less gentle.",
        joined(
            numbers,
            "If you are sure, type “confirmed” with your reason, like “confirmed, I looked at it "
            "today”. The record will name you.",
        ),
        stays(said, m),
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
        "held_already": "they are on hold already",
    }.get(said.why, "it does not fit how the oven stands")
    return parcel(f"Not done: {why}.")


SENTENCES: Sentences = dict(
    (
        says(OrderTold, order_told),
        says(OrderTaken, order_taken),
        says(OrderLessGentle, less_gentle),
        says(OrderRefused, order_refused),
    )
)
