"""Sentences about invitations and teams."""

from bot.wording import buttons
from bot.wording.attached import QR
from bot.wording.buttons import Button
from bot.wording.measures import Measures, counted
from bot.wording.preparing_buttons import make_up
from bot.wording.speech import Sentences, bold, joined, parcel, says, theirs
from scheduling.meaning import (
    InvitationMade,
    InvitationRevoked,
    InvitationsShown,
    InvitationUsed,
    InvitationYours,
    OpenInvitation,
)
from scheduling.meaning.people import Opening
from scheduling.ports import Attachment, Parcel

OPENED = {
    "oven": "a new oven",
    "second": "a second person at the fire",
    "member": "a team member",
}
"""What an invitation opens, for a line of a list."""


def made(said: InvitationMade, m: Measures) -> Parcel:
    """An invitation: one line for who made it, the rest for whoever it is for."""
    to = f" to {theirs(said.name)}" if said.name else ""
    until = m.dated(said.expires_at.astimezone(m.zone).date())
    how = (
        f"Open {said.link} and tap Start, or scan the picture. Or send me this code: "
        if said.link
        else "Send me this code, or scan it from the picture: "
    )
    ring = f"I keep their number, to ring them on if a fire worries you: {theirs(said.phone)}"
    renewed = "The code before opens nothing any more." if said.renewed else None
    filled = f"{counted(said.filled, 'answer')} filled in" if said.filled else "their oven"
    client = (
        [make_up(f"See {filled}" if said.filled else "Fill in their oven", "", said.invitation)]
        if said.opens == "oven"
        else []
    )
    return parcel(
        joined(f"Pass this message on{to}, as it is. It is good once, until {until}.", renewed),
        f"{asks(said.opens, said.name, said.builder)}\n{how}{bold(said.code)}",
        ring if said.phone else None,
        buttons=[client, [buttons.revoke("Take it back", said.invitation)]],
        attachments=(_qr(said),),
    )


def asks(opens: Opening, name: str, builder: str) -> str:
    """What an invitation asks of whom it is for."""
    by = theirs(builder) or "your builder"
    match opens:
        case "oven":
            asked = f"{by} invites you to let me lead you through the first fires of your oven."
        case "second":
            asked = (
                "will you help to tend the first fires of a new oven? I lead them in this chat, "
                "and ask all who tend it; whoever answers first counts."
            )
        case _:
            whose = f"the clients of {theirs(builder)}" if builder else "a builder’s clients"
            asked = f"will you look after {whose} together with them?"
    return f"{theirs(name)}, {asked}" if name else asked[0].upper() + asked[1:]


def _qr(said: InvitationMade) -> Attachment:
    whole = said.link or said.code
    shows = "the link above" if said.link else "the code above"
    return Attachment(
        kind=QR,
        name="invitation.png",
        data={"content": whole},
        alt=f"A square code to scan; it holds {shows}.",
    )


def shown(said: InvitationsShown, m: Measures) -> Parcel:
    """All that are open, each to be taken back."""
    if not said.open:
        another = buttons.invite() if said.builder else buttons.invite_second()
        return parcel("No invitation is open.", buttons=[[another]])
    listed_ones = [f"{number}. {_line(one, m)}" for number, one in enumerate(said.open, 1)]
    more = f"And {said.more} more: “/invitations” and a name finds them." if said.more else None
    clients = any(one.opens == "oven" for one in said.open)
    tap = "Tap a client to fill in their oven or to take it back, anybody else to take it back."
    return parcel(
        f"{tap if clients else 'Tap one to take it back.'} These are open:",
        "\n".join(listed_ones),
        more,
        buttons=[[_button(number, one)] for number, one in enumerate(said.open, 1)],
    )


def _button(number: int, one: OpenInvitation) -> Button:
    label = f"{number}. {theirs(one.name) or OPENED[one.opens]}"
    if one.opens == "oven":
        return make_up(label, "", one.id)
    return buttons.revoke(label, one.id)


def _line(one: OpenInvitation, m: Measures) -> str:
    whose = f"{theirs(one.name)}, {OPENED[one.opens]}" if one.name else OPENED[one.opens]
    until = m.dated(one.expires_at.astimezone(m.zone).date())
    phone = f", {theirs(one.phone)}" if one.phone else ""
    made_on = m.day(one.made_at.astimezone(m.zone).date())
    filled = f", {counted(one.filled, 'answer')} filled in" if one.filled else ""
    return f"{whose}, made {made_on}, good until {until}{phone}{filled}"


def revoked(said: InvitationRevoked, _: Measures) -> Parcel:
    """It opens nothing any more."""
    for_whom = f" for {theirs(said.name)}" if said.name else ""
    return parcel(
        f"Taken back: the invitation{for_whom} opens nothing any more.",
        buttons=[[buttons.invitations()]],
    )


def yours(_: InvitationYours, __: Measures) -> Parcel:
    """They opened what is theirs to pass on."""
    return parcel(
        "Pass this invitation on, please: it is for somebody else, and still good.",
        buttons=[[buttons.invitations()]],
    )


def used(said: InvitationUsed, _: Measures) -> Parcel:
    """Somebody came by an invitation of theirs."""
    who = theirs(said.name) or "Somebody"
    what = {
        "oven": "I am asking about the oven now, and you see it from here on",
        "second": "They tend the fire with you from now on",
    }[said.opens]
    return parcel(f"{who} opened your invitation. {what}.")


SENTENCES: Sentences = dict(
    (
        says(InvitationMade, made),
        says(InvitationsShown, shown),
        says(InvitationRevoked, revoked),
        says(InvitationYours, yours),
        says(InvitationUsed, used),
    )
)
