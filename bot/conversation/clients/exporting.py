"""A builder's clients as a file, with the columns that can be brought along again."""

from collections.abc import Mapping

from bot.conversation.clients.whose import nobody_yet
from bot.conversation.foundation import Foundation, reply
from bot.conversation.incoming import Incoming
from bot.ways.applying import ways_in
from bot.wording.importing import row_of_client, sheet_of_clients
from scheduling.clients import lines_of
from scheduling.meaning import ExportShown
from scheduling.ports import Opens, Person
from scheduling.record import Record


class Exports:
    """Writes them."""

    def __init__(self, base: Foundation) -> None:
        self._base = base

    async def show(self, incoming: Incoming, person: Person) -> None:
        """All that are called something: clients, and who was invited and has not come."""
        builder = person.builder or ""
        async with self._base.store.read() as unit:
            cards = [one for one in await unit.ovens.of_builder(builder) if one.name]
            lines = await lines_of(unit, cards)
            open_ones = await unit.invitations.open_for_builder(builder, self._base.clock.now())
            ways = ways_in(await unit.ways.latest(builder))
        rows: list[Mapping[str, str]] = []
        async with self._base.store.read() as unit:
            for line in lines:
                journal = await unit.ovens.journal(line.oven_id)
                # Without an ensemble: nothing is worked out.
                record = Record(tuple(one.entry for one in journal), line.oven_id, members=0)
                rows.append(row_of_client(line, record.answers, record.model, _titles(record)))
        invited = [one for one in open_ones if one.opens is Opens.OVEN and one.name]
        titles = _titles(nobody_yet(self._base, person, ways))
        rows += [
            row_of_client(one.name, dict(one.given), one.model, titles, one.phone)
            for one in invited
        ]
        shown = ExportShown(
            clients=len(lines),
            invited=len(invited),
            file=sheet_of_clients(rows) if rows else "",
            ovens=tuple(line.oven_id for line in lines),
        )
        await reply(self._base, incoming, person, shown)


def _titles(record: Record) -> Mapping[str, str]:
    return {key: one.name for key, one in record.own_constructions.items()}
