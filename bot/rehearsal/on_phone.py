"""A rehearsal on somebody's own phone: they play the owner, the oven and the sky are invented.

It stands between the phone and the bot. A few words are for the oven and are answered here; all
others reach the bot as they are, and what the bot then has written down is done at the oven.
"""

import asyncio
from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import timedelta
from typing import Any
from zoneinfo import ZoneInfo

from bot.conversation.door import oven_at_hand
from bot.conversation.foundation import Foundation
from bot.conversation.incoming import Incoming, Receiver
from bot.rehearsal.hands import Hands
from bot.rehearsal.readings import Thermometer
from bot.wording import rehearsing
from bot.wording.measures import Measures
from scheduling.clock import PacedClock
from scheduling.outcome import Urgency
from scheduling.ports import Letter, OvenCard, Parcel, Person

LONGEST = timedelta(days=1)
"""No letter is on its way for longer, at any pace."""

GLANCE_S, HEARD_OUT = 0.2, 25
"""How often it is looked whether all has been said, and how many times."""

Answer = Callable[[Measures], Parcel]


class OnPhone:
    """A ``Receiver`` in front of the bot's own."""

    def __init__(
        self,
        base: Foundation,
        bot: Receiver,
        clock: PacedClock,
        hands: Hands,
        thermometer: Thermometer | None,
    ) -> None:
        self._base, self._bot, self._clock = base, bot, clock
        self._hands, self._thermometer = hands, thermometer
        self._welcomed: set[str] = set()
        self._played: str | None = None
        self._at_the_oven = asyncio.Lock()
        self._words: Mapping[str, Callable[[OvenCard], Any]] = {
            "look": self._look,
            "rake": self._rake,
            "skip": self._skip,
            "truth": self._truth,
        }

    async def went_unheard(self, incoming: Incoming, why: str) -> None:
        """The bot tells them."""
        await self._bot.went_unheard(incoming, why)

    async def receive(self, incoming: Incoming) -> None:
        """Answer what is for the oven, hand on the rest, and do what was told to be done."""
        # The phone's own hour is not that of the rehearsal.
        incoming = replace(incoming, sent_at=self._clock.now())
        person, oven = await self._known(incoming)
        word = self._words.get((incoming.text or "").strip().rstrip(".!?").lower())
        if word is not None and person is not None and oven is not None:
            await self._follow(oven)
            await self._reply(incoming, person, await word(oven))
            return
        await self._bot.receive(incoming)
        person, oven = await self._known(incoming)
        if person is None or oven is None:
            return
        await self._follow(oven)
        if person.id not in self._welcomed:
            self._welcomed.add(person.id)
            told, pace = self._hands.oven.make_up, self._clock.pace
            await self._say(person, lambda m: rehearsing.opening(told, pace, m))

    # ------------------------------------------------------------ words for the oven

    async def _look(self, _: OvenCard) -> Answer:
        oven, thermometer = self._hands.oven, self._thermometer
        top = thermometer.show(oven) if thermometer is not None else None
        sides = thermometer.show(oven, "sides") if thermometer is not None else None
        seen = rehearsing.Look(
            has_thermometer=thermometer is not None,
            top_c=top.celsius if top is not None else None,
            sides_c=sides.celsius if sides is not None else None,
            flames=oven.alight,
            embers=oven.glowing,
            flames_out=oven.flames_high,
            damp=oven.steaming(),
            bare=oven.soot_clear(),
        )
        return lambda m: rehearsing.found(seen, m)

    async def _rake(self, _: OvenCard) -> Answer:
        self._hands.rake(self._clock.now())
        return rehearsing.raked

    async def _skip(self, _: OvenCard) -> Answer:
        """To what comes next. A letter on its way would be taken for lost by a leap, so what is
        being said is heard out first."""
        if self._hands.oven.glowing:
            return rehearsing.stays
        for _glance in range(HEARD_OUT):
            now = self._clock.now()
            async with self._base.store.read() as unit:
                on_the_way = await unit.outbox.lapsed(now + LONGEST)
                coming = [await unit.alarms.next_due(), await unit.outbox.next_sendable()]
            due = min((one for one in coming if one is not None), default=now)
            if due > now and not on_the_way:
                self._clock.leap_to(due)
                return lambda m: rehearsing.leapt(due, m)
            await asyncio.sleep(GLANCE_S)
        return rehearsing.stays

    async def _truth(self, _: OvenCard) -> Answer:
        oven = self._hands.oven
        account = oven.account
        crown_c, water_l = oven.crown_c, oven.water_l()
        worst, fires, wood_kg = account.worst_share, account.fires, account.wood_kg
        return lambda m: rehearsing.truth(crown_c, worst, water_l, fires, wood_kg, m)

    # ------------------------------------------------------------ ways there and back

    async def _known(self, incoming: Incoming) -> tuple[Person | None, OvenCard | None]:
        async with self._base.store.read() as unit:
            person = await unit.people.at(incoming.channel, incoming.chat)
            oven = await oven_at_hand(unit, person) if person is not None else None
        if oven is not None:
            # There is one oven here: whoever came first has it.
            self._played = self._played or oven.id
        return person, oven if oven is not None and oven.id == self._played else None

    async def _follow(self, oven: OvenCard) -> None:
        """The invented wall is a second of arithmetic after a long night."""
        record = await self._base.engine.record(oven.id)
        async with self._at_the_oven:
            await asyncio.to_thread(self._hands.follow, record, self._clock.now())

    async def _reply(self, incoming: Incoming, person: Person, answer: Answer) -> None:
        letter = self._letter(person, answer)
        async with self._base.store.write() as unit:
            if await unit.inbox.done(incoming.channel, incoming.key):
                await unit.outbox.post(letter)
                await unit.commit()

    async def _say(self, person: Person, answer: Answer) -> None:
        letter = self._letter(person, answer)
        async with self._base.store.write() as unit:
            await unit.outbox.post(letter)
            await unit.commit()

    def _letter(self, person: Person, answer: Answer) -> Letter:
        now = self._clock.now()
        return Letter(
            id=self._base.new_id(),
            person=person.id,
            oven=None,
            parcel=answer(Measures(person.unit, ZoneInfo(person.zone), now)),
            urgency=Urgency.ANSWER,
            created_at=now,
            not_before=now,
        )
