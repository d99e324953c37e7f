"""Sentences of a builder's list, of the board of fires, and of the morning's digest."""

from bot.wording import buttons, office_buttons
from bot.wording.attached import board_picture, photo
from bot.wording.buttons import Button
from bot.wording.clients import NEED_NAMES, button_name, client_name, numbered
from bot.wording.measures import Measures, counted, duration, sentence
from bot.wording.speech import Sentences, bold, joined, parcel, quoted, says, theirs
from scheduling.choice import ClientGroup, Listing, Opening
from scheduling.meaning import (
    AlertsGathered,
    BoardShown,
    ClientLine,
    Counts,
    Digest,
    NoClient,
    OfficeHelp,
    OpenInvitation,
    RosterShown,
    WhichClient,
)
from scheduling.ports import Parcel

PAGE = 8
"""Clients on a page: what a phone shows without scrolling."""

GROUP_NAMES: dict[str, str] = {
    "all": "All clients",
    "needs": "Who needs you",
    "firing": "Fires burning",
    "planned": "Fires to come",
    "held": "On hold",
    "curing": "Mortar hardening",
    "set_up": "Being set up",
    "invited": "Invited, and not here yet",
    "done": "Done",
    "mine": "Your cases",
}

EMPTY: dict[str, str] = {
    "all": "No clients yet. As soon as an owner comes with your invitation, they stand here.",
    "needs": "Nobody needs you now.",
    "firing": "No fire burns now.",
    "planned": "No fire is planned.",
    "held": "Nobody is on hold.",
    "curing": "Nobody’s mortar is still hardening.",
    "set_up": "Nobody is being set up.",
    "invited": "Everybody whom you invited is here.",
    "done": "Nobody has finished yet.",
    "mine": "You have no case now.",
}


def roster_shown(said: RosterShown, m: Measures) -> Parcel:
    """The list: how many need somebody comes first."""
    page = f"Page {said.asked.page + 1} of {said.pages}." if said.pages > 1 else None
    first = said.asked.page * PAGE + 1
    if said.asked.group == "invited":
        listed_ones = "\n".join(
            f"{number}. {_invited(one, m)}" for number, one in enumerate(said.invited, first)
        )
    else:
        listed_ones = numbered(said.lines, m, first)
    return parcel(
        joined(_summary(said.counts), _heading(said, m), page),
        listed_ones or _nobody(said),
        buttons=[
            *_client_rows(said.lines, first),
            _turning(said),
            *_filters(said),
        ],
    )


def _heading(said: RosterShown, m: Measures) -> str | None:
    """What was looked for, and how many were found."""
    asked = said.asked
    told = [NEED_NAMES.get(need, need) for need in asked.needs[:1]]
    told += [GROUP_NAMES[asked.group].lower()] if asked.group not in ("all", "needs") else []
    told += [quoted(asked.text)] if asked.text else []
    told += [f"next fire {m.on_day(asked.day)}"] if asked.day is not None else []
    told += [f"in {theirs(asked.place).title()}"] if asked.place else []
    if not told:
        return None
    if len(told) == 1 and not asked.text and not asked.needs and asked.day is None:
        return f"{sentence(told[0])}: {said.total}."
    return f"{counted(said.total, 'client').capitalize()} found: {', '.join(told)}."


def _invited(one: OpenInvitation, m: Measures) -> str:
    """Somebody who has not come yet."""
    phone = f" {theirs(one.phone)}" if one.phone else ""
    until = m.dated(one.expires_at.astimezone(m.zone).date())
    ago = duration(m.now - one.made_at)
    return f"{theirs(one.name) or 'Somebody'}: invited {ago} ago, good until {until}.{phone}"


