"""What a builder keeps of an oven that has gone: as much as its owner agreed to."""

from collections.abc import Sequence
from datetime import datetime

from scheduling.choice import Keep
from scheduling.journal import Agreed, Entry, Left, LookedAfter
from scheduling.journal.forgetting import SOMEBODY, Forgotten, ever_tending, tending, without
from scheduling.ports import OvenCard, UnitOfWork
from scheduling.record import Record


def agreed_in(entries: Sequence[Entry]) -> Keep:
    """What was agreed to last; nothing, where nothing was said."""
    last = next((one for one in reversed(entries) if isinstance(one, Agreed)), None)
    return last.keeps if last is not None else Keep.NOTHING


async def keep_copy(
    unit: UnitOfWork, copy_id: str, card: OvenCard, entries: Sequence[Entry], now: datetime
) -> OvenCard | None:
    """Keep a copy of a journal for ``card.builder``, under an id of its own, as far as that was
    agreed to; None for nothing. The oven itself has gone on: ``entries`` may end in its going,
    which is no part of the copy."""
    keeps = agreed_in(entries)
    if keeps is Keep.NOTHING:
        return None
    told = list(entries)
    while told and isinstance(told[-1], LookedAfter):
        told.pop()
    copied = left_behind(told, keeps, card, now)
    copy = left_card(card.model_copy(update={"id": copy_id}), copied, keeps, now)
    await unit.ovens.put(copy)
    await unit.ovens.rewrite(copy_id, copied)
    return copy


def left_behind(
    entries: Sequence[Entry],
    keeps: Keep,
    card: OvenCard,
    now: datetime,
    words: Sequence[str] = (),
) -> tuple[Entry, ...]:
    """A journal whose people have all gone, as it may be kept."""
    people = ever_tending(entries)
    if keeps is Keep.NAMED:
        # Keys of messages hold chat addresses, which were never part of the record.
        told = without(entries, Forgotten(frozenset(), keys=True))
        return (*told, *(Left(at=now, person=one) for one in tending(entries)))
    gone = Forgotten(frozenset(people), (card.name, *words), wholly=True)
    told = without(entries, gone)
    return (*told, Left(at=now, person=SOMEBODY)) if tending(entries) else told


def left_card(card: OvenCard, entries: Sequence[Entry], keeps: Keep, now: datetime) -> OvenCard:
    """The card of an oven whose people have all gone, as its journal has it."""
    if keeps is not Keep.NAMED:
        card = card.model_copy(update={"name": "", "place": ""})
    alone = card.model_copy(update={"owners": ()})
    return Record.folded(entries, card.id).card(alone, now)
