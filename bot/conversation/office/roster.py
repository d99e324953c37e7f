"""A builder's list of clients: a page of it, who is found by a name, and who was invited."""

from collections import defaultdict
from collections.abc import Mapping
from datetime import datetime
from math import ceil

from bot.conversation.door import oven_at_hand
from bot.understanding.office_words import Find
from bot.wording.roster import PAGE
from scheduling.choice import Listing
from scheduling.clients import lines_of
from scheduling.meaning import (
    ClientLine,
    Counts,
    NoClient,
    OpenInvitation,
    RosterShown,
    WhichClient,
)
from scheduling.ports import (
    RANKS_IN_GROUP,
    Invitation,
    Opens,
    OvenCard,
    Person,
    Roster,
    UnitOfWork,
)
from scheduling.record import Phase
from scheduling.record.standing import Group, rank_of

BURNING = ("lit", "embers")
HELD = rank_of(Phase.HELD, None)


async def roster(unit: UnitOfWork, person: Person, said: Listing, now: datetime) -> RosterShown:
    """One page. ``person`` is of a team."""
    wanted = wanted_of(person, said)
    builder = wanted.builder
    invited = await _invited(unit, builder, now)
    shown = tuple(one for one in invited if said.text.casefold() in one.name.casefold())
    total = len(shown)
    cards: tuple[OvenCard, ...] = ()
    if said.group != "invited":
        found = await unit.ovens.roster(wanted)
        if not found.cards and found.total:
            # The list has grown shorter since that page was offered.
            said = said.model_copy(update={"page": ceil(found.total / PAGE) - 1})
            found = await unit.ovens.roster(wanted_of(person, said))
        total, cards, shown = found.total, found.cards, ()
    start = said.page * PAGE
    return RosterShown(
        counts=counts_of(await unit.ovens.tally(builder), len(invited)),
        lines=await lines_of(unit, cards),
        invited=tuple(_open(one) for one in shown[start : start + PAGE]),
        asked=said,
        pages=max(1, ceil(total / PAGE)),
        total=total,
        own=await oven_at_hand(unit, person) is not None,
    )


async def found_by_name(
    unit: UnitOfWork,
    person: Person,
    said: Find,
    now: datetime,
    search: Listing | None = None,
    *,
    whole: bool = False,
) -> OvenCard | RosterShown | WhichClient | NoClient:
    """The one client who is meant, or which of several, or that there is none. ``search`` is what
    the words look for where they are nobody's name; ``whole``: parts of a name, and places, are
    nobody."""
    listing = Listing(group=said.group, text=said.text)
    found = await unit.ovens.roster(wanted_of(person, listing))
    lines = await lines_of(unit, found.cards)
    called = tuple(one for one in lines if _is_called(one, said.text))
    if whole and not called:
        return NoClient(text=said.text)
    if search is not None and not called:
        return await roster(unit, person, search, now)
    if found.total == 1:
        return found.cards[0]
    if not found.total:
        return await _not_here(unit, person, said.text, now)
    beyond = found.total - len(lines)
    if len(called) == 1 and not beyond:
        return next(one for one in found.cards if one.id == called[0].oven_id)
    if called and (len(called) == len(lines) or not beyond):
        return WhichClient(text=said.text, lines=called, total=len(called) + beyond)
    return await roster(unit, person, listing, now)


async def _not_here(
    unit: UnitOfWork, person: Person, text: str, now: datetime
) -> RosterShown | NoClient:
    """Nobody of that name is here: they may have been invited, and not come."""
    invited = await roster(unit, person, Listing(group="invited", text=text), now)
    if invited.invited:
        return invited
    return NoClient(text=text, any=bool(invited.counts.all))


def wanted_of(person: Person, said: Listing) -> Roster:
    """What is asked of the store for one page."""
    ranks: dict[str, tuple[tuple[int, int], ...]] = {
        "needs": (_span(Group.DANGER, Group.LOOK),),
        "planned": _but(Group.PLANNED, HELD),
        "curing": (_span(Group.CURING),),
        "set_up": (_span(Group.SET_UP),),
        "done": (_span(Group.DONE),),
    }
    states = {"firing": BURNING, "held": (Phase.HELD.value,)}
    return Roster(
        builder=person.builder or "",
        ranks=ranks.get(said.group, ()),
        states=states.get(said.group, ()),
        needs=said.needs,
        taken_by=person.id if said.group == "mine" else None,
        text=said.text,
        place=said.place,
        day=said.day,
        start=max(0, said.page) * PAGE,
        limit=PAGE,
    )


def counts_of(tally: Mapping[tuple[str, int], int], invited: int = 0) -> Counts:
    """How many stand in each group; ``invited`` have not come yet."""
    counts = dict.fromkeys(Group, 0)
    states: dict[str, int] = defaultdict(int)
    for (state, rank), number in tally.items():
        counts[Group(rank // RANKS_IN_GROUP)] += number
        states[state] += number
    return Counts(
        **{group.name.lower(): number for group, number in counts.items()},
        held=tally.get((Phase.HELD.value, HELD), 0),
        burning=sum(states[state] for state in BURNING),
        on_hold=states[Phase.HELD.value],
        invited=invited,
    )


async def _invited(unit: UnitOfWork, builder: str, now: datetime) -> tuple[Invitation, ...]:
    """Clients who have not come yet, the oldest invitation first."""
    made = await unit.invitations.open_for_builder(builder, now)
    return tuple(one for one in made if one.opens is Opens.OVEN)


def _open(one: Invitation) -> OpenInvitation:
    return OpenInvitation(
        id=one.id,
        opens=one.opens.value,
        made_at=one.made_at,
        expires_at=one.expires_at,
        name=one.name,
        phone=one.phone,
    )


def _span(first: Group, last: Group | None = None) -> tuple[int, int]:
    return first * RANKS_IN_GROUP, ((first if last is None else last) + 1) * RANKS_IN_GROUP


def _but(group: Group, rank: int) -> tuple[tuple[int, int], ...]:
    """The ranks of a group without one of them."""
    low, high = _span(group)
    return (low, rank), (rank + 1, high)


def _is_called(line: ClientLine, text: str) -> bool:
    """Whether what was typed is a name of theirs, in whole words."""
    names = f"{line.oven} {line.owner}".casefold().replace("’s", " ").replace("'s", " ").split()
    return all(word in names for word in text.casefold().split())
