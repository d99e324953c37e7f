"""Sentences about where people can be rung."""

from bot.wording.measures import Measures
from bot.wording.speech import Sentences, joined, parcel, says, theirs
from scheduling.meaning import PhoneAsked, PhoneGiven, PhoneNoted, PhoneUnclear
from scheduling.ports import Parcel

OUT_AGAIN = "“Forget my number” takes it out again."


def asked(_: PhoneAsked, __: Measures) -> Parcel:
    """To an owner, once their oven is known."""
    return parcel(
        "On what number can your builder ring you, if a fire of yours worries them?",
        "Type it with its country, like +44 …, or share your contact here. Only your builder and "
        "their team see it. If you would rather not, just leave this.",
    )


def noted(said: PhoneNoted, _: Measures) -> Parcel:
    """Kept, or taken out."""
    number = theirs(said.phone)
    if said.oven:
        oven = theirs(said.oven)
        if not number:
            return parcel(f"I keep no number of {oven} any more. They are told.")
        return parcel(f"To ring {oven}: {number}", "They are told that you gave it to me.")
    if not number:
        return parcel("I keep no number of yours. To give me one, type “my phone is …”.")
    by = theirs(said.builder)
    who = f"{by} can ring you" if by else "A builder who looks after your oven could ring you"
    return parcel(f"{who} on {number}", joined("Nobody else sees it.", OUT_AGAIN))


def given(said: PhoneGiven, _: Measures) -> Parcel:
    """To an owner, of what their builder said."""
    by = theirs(said.by) or "Your builder"
    if not said.phone:
        return parcel(f"{by} has taken out the number that I had of you.")
    return parcel(
        f"{by} gave me this number, to ring you on if a fire worries them: {theirs(said.phone)}",
        joined("Another one? Type “my phone is …”.", OUT_AGAIN),
    )


def unclear(said: PhoneUnclear, _: Measures) -> Parcel:
    """Not kept, and what to type instead."""
    if said.whose:
        return parcel(
            "Whose number is that? Open the client first, then type it again.",
            "Nothing is kept.",
        )
    of = f" of {theirs(said.oven)}" if said.oven else ""
    return parcel(
        f"I cannot make a number{of} out of that. Type it with its country, like +44 7700 900123.",
        "Nothing is kept.",
    )


SENTENCES: Sentences = dict(
    (
        says(PhoneAsked, asked),
        says(PhoneNoted, noted),
        says(PhoneGiven, given),
        says(PhoneUnclear, unclear),
    )
)
