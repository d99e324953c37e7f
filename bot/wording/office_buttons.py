"""Buttons of a builder's people: lists, cards, cases, talk and orders."""

from typing import Literal

from bot.wording.buttons import Button, command
from scheduling.choice import (
    Boarding,
    Casing,
    Choice,
    ClientGroup,
    CommandName,
    Listing,
    Opening,
    Ordering,
    OrderingFor,
    OrderName,
    Talking,
)

PartName = Literal["card", "plan", "picture", "journal", "orders"]


def client(label: str, oven: str, part: PartName = "card", about: Opening | None = None) -> Button:
    """Open a client's card, or a part of it; ``about`` is what was told of them."""
    return label, (about or Opening()).model_copy(update={"oven": oven, "part": part})


def clients(label: str, group: ClientGroup = "all") -> Button:
    """The list of clients, of one group."""
    return label, Listing(group=group)


def page(label: str, asked: Listing, number: int) -> Button:
    """A page of what was asked for."""
    return label, asked.model_copy(update={"page": number})


def all_fires() -> Button:
    """A picture of all fires that burn now."""
    return "All fires now", Boarding()


def take_case() -> Button:
    """Somebody of the team looks after it."""
    return "I’ll take it", Casing(what="take")


def take_over_case() -> Button:
    """From another of the team."""
    return "Take it over", Casing(what="take_over")


def on_it() -> Button:
    """Who has the case has seen what is new in it."""
    return "I’m on it", Casing(what="take")


def this_card(about: Opening | None = None) -> Button:
    """The card of the client that a message is about."""
    return "Open the card", about or Opening()


def hand_back_case() -> Button:
    """They no longer do."""
    return "Hand it back", Casing(what="hand_back")


def close_case() -> Button:
    """Nothing is left to do."""
    return "Done with it", Casing(what="close")


def talk() -> Button:
    """Speak with the owner through the bot."""
    return "Talk to them", Talking(what="open")


def say_it(text: str, photo: str | None = None) -> Button:
    """It is for the owner."""
    return "Say it to them", Talking(what="say", text=text, photo=photo)


def talk_over() -> Button:
    """The talk is over."""
    return "End the talk", Talking(what="close")


def hold() -> Button:
    """No fire until further word."""
    return "Hold their fires", Ordering(name=OrderName.HOLD)


def release() -> Button:
    """Fires may go on: it is asked back in so many words."""
    return "Allow their fires again", Ordering(name=OrderName.RELEASE)


def repeat_fire() -> Button:
    """The last fire once more."""
    return "Repeat their last fire", Ordering(name=OrderName.REPEAT)


def looked(label: str, trouble: str) -> Button:
    """A trouble was looked at: it is asked back in so many words."""
    return label, Ordering(name=OrderName.CLOSE, field=trouble)


def take_order_back(label: str, seq: int) -> Button:
    """An order holds no longer."""
    return label, Ordering(name=OrderName.TAKE_BACK, value=float(seq))


def give_for(label: str, order: OrderingFor) -> Button:
    """An order that was typed, for these ovens and no others."""
    return label, order


def do_it(label: str, choice: Choice) -> Button:
    """What was typed in a talk is for the bot."""
    return label, choice


def record_paper() -> Button:
    """The record of an oven, as a paper."""
    return command("The record as a paper", CommandName.RECORD)


def own_oven() -> Button:
    """Back from the clients to the builder's own oven."""
    return command("My own oven", CommandName.NOW)


def builders_help() -> Button:
    """What a builder can type."""
    return command("What can I type?", CommandName.HELP)
