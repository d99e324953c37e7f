"""Sentences of cases, notes, and talk between a builder and an owner."""

from bot.wording import buttons, office_buttons
from bot.wording.attached import photo
from bot.wording.clients import NEED_NAMES, phones
from bot.wording.measures import Measures
from bot.wording.speech import Sentences, joined, parcel, quoted, says, theirs
from scheduling.choice import Boarding, Listing, Opening, Ordering, OrderingFor
from scheduling.meaning import (
    BuilderLeft,
    BuilderSays,
    CaseTold,
    JottedTold,
    OrderOrWords,
    OrderUnclear,
    OwnerSays,
    TalkTold,
)
from scheduling.ports import Parcel


def case_told(said: CaseTold, m: Measures) -> Parcel:
    """Who has it now."""
    oven, by = theirs(said.oven), theirs(said.by) or "Somebody in the team"
    need = NEED_NAMES.get(said.needs or "", "")
    about = f"{oven} ({need})" if need else oven
    match said.what:
        case "taken" if said.mine:
            return parcel(
                f"You have {about}. The others see that.",
                phones(said.contacts),
                buttons=[
                    [office_buttons.talk(), office_buttons.hold()],
                    [office_buttons.this_card(), office_buttons.hand_back_case()],
                ],
                chats=said.contacts,
            )
        case "taken":
            return parcel(f"{by} has taken {about}. Nothing for you to do.")
        case "held":
            since = "" if said.since is None else f" since {m.clock(said.since)}"
            return parcel(
                f"{by} has had {about}{since}, so that two do not answer.",
                buttons=[[office_buttons.this_card(), office_buttons.take_over_case()]],
            )
        case "handed_back" if said.mine:
            return parcel(
                f"{about} is anybody’s again." + (" The others are told." if need else "")
            )
        case "handed_back":
            return parcel(
                f"{by} has handed {about} back: nobody has it now.",
                buttons=[[office_buttons.take_case(), office_buttons.this_card()]],
            )
        case "closed":
            left = f" Not settled yet: {need}." if need else ""
            return parcel(f"The case of {oven} is closed.{left}")
        case "over":
            return parcel(
                f"{oven}: nothing is wrong any more, so your case is closed.",
                buttons=[[office_buttons.this_card()]],
            )
        case _:
            return parcel(f"Nothing is wrong with {oven} now, so there is no case.")


def jotted_told(said: JottedTold, _: Measures) -> Parcel:
    """The note is kept."""
    shown = "They were shown it." if said.shown else "They do not see it."
    return parcel(f"Noted in {theirs(said.oven)}’s journal. {shown}")


def talk_told(said: TalkTold, _: Measures) -> Parcel:
    """How a talk stands."""
    oven, by = theirs(said.oven), theirs(said.by) or "Somebody in the team"
    match said.what:
        case "open":
            return parcel(
                f"What you type now goes to {oven}, under your name, and what they answer comes "
                "to you. I go on reading along.",
                "For an order, end the talk first.",
                buttons=[[office_buttons.talk_over()]],
            )
        case "passed":
            return parcel(f"Said to {oven}.", buttons=[[office_buttons.talk_over()]])
        case "over":
            return parcel(f"The talk with {oven} is over. What you type now is for me.")
        case "taken":
            return parcel(f"{by} is talking with {oven}, so that two do not answer.")
        case _:
            return parcel("There is no talk to end.")


def builder_says(said: BuilderSays, _: Measures) -> Parcel:
    """To the owner: somebody on the builder's side speaks."""
    name = theirs(said.name)
    who = f"{name}, your builder" if name else "your builder"
    words = quoted(said.text) if said.text else None
    ask = None if said.note else "Just answer here: it goes to them, and I read along."
    if words is None:
        lead = f"A photo from {who}."
    elif said.note:
        lead = f"A note from {who}:"
    else:
        lead = f"{name}, your builder, says:" if name else "Your builder says:"
    return parcel(
        joined(lead, words),
        ask,
        attachments=photo(said.photo, f"A photo from {who}, about your oven."),
    )


