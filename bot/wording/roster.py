"""Sentences of a builder's list, of the board of fires, and of the morning's digest."""

from bot.wording import office_buttons
from bot.wording.attached import board_picture
from bot.wording.buttons import Button
from bot.wording.clients import button_name, client_name, numbered
from bot.wording.measures import Measures, counted
from bot.wording.speech import Sentences, bold, joined, parcel, quoted, says, theirs
from scheduling.meaning import (
    AlertsGathered,
    BoardShown,
    ClientLine,
    Counts,
    Digest,
    NoClient,
    OfficeHelp,
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
    "curing": "Curing",
    "done": "Done",
    "mine": "Your cases",
}

EMPTY: dict[str, str] = {
    "all": "No clients yet. As soon as an owner comes with your invitation, they stand here.",
    "needs": "Nobody needs you now.",
    "firing": "No fire burns now.",
    "planned": "No fire is planned.",
    "held": "Nobody is on hold.",
    "curing": "Nobody’s mortar is curing.",
    "done": "Nobody has finished yet.",
    "mine": "You have no case now.",
}


def roster_shown(said: RosterShown, m: Measures) -> Parcel:
    """The list: how many need somebody comes first."""
    heading = None
    if said.text:
        heading = f"{counted(said.total, 'client').capitalize()} found for {quoted(said.text)}."
    elif said.group not in ("all", "needs"):
        heading = f"{GROUP_NAMES[said.group]}: {said.total}."
    page = f"Page {said.page + 1} of {said.pages}." if said.pages > 1 else None
    first = said.page * PAGE + 1
    return parcel(
        joined(_summary(said.counts), heading, page),
        numbered(said.lines, m, first) if said.lines else _nobody(said),
        buttons=[
            *_client_rows(said.lines, first),
            _turning(said),
            *_filters(said),
        ],
    )


def _summary(counts: Counts) -> str:
    """Everything in one line; what needs somebody in bold, or that nobody does."""
    if not counts.all:
        return "No clients."
    if counts.danger:
        need = f"{counts.danger} in danger"
        head = bold(need + (f", {counts.look} to look at" if counts.look else ""))
    elif counts.look:
        head = bold(f"{counts.look} to look at")
    else:
        head = bold("Nobody needs you")
    named = (
        (counts.firing, "burning"),
        (counts.planned, "planned"),
        (counts.curing, "curing"),
        (counts.set_up, "being set up"),
        (counts.done, "done"),
    )
    rest = [f"{count} {name}" for count, name in named if count]
    return " · ".join([head, *rest]) + "."


def _nobody(said: RosterShown) -> str:
    return "Nobody is found." if said.text else EMPTY[said.group]


def _client_rows(lines: tuple[ClientLine, ...], first: int) -> list[list[Button]]:
    shown = [
        office_buttons.client(
            button_name(first + index, line), line.oven_id, about=line.needs or ""
        )
        for index, line in enumerate(lines)
    ]
    return [shown[index : index + 2] for index in range(0, len(shown), 2)]


def _turning(said: RosterShown) -> list[Button]:
    row = []
    if said.page > 0:
        row.append(office_buttons.clients("‹ Before", said.group, said.text, said.page - 1))
    if said.page + 1 < said.pages:
        row.append(office_buttons.clients("Next ›", said.group, said.text, said.page + 1))
    return row


def _filters(said: RosterShown) -> list[list[Button]]:
    counts = said.counts
    wanted: list[Button] = []
    if counts.needs and said.group != "needs":
        wanted.append(office_buttons.clients(f"Need you: {counts.needs}", "needs"))
    if counts.firing and said.group != "firing":
        wanted.append(office_buttons.clients(f"Burning: {counts.firing}", "firing"))
    if counts.planned and said.group != "planned":
        wanted.append(office_buttons.clients(f"Planned: {counts.planned}", "planned"))
    if said.group != "all" or said.text:
        wanted.append(office_buttons.clients("All clients"))
    last = [office_buttons.all_fires()] if counts.firing or counts.danger else []
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
    """Several clients at once."""
    return parcel(
        bold(f"{counted(len(said.lines), 'client').capitalize()} need somebody now."),
        numbered(said.lines, m),
        "Open one and take it, so that two do not answer.",
        buttons=[*_client_rows(said.lines, 1), [office_buttons.clients("Who needs you", "needs")]],
    )


def digest(said: Digest, m: Measures) -> Parcel:
    """The morning's digest."""
    more = said.counts.needs - len(said.needs)
    greeting = f"Good morning{', ' + theirs(said.name) if said.name else ''}."
    board = [office_buttons.all_fires()] if said.counts.firing else []
    return parcel(
        joined(greeting, _summary(said.counts)),
        numbered(said.needs, m) if said.needs else None,
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
        f"{counted(said.total, 'fire').capitalize()} burning at {m.clock(m.now)}.",
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
        "need you, “fires” for a picture of all that burn.",
        open_,
        "An order with a name in it is for that client, whoever lies open: “hold Rosa”. Answer one "
        "of my messages, and it is for that oven. “Hold all, storm”, “no fires for anybody on "
        "Saturday” or “hold everyone in Leeds” I list first, and ask once.",
        "What makes a plan less gentle I do only after the word “confirmed”. “My town is …” sets "
        "the hours of your digest. /ways shows how you break ovens in, /statistics what yours add "
        "up to.",
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
