"""A builder's list of clients: a page of it, and who is found by a name."""

from collections.abc import Mapping
from math import ceil

from bot.conversation.door import oven_at_hand
from bot.understanding.office_words import Find
from bot.wording.roster import PAGE
from scheduling.choice import Listing
from scheduling.clients import lines_of
from scheduling.meaning import ClientLine, Counts, NoClient, RosterShown, WhichClient
from scheduling.ports import OvenCard, Person, Roster, UnitOfWork
from scheduling.record.standing import RANKS_IN_GROUP, Group

BURNING = ("lit", "embers")
STATES: Mapping[str, tuple[str, ...]] = {"firing": BURNING, "held": ("held",)}


async def roster(unit: UnitOfWork, person: Person, said: Listing) -> RosterShown:
    """One page. ``person`` is of a team."""
    wanted = wanted_of(person, said)
    found = await unit.ovens.roster(wanted)
    if not found.cards and found.total:
        # The list has grown shorter since that page was offered.
        last = ceil(found.total / PAGE) - 1
        said = said.model_copy(update={"page": last})
        found = await unit.ovens.roster(wanted_of(person, said))
    return RosterShown(
        counts=counts_of(await unit.ovens.tally(wanted.builder)),
        lines=await lines_of(unit, found.cards),
        group=said.group,
        text=said.text,
        page=said.page,
        pages=max(1, ceil(found.total / PAGE)),
        total=found.total,
        own=await oven_at_hand(unit, person) is not None,
    )


async def found_by_name(
    unit: UnitOfWork, person: Person, said: Find, *, whole: bool = False
) -> OvenCard | RosterShown | WhichClient | NoClient:
    """The one client who is meant, or which of several, or that there is none. ``whole``: parts of
    a name, and places, are nobody."""
    listing = Listing(group=said.group, text=said.text)
    found = await unit.ovens.roster(wanted_of(person, listing))
    if whole:
        lines = await lines_of(unit, found.cards)
        if not any(_is_called(one, said.text) for one in lines):
            return NoClient(text=said.text)
    if found.total == 1:
        return found.cards[0]
    if not found.total:
        tally = await unit.ovens.tally(person.builder or "")
        return NoClient(text=said.text, any=bool(tally))
    lines = await lines_of(unit, found.cards)
    called = tuple(one for one in lines if _is_called(one, said.text))
    beyond = found.total - len(lines)
    if len(called) == 1 and not beyond:
        return next(one for one in found.cards if one.id == called[0].oven_id)
    if called and (len(called) == len(lines) or not beyond):
        return WhichClient(text=said.text, lines=called, total=len(called) + beyond)
    return await roster(unit, person, listing)


def wanted_of(person: Person, said: Listing) -> Roster:
    """What is asked of the store for one page."""
    ranks: dict[str, tuple[tuple[int, int], ...]] = {
        "needs": (_span(Group.DANGER, Group.LOOK),),
        "planned": (_span(Group.PLANNED),),
        "curing": (_span(Group.CURING),),
        "done": (_span(Group.DONE),),
    }
    return Roster(
        builder=person.builder or "",
        ranks=ranks.get(said.group, ()),
        states=STATES.get(said.group, ()),
        taken_by=person.id if said.group == "mine" else None,
        text=said.text,
        start=max(0, said.page) * PAGE,
        limit=PAGE,
    )


def counts_of(tally: Mapping[int, int]) -> Counts:
    """How many stand in each group."""
    counts = dict.fromkeys(Group, 0)
    for rank, number in tally.items():
        counts[Group(rank // RANKS_IN_GROUP)] += number
    return Counts(**{group.name.lower(): number for group, number in counts.items()})


def _span(first: Group, last: Group | None = None) -> tuple[int, int]:
    return first * RANKS_IN_GROUP, ((first if last is None else last) + 1) * RANKS_IN_GROUP


def _is_called(line: ClientLine, text: str) -> bool:
    """Whether what was typed is a name of theirs, in whole words."""
    names = f"{line.oven} {line.owner}".casefold().replace("’s", " ").replace("'s", " ").split()
    return all(word in names for word in text.casefold().split())