def builder_left(said: BuilderLeft, _: Measures) -> Parcel:
    """To the owner: the bot alone again."""
    name = theirs(said.name) or "Your builder"
    return parcel(f"{name} has left the talk. I’m here as before.", buttons=[[buttons.what_now()]])


def owner_says(said: OwnerSays, _: Measures) -> Parcel:
    """To the builder: the owner answers."""
    words = quoted(said.text) if said.text else "sent a photo."
    return parcel(
        f"{theirs(said.oven)}: {words}",
        buttons=[[office_buttons.talk_over()]],
        attachments=photo(said.photo, f"A photo sent from the oven of {theirs(said.oven)}."),
    )


def order_or_words(said: OrderOrWords, _: Measures) -> Parcel:
    """For the bot, or words for the owner?"""
    is_order = isinstance(said.choice, Ordering | OrderingFor)
    about = f" {'for' if is_order else 'about'} {theirs(said.about)}" if said.about else ""
    what = f"is that an order{about}" if is_order else f"is that{about or ' for me'}"
    lead = quoted(said.text) if said.text else "That photo"
    return parcel(
        f"{lead}: {what}, or for {theirs(said.oven)} to read? Nothing is done yet, nor said to "
        "them.",
        buttons=[
            [
                office_buttons.say_it(said.text, said.photo),
                office_buttons.do_it(_doing(said), said.choice),
            ],
            [office_buttons.talk_over()] if said.talking else [],
        ],
    )


def _doing(said: OrderOrWords) -> str:
    match said.choice:
        case Ordering() | OrderingFor():
            return "It is an order"
        case Opening():
            return f"Open {theirs(said.about)}" if said.about else "Open the card"
        case Listing() | Boarding():
            return "Show the list"
        case _:
            return "It is for you"


def order_unclear(said: OrderUnclear, m: Measures) -> Parcel:
    """An order that could not be read."""
    told = {
        "nobody_open": "For whom? Type the name with it, like “hold Rosa” or “hold all”; or open "
        "their card first.",
        "no_message": "I cannot tell whom that message is about. Type the name with it.",
        "day_for_all": "A hold lasts until you allow fires again. To close a day, type “no fire on "
        "Saturday”; for all whose fire is on that day, “hold all on Saturday”.",
        "who": f"I find nobody for {quoted(said.text)}. A reason goes behind a comma, like "
        "“hold, storm”.",
        "names": "Several are called so. Type more of each name.",
        "one_by_one": "That can only be said of one client at a time.",
        "nobody_meant": "No client is meant by that: of those there are it fits nobody.",
        "none_for_many": "There is no order for many of yours to take back.",
        "no_number": f"To what temperature? Type it like “{m.example_cap}”.",
        "two_numbers": f"Which of the numbers? Type just one, like “{m.example_cap}”.",
        "unit": "Is that °C or °F? Type it with its letter, like “cap 250 C”.",
        "no_day": "Which days? Type them like “no fire till Monday” or “no fire 3 to 7 June”.",
        "which_day": "Which day is that? Give the date, like “3 June”.",
        "nothing_to_confirm": "There is nothing to confirm. Type the order again.",
        "no_order": "No order of yours holds, so there is nothing to take back.",
        "no_trouble": "Nothing stands open that a look would close.",
        "edited": "A message that you edit changes nothing here. Type it once more.",
        "no_text": "What is the note? Type it like “note: crown looks good”.",
    }.get(said.why, "I could not read that order.")
    name = f"{theirs(said.oven)}: n" if said.oven else "N"
    rows = [[office_buttons.clients("All clients")]] if said.why in _LISTS else []
    return parcel(told, f"{name}othing is changed.", buttons=rows)


_LISTS = frozenset({"nobody_open", "no_message", "who", "nobody_meant"})
"""After these the list is the way on."""


SENTENCES: Sentences = dict(
    (
        says(CaseTold, case_told),
        says(JottedTold, jotted_told),
        says(TalkTold, talk_told),
        says(BuilderSays, builder_says),
        says(BuilderLeft, builder_left),
        says(OwnerSays, owner_says),
        says(OrderOrWords, order_or_words),
        says(OrderUnclear, order_unclear),
    )
)