def _summary(counts: Counts) -> str:
    """Everything in one line; what needs somebody in bold, or that nobody does."""
    if not counts.all:
        return f"No clients; {counts.invited} invited." if counts.invited else "No clients."
    if counts.danger:
        need = f"{counts.danger} in danger"
        head = bold(need + (f", {counts.look} to look at" if counts.look else ""))
    elif counts.look:
        head = bold(f"{counts.look} to look at")
    else:
        head = bold("Nobody needs you")
    named = (
        (counts.burning, "burning"),
        (counts.to_come, "planned"),
        (counts.on_hold, "on hold"),
        (counts.curing, "with mortar still hardening"),
        (counts.set_up, "being set up"),
        (counts.done, "done"),
        (counts.invited, "invited and not here yet"),
    )
    rest = [f"{count} {name}" for count, name in named if count]
    return " · ".join([head, *rest]) + "."


def _nobody(said: RosterShown) -> str:
    """What there is to say of an empty list; nothing where the heading has said it."""
    asked = said.asked
    looked_for = asked.text or asked.needs or asked.place or asked.day is not None
    return "" if looked_for else EMPTY[asked.group]


def _client_rows(lines: tuple[ClientLine, ...], first: int) -> list[list[Button]]:
    shown = [
        office_buttons.client(
            button_name(first + index, line),
            line.oven_id,
            about=Opening(about=line.needs or "", words=line.words, photos=line.photos),
        )
        for index, line in enumerate(lines)
    ]
    return [shown[index : index + 2] for index in range(0, len(shown), 2)]


def _turning(said: RosterShown) -> list[Button]:
    row = []
    number = said.asked.page
    if number > 0:
        row.append(office_buttons.page("‹ Before", said.asked, number - 1))
    if number + 1 < said.pages:
        row.append(office_buttons.page("Next ›", said.asked, number + 1))
    return row


def _filters(said: RosterShown) -> list[list[Button]]:
    counts, asked = said.counts, said.asked
    offered: tuple[tuple[int, str, ClientGroup], ...] = (
        (counts.needs, "Need you", "needs"),
        (counts.burning, "Burning", "firing"),
        (counts.to_come, "Planned", "planned"),
        (counts.on_hold, "On hold", "held"),
        (counts.invited, "Invited", "invited"),
    )
    wanted = [
        office_buttons.clients(f"{name}: {count}", group)
        for count, name, group in offered
        if count and asked.group != group
    ]
    if asked.group == "invited" and said.invited:
        wanted.append(buttons.invitations())
    if asked != Listing(page=asked.page):
        wanted.append(office_buttons.clients("All clients"))
    last = [office_buttons.all_fires()] if counts.burning else []
    last += [office_buttons.own_oven()] if said.own else []
    return [wanted[:3], [*wanted[3:], *last]]


def which_client(said: WhichClient, m: Measures) -> Parcel:
    """Several of one name."""
    more = said.total - len(said.lines)
    return parcel(
        f"{counted(said.total, 'client').capitalize()} are called {quoted(said.text)}; which?",
        numbered(said.lines, m),
        f"And {more} more: type more of the name, or the place." if more > 0 else None,
        buttons=_client_rows(said.lines, 1),
    )


def no_client(said: NoClient, _: Measures) -> Parcel:
    """Nobody of that name."""
    if not said.any:
        return parcel(EMPTY["all"])
    told = f"I find nobody for {quoted(said.text)}." if said.text else "I find nobody."
    return parcel(
        joined(told, "Try part of a name or a place, or open the list."),
        buttons=[[office_buttons.clients("All clients"), office_buttons.builders_help()]],
    )


def alerts_gathered(said: AlertsGathered, m: Measures) -> Parcel:
    """Several clients at once, each with what they wrote and showed."""
    count = len({line.oven_id for line in said.lines})
    return parcel(
        bold(f"{counted(count, 'client').capitalize()} need{'s' * (count == 1)} somebody now."),
        numbered(said.lines, m, to_act=True),
        "Open one and take it, so that two do not answer.",
        buttons=[*_client_rows(said.lines, 1), [office_buttons.clients("Who needs you", "needs")]],
        attachments=[
            shown
            for line in said.lines
            for one in line.photos
            for shown in photo(one, f"A photo sent from the oven of {client_name(line)}.")
        ],
    )


