"""Sentences about invitations and teams."""

from bot.wording import buttons
from bot.wording.attached import QR
from bot.wording.measures import Measures
from bot.wording.speech import Sentences, bold, parcel, says, theirs
from scheduling.meaning import (
    InvitationMade,
    InvitationRevoked,
    InvitationsShown,
    InvitationUsed,
    InvitationYours,
    OpenInvitation,
)
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
    return parcel(
        f"Pass this message on{to}, as it is. It is good once, until {until}.",
        f"{_asks(said)}\n{how}{bold(said.code)}",
        ring if said.phone else None,
        buttons=[[buttons.revoke("Take it back", said.invitation)]],
        attachments=(_qr(said),),
    )


def _asks(said: InvitationMade) -> str:
    by = theirs(said.builder) or "your builder"
    match said.opens:
        case "oven":
            asked = f"{by} invites you to let me lead you through the first fires of your oven."
        case "second":
            asked = (
                "will you help to tend the first fires of a new oven? I lead them in this chat, "
                "and ask all who tend it; whoever answers first counts."
            )
        case _:
            whose = (
                f"the clients of {theirs(said.builder)}" if said.builder else "a builder’s clients"
            )
            asked = f"will you look after {whose} together with them?"
    return f"{theirs(said.name)}, {asked}" if said.name else asked[0].upper() + asked[1:]


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
    more = f"And {said.more} more, which are shown once these are gone." if said.more else None
    return parcel(
        "Tap one to take it back. These are open:",
        "\n".join(listed_ones),
        more,
        buttons=[
            [buttons.revoke(f"{number}. {theirs(one.name) or OPENED[one.opens]}", one.id)]
            for number, one in enumerate(said.open, 1)
        ],
    )


def _line(one: OpenInvitation, m: Measures) -> str:
    whose = f"{theirs(one.name)}, {OPENED[one.opens]}" if one.name else OPENED[one.opens]
    until = m.dated(one.expires_at.astimezone(m.zone).date())
    phone = f", {theirs(one.phone)}" if one.phone else ""
    made = m.day(one.made_at.astimezone(m.zone).date())
    return f"{whose}, made {made}, good until {until}{phone}"


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
