"""A conversation without ovens: alarms at fixed times, an answer to everything."""

from dataclasses import replace
from datetime import datetime

from bot.conversation.chat import Chat
from bot.conversation.heard import Listener
from bot.conversation.incoming import Incoming
from scheduling.clock import SteppedClock
from scheduling.outcome import Urgency
from scheduling.ports import Attachment, Letter, Parcel, Person
from tests.bot.channels.inbox_fake import StoreFake


class RoadFake:
    """Says "nudge" to ana at each of ``alarms``; echoes what comes in to its sender."""

    def __init__(self, clock: SteppedClock, listener: Listener, alarms: list[datetime]) -> None:
        self._clock = clock
        self._listener = listener
        self.alarms = sorted(alarms)
        self.closed = False
        self.asked = 0
        self._to_send: list[tuple[str, Parcel]] = []

    async def run_due(self) -> None:
        while self.alarms and self.alarms[0] <= self._clock.now():
            self.alarms.pop(0)
            buttons = (("<3", "Stoked"),)
            self._to_send.append(("ana", Parcel(text="<b>Stoke</b> & read", buttons=buttons)))

    async def deliver(self) -> None:
        waiting, self._to_send = self._to_send, []
        for number, (who, parcel) in enumerate(waiting):
            labels = [label for row in parcel.buttons for label in row]
            now = self._clock.now()
            letter = Letter(f"L{number}", who, None, parcel, Urgency.FIRE, now, now)
            keyed = replace(letter, button_keys={label: f"key of {label}" for label in labels})
            person = Person(id=who, channel="replay", address=who, name=who)
            await self._listener.send(keyed, person)

    async def next_due(self) -> datetime | None:
        self.asked += 1
        return self.alarms[0] if self.alarms else None

    async def close(self) -> None:
        self.closed = True

    async def went_unheard(self, incoming: Incoming, why: str) -> None:
        """The row is set aside by the worker; who drives a chat by hand is shown the fault."""

    async def receive(self, incoming: Incoming) -> None:
        if incoming.text == "fail":
            raise RuntimeError("no luck")
        said = incoming.text or incoming.press or str(incoming.location or incoming.photo)
        picture = (Attachment(kind="plan", name="plan.png"),) if said == "plan" else ()
        self._to_send.append((incoming.chat, Parcel(text=f"heard {said}", attachments=picture)))


def chat_fake(start: datetime, alarms: list[datetime]) -> tuple[Chat, RoadFake]:
    clock = SteppedClock(start)
    listener = Listener(clock)
    road = RoadFake(clock, listener, alarms)
    return Chat(clock, StoreFake().as_store(), road, road, listener), road
