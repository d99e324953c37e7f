"""A house whose ovens do almost nothing: the channels, the store and the road are the real ones.

Whatever is said to an oven is noted in its journal and answered with "noted"; a nudge comes half
an hour later, until somebody has said "out".
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from bot.channels.telegram.channel import Timeouts
from bot.channels.telegram.menus import MenuBook
from bot.conversation.foundation import Foundation
from bot.conversation.incoming import Incoming
from bot.wiring import Parts
from scheduling.alarm import Alarm, AlarmName
from scheduling.choice import Command, CommandName
from scheduling.happening import Came, Chose, Delivery, Happening, Spoke
from scheduling.journal import Entry, Opened
from scheduling.meaning import Meaning, NothingHere, NudgesStopped
from scheduling.outcome import TENDERS, Message, Outcome, Urgency
from scheduling.oven.belief import Belief
from scheduling.ports import OvenCard, Parcel, Person, PromisedDay
from storage.store import open_store

NUDGE = timedelta(minutes=30)


@dataclass(frozen=True, slots=True)
class SmallRecord:
    """Counts what happened."""

    entries: int = 0
    zone: str = "UTC"
    promised: Sequence[PromisedDay] = ()

    def applied(self, entry: Entry) -> "SmallRecord":
        return replace(self, entries=self.entries + 1)

    def believing(self, belief: Belief | None) -> "SmallRecord":
        return self

    def card(self, card: OvenCard, now: datetime) -> OvenCard:
        return card


class SmallBook:
    """Notes and nudges."""

    def empty(self, card: OvenCard) -> SmallRecord:
        return SmallRecord()

    def advance(self, record: SmallRecord, happening: Happening, now: datetime) -> Outcome:
        noted = Opened(at=now, name=type(happening).__name__)
        nudge = Alarm(AlarmName.NUDGE, now + NUDGE)
        match happening:
            case Spoke(text="out"):
                return Outcome((noted,), drop_alarms=(AlarmName.NUDGE,))
            case Spoke() | Chose():
                answer = Message(happening.person, NothingHere())
                return Outcome((noted,), (answer,), set_alarms=(nudge,))
            case Came():
                said = Message(TENDERS, NudgesStopped(lit=True), Urgency.FIRE, replaces="nudge")
                return Outcome((noted,), (said,), set_alarms=(nudge,))
            case Delivery():
                return Outcome((noted,))
        return Outcome()

    def pack(self, belief: Belief) -> bytes:
        return b""

    def unpack(self, packed: bytes) -> Belief | None:
        return None


class SmallVoice:
    """Two sentences."""

    def render(self, meaning: Meaning, reader: Person, zone: str, now: datetime) -> Parcel:
        if isinstance(meaning, NothingHere):
            return Parcel(text="<b>Noted</b>.")
        choice = Command(name=CommandName.NOW)
        return Parcel(text="Stoke & read.", buttons=(("Stoked",),), choices={"Stoked": choice})

    def again(self, parcel: Parcel, urgency: Urgency) -> Parcel:
        return parcel.model_copy(update={"text": f"Again: {parcel.text}"})


class SmallReception:
    """Everybody who writes has an oven."""

    def __init__(self, foundation: Foundation) -> None:
        self._base = foundation

    async def went_unheard(self, incoming: Incoming, why: str) -> None:
        raise NotImplementedError(why)

    async def receive(self, incoming: Incoming) -> None:
        person, oven = await self._known(incoming)
        at = (incoming.channel, incoming.key)
        if incoming.reached is not None:
            await self._base.engine.happen(oven, Delivery(person.id, incoming.reached), inbox=at)
        elif incoming.press is not None:
            async with self._base.store.read() as unit:
                pressed = await unit.outbox.pressed(incoming.press)
            if pressed is not None and pressed.person == person.id:
                await self._base.engine.happen(oven, Chose(person.id, pressed.choice), inbox=at)
        else:
            said = Spoke(person.id, incoming.text or "", (), sent_at=incoming.sent_at)
            await self._base.engine.happen(oven, said, inbox=at)

    async def _known(self, incoming: Incoming) -> tuple[Person, str]:
        async with self._base.store.write() as unit:
            person = await unit.people.at(incoming.channel, incoming.chat)
            known = person or Person(
                id=f"p-{incoming.chat}",
                channel=incoming.channel,
                address=incoming.chat,
                name=incoming.sender_name,
            )
            reached = incoming.reached is not False
            await unit.people.put(known.model_copy(update={"blocked": not reached}))
            oven = f"o-{known.id}"
            if person is None:
                await unit.ovens.put(OvenCard(id=oven, name="oven", owners=(known.id,)))
            await unit.commit()
        return known, oven


def small_parts() -> Parts:
    """The parts of such a house."""
    return Parts(
        open_store=open_store,
        book=SmallBook(),
        voice=SmallVoice(),
        painter=lambda kind, data: b"\x89PNG\r\n\x1a\n",
        receiver=SmallReception,
        menus=MenuBook((("now", "What to do now"),)),
        timeouts=Timeouts(read_s=1.5, poll_s=1.0),
    )
