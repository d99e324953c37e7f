"""All fires that burn now, for one picture."""

from datetime import datetime
from typing import Any

from bot.conversation.office.roster import BURNING
from scheduling.clients import line_of
from scheduling.firing.session import crown_c
from scheduling.meaning import BoardShown, FireShown
from scheduling.meaning.office import BOARD_HOLDS
from scheduling.ports import OvenCard, Person, Roster, Store
from scheduling.record import Record
from scheduling.waking.engine import Engine


async def board(store: Store, engine: Engine[Any], person: Person, now: datetime) -> BoardShown:
    """Those that need somebody first; no more journals are opened than the picture holds."""
    wanted = Roster(builder=person.builder or "", states=BURNING, limit=BOARD_HOLDS)
    async with store.read() as unit:
        found = await unit.ovens.roster(wanted)
        people = await unit.people.several([one for card in found.cards for one in card.owners])
    fires = []
    for card in found.cards:
        record: Record = await engine.record(card.id)
        fire = _fire(card, line_of(card, people).oven, record, now)
        if fire is not None:
            fires.append(fire)
    return BoardShown(fires=tuple(fires), total=found.total)


def _fire(card: OvenCard, name: str, record: Record, now: datetime) -> FireShown | None:
    session = record.session
    if session is None:
        return None
    track = tuple((one.at, top_c) for one in session.believed if (top_c := crown_c(one)))
    # A fire that nobody planned has no aim: it is drawn against the gentlest there is.
    aim_c = session.aim.plateau_c if session.aim is not None else 100.0
    return FireShown(
        oven=name,
        number=session.aim.number if session.aim is not None else 0,
        rank=card.rank,
        needs=card.needs,
        phase=card.state,
        heard_at=min(session.heard_at, now),
        aim_c=aim_c,
        climb_k_h=session.climb_k_h,
        track=track,
    )