def digest(said: Digest, m: Measures) -> Parcel:
    """The morning's digest."""
    more = said.counts.needs - len(said.needs)
    greeting = f"Good morning{', ' + theirs(said.name) if said.name else ''}."
    board = [office_buttons.all_fires()] if said.counts.burning else []
    return parcel(
        joined(greeting, _summary(said.counts)),
        numbered(said.needs, m, to_act=True) if said.needs else None,
        f"And {more} more to look at." if more > 0 else None,
        _due_today(said),
        f"You still have: {_names(said.mine, said.mine_total)}." if said.mine else None,
        buttons=[*_client_rows(said.needs, 1), [office_buttons.clients("All clients"), *board]],
    )


def _due_today(said: Digest) -> str | None:
    if not said.fires_today:
        return None
    due = counted(said.fires_today, "fire").capitalize()
    return f"{due} due today: {_names(said.today, said.fires_today)}."


def _names(lines: tuple[ClientLine, ...], total: int) -> str:
    more = total - len(lines)
    others = f" and {more} more" if more > 0 else ""
    return ", ".join(client_name(line) for line in lines) + others


def board_shown(said: BoardShown, m: Measures) -> Parcel:
    """All fires in one picture."""
    if not said.fires:
        return parcel("No fire burns now.", buttons=[[office_buttons.clients("All clients")]])
    more = said.total - len(said.fires)
    return parcel(
        f"{counted(said.total, 'fire').capitalize()} burning {m.at_clock(m.now)}.",
        f"The {len(said.fires)} that matter most are drawn." if more > 0 else None,
        buttons=[
            [
                office_buttons.clients("Fires burning", "firing"),
                office_buttons.clients("All clients"),
            ]
        ],
        attachments=board_picture(said.fires, said.total, m),
    )


def office_help(said: OfficeHelp, m: Measures) -> Parcel:
    """What a builder can type."""
    open_ = (
        f"{theirs(said.oven)} lies open. For them you can type: “hold”, “{m.example_cap}”, "
        "“repeat”, "
        "“no fire till Monday”, “not before Saturday”, “note: …”, “talk”, “take it”, “take back”."
        if said.oven
        else f"Open a client for orders: “hold”, “{m.example_cap}”, “repeat”, "
        "“no fire till Monday”, "
        "“note: …”, “talk”."
    )
    return parcel(
        "I did not understand that, and nothing is changed." if said.strange else None,
        "Type part of a name or a place to find a client, “list” for all, “needs” for those who "
        "need you, “fires” for a picture of all that burn, “week” for those to come. Or what you "
        "look for: “crack”, “silent”, “on hold” after “who is”, “tomorrow”, “in Leeds”.",
        open_,
        "An order with a name in it is for that client, whoever lies open: “hold Rosa”. Answer one "
        "of my messages, and it is for that oven. “Hold all, storm” or “hold everyone in Leeds” I "
        "list first, and ask once.",
        "What makes a plan less gentle I do only after the word “confirmed”.",
        "“/invite” and a name brings a client; “oven” on their card shows what it is made of, for "
        "you to fill in. /import and /export are for many at once. /ways is how you break ovens "
        "in, /team who works with you, /statistics what your ovens add up to. “Call me …” and “my "
        "town is …” say who and where you are.",
        "“My oven” leads back to your own." if said.own else None,
        buttons=[
            [
                office_buttons.clients("All clients"),
                *([office_buttons.own_oven()] if said.own else []),
            ],
        ],
    )


SENTENCES: Sentences = dict(
    (
        says(RosterShown, roster_shown),
        says(WhichClient, which_client),
        says(NoClient, no_client),
        says(AlertsGathered, alerts_gathered),
        says(Digest, digest),
        says(BoardShown, board_shown),
        says(OfficeHelp, office_help),
    )
)
