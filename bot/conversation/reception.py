"""Stands behind the channels: finds who speaks, and makes happenings of what they did."""

import asyncio
from collections.abc import Callable
from datetime import datetime
from zoneinfo import ZoneInfo

from bot.conversation.clients import ClientsDesk
from bot.conversation.clients.desk import CLIENTS_CHOICES
from bot.conversation.door import NothingHereError, oven_for
from bot.conversation.foundation import Foundation, reply
from bot.conversation.incoming import Incoming
from bot.conversation.meeting import Meeting, code_in
from bot.conversation.office import OFFICE_CHOICES, Office
from bot.conversation.people.arriving import FirstRunCodes
from bot.conversation.people.desk import PeopleDesk
from bot.conversation.people.phones import Phones
from bot.conversation.people.sweeping import Sweeping
from bot.conversation.people.telling import builder_name
from bot.conversation.set_aside import SetAside
from bot.conversation.setting_up import SettingUp, answered_by, open_question, refused
from bot.conversation.workshop import Workshop
from bot.understanding import heard, understand
from bot.ways.applying import ways_of
from scheduling.choice import About, Admitting, Choice, Command, SetUpAnswer
from scheduling.firing.answers import place_of
from scheduling.happening import CAME_BACK, Begun, Chose, Delivery, Happening, Spoke
from scheduling.meaning import NothingHere, SetUpQuestion
from scheduling.ports import OutboxState, OvenCard, Person, Pressed
from scheduling.record import Record
from scheduling.record.expect import expectation
from scheduling.remark import Setting, Understood

GRAVE = frozenset({"hazard", "crack", "lit"})
"""Acted on even where an answer of the set-up was asked for."""

SMALL_TALK = frozenset({"greeting", "thanks"})

_ANSWERING = frozenset({"yes", "no", "reading", "available", "unavailable", "weather"})
"""What an answer of the set-up may sound like to who reads it as a message from a fire."""


class Reception:
    """The ``Receiver`` of the real house."""

    def __init__(
        self,
        base: Foundation,
        codes: FirstRunCodes | None = None,
        setting_up: SettingUp | None = None,
    ) -> None:
        self._base = base
        self._meeting = Meeting(base)
        self._people = PeopleDesk(base, codes)
        self._phones = Phones(base)
        self._sweeping = Sweeping(base.store, base.clock)
        self._setting_up = setting_up or SettingUp()
        self._office = Office(base)
        self._clients = ClientsDesk(base, self._setting_up)
        self._workshop = Workshop(base)
        self._set_aside = SetAside(base, self._meeting)
        self._reading = asyncio.Lock()

    async def went_unheard(self, incoming: Incoming, why: str) -> None:
        """Tell whoever sent it; its row is set aside in the same unit of work."""
        await self._set_aside.take(incoming, why)

    async def receive(self, incoming: Incoming) -> None:
        """Act on it; its inbox row is marked done in the same unit of work."""
        person = await self._meeting.known(incoming)
        if person is not None and await self._meeting.is_going(person):
            # Their farewell is still here. They are forgotten first, and come as a stranger.
            await self._sweeping.forget_now(person.id)
            person = None
        if incoming.reached is not None:
            await self._reach(incoming, person)
            return
        if person is None:
            person = await self._meeting.stranger(incoming)
        elif person.blocked:
            await self._set_reached(person, True)
            person = person.model_copy(update={"blocked": False})
        if incoming.press is not None:
            await self._press(incoming, person)
            return
        if (code := code_in(incoming)) and await self._people.came_with(incoming, person, code):
            await self._clients.came(person)
            return
        if await self._clients.hear(incoming, person):
            return
        said = incoming.command
        if said is not None and await self._people.command(incoming, person, said):
            return
        if await self._phones.hear(incoming, person):
            return
        if await self._workshop.hear(incoming, person):
            return
        if person.builder is not None and await self._office.hear(incoming, person):
            return
        oven = await self._meeting.oven_of(person, incoming.channel)
        if oven is None:
            await reply(self._base, incoming, person, NothingHere())
            return
        if await self._is_new(oven) and await self._begin(incoming, person, oven):
            return
        await self._hear(incoming, person, oven)

    # ------------------------------------------------------------ meeting

    async def _is_new(self, oven: OvenCard) -> bool:
        record: Record = await self._base.engine.record(oven.id)
        return not record.entries

    async def _begin(self, incoming: Incoming, person: Person, oven: OvenCard) -> bool:
        """The first meeting. False where their first words said more than that they are there."""
        # An oven that is only known by its owner's name has no name of its own.
        async with self._base.store.read() as unit:
            by = await builder_name(unit, oven.builder)
            ways = await ways_of(unit, oven.builder, self._base.clock.now())
        name = "" if oven.name == person.name else oven.name
        begun = Begun(person.id, name, oven.builder, by, ways=ways)
        local = incoming.sent_at.astimezone(ZoneInfo(person.zone))
        said = await self._read(incoming, Setting(unit=person.unit, now=local), heard)
        talk = all(remark.kind in SMALL_TALK for remark in said.meanings)
        if incoming.command is not None or (talk and incoming.photo is None):
            await self._happen(incoming, person, oven.id, begun)
            return True
        await self._base.engine.happen(oven.id, begun)
        return False

    async def _reach(self, incoming: Incoming, person: Person | None) -> None:
        """They blocked us, or came back."""
        if person is not None:
            back = incoming.reached is not False
            await self._set_reached(person, back, CAME_BACK if back else "blocked")
        async with self._base.store.write() as unit:
            await unit.inbox.done(incoming.channel, incoming.key)
            await unit.commit()

    async def _set_reached(self, person: Person, reached: bool, why: str = "") -> None:
        await self._meeting.put(person.model_copy(update={"blocked": not reached}))
        async with self._base.store.write() as unit:
            if not reached:
                await unit.outbox.cancel_for(person.id, "blocked")
            ovens = await unit.ovens.of_person(person.id)
            await unit.commit()
        for oven in ovens:
            await self._base.engine.happen(oven.id, Delivery(person.id, reached, why))

    # ------------------------------------------------------------ what they did

    async def _press(self, incoming: Incoming, person: Person) -> None:
        async with self._base.store.read() as unit:
            pressed = await unit.outbox.pressed(incoming.press or "")
        if pressed is not None and pressed.person != person.id:
            pressed = None
        if pressed is not None and pressed.in_doubt:
            await self._has_arrived(pressed.letter)
        if pressed is not None and await self._clients.press(incoming, person, pressed):
            return
        waits = await self._waits(pressed)
        if pressed is not None and await self._people.press(incoming, person, pressed):
            if waits is not None:
                await self._clients.came(waits)
            return
        if pressed is not None and await self._workshop.press(incoming, person, pressed):
            return
        built = pressed is not None and person.builder is not None
        if pressed and built and await self._office.press(incoming, person, pressed):
            return
        async with self._base.store.read() as unit:
            try:
                if pressed is None or pressed.oven is None:
                    raise NothingHereError
                if isinstance(pressed.choice, OFFICE_CHOICES + CLIENTS_CHOICES):
                    raise NothingHereError
                oven = await oven_for(unit, person, pressed.oven)
                letter = await unit.outbox.get(pressed.letter)
            except NothingHereError:
                pressed = None
        if pressed is None:
            await reply(self._base, incoming, person, NothingHere())
        else:
            shown_at = None if letter is None else letter.created_at
            await self._choose(incoming, person, oven.id, pressed.choice, shown_at)

    async def _waits(self, pressed: Pressed | None) -> Person | None:
        """Whoever a button would let into a team, as they are before it."""
        if pressed is None or not isinstance(pressed.choice, Admitting):
            return None
        async with self._base.store.read() as unit:
            return await unit.people.get(pressed.choice.person)

    async def _has_arrived(self, letter: str) -> None:
        """Whoever presses its button has it before them: it need not be sent again."""
        async with self._base.store.write() as unit:
            await unit.outbox.settle(letter, OutboxState.SENT, self._base.clock.now())
            await unit.commit()

    async def _hear(self, incoming: Incoming, person: Person, oven: OvenCard) -> None:
        if incoming.command is not None:
            choice = Command(name=incoming.command.name, rest=incoming.command.rest)
            await self._choose(incoming, person, oven.id, choice)
            return
        if incoming.location is not None:
            place = await self._setting_up.at(*incoming.location)
            await self._choose(incoming, person, oven.id, place)
            return
        record: Record = await self._base.engine.record(oven.id)
        said = await self._understood(incoming, person, record)
        if await self._answered(incoming, person, oven, record, said):
            return
        await self._happen(
            incoming,
            person,
            oven.id,
            Spoke(
                person.id,
                incoming.text or "",
                said.meanings,
                said.doubt,
                said.unheard,
                said.likely,
                photo=incoming.photo,
                sent_at=incoming.sent_at,
                key=_key(incoming, own=incoming.edited),
                amends=_key(incoming) if incoming.edited else None,
            ),
        )

    async def _answered(
        self,
        incoming: Incoming,
        person: Person,
        oven: OvenCard,
        record: Record,
        said: Understood,
    ) -> bool:
        """Take words as the answer to a question of the set-up; False if they are none."""
        if incoming.text is None or incoming.photo is not None:
            return False
        key = _key(incoming)
        about = answered_by(record, key) if incoming.edited else open_question(record)
        if about is None or any(remark.kind in GRAVE for remark in said.meanings):
            return False
        answer = await self._setting_up.read(about, incoming, person, record)
        if isinstance(answer, SetUpQuestion):
            await reply(self._base, incoming, person, answer, oven)
            return True
        if answer is None and {remark.kind for remark in said.meanings} - _ANSWERING:
            return False
        answer = answer or refused(about, incoming.text)
        await self._choose(incoming, person, oven.id, answer)
        return True

    async def _choose(
        self,
        incoming: Incoming,
        person: Person,
        oven: str,
        choice: Choice,
        shown_at: datetime | None = None,
    ) -> None:
        match choice:
            case SetUpAnswer(about=About.UNITS, value="C" | "F" as unit):
                # Before the answer is told, so that it is told in the unit that was chosen.
                person = await self._meeting.put(person.model_copy(update={"unit": unit}))
        key = _key(incoming, own=incoming.press is not None or incoming.edited)
        await self._happen(incoming, person, oven, Chose(person.id, choice, key, shown_at))

    async def _happen(
        self, incoming: Incoming, person: Person, oven: str, happening: Happening
    ) -> None:
        inbox = (incoming.channel, incoming.key)
        outcome = await self._base.engine.happen(oven, happening, inbox=inbox)
        if isinstance(happening, Chose) and outcome is not None:
            await self._keep_in_step(person, await self._base.engine.record(oven))

    async def _keep_in_step(self, person: Person, record: Record) -> None:
        """Quiet hours are those of the oven's own zone, for those who tend it."""
        if person.id not in record.tenders:
            return
        place = record.answers.get(About.PLACE)
        zone = place_of(place).zone if place else person.zone
        if zone != person.zone:
            await self._meeting.put(person.model_copy(update={"zone": zone}))

    async def _understood(self, incoming: Incoming, person: Person, record: Record) -> Understood:
        if not incoming.text:
            return Understood()
        # Only a burning fire bears on its next number: a night later any number is likely.
        makeup, fire = record.makeup, record.session
        instrument = makeup.instrument if makeup is not None else None
        setting = Setting(
            unit=person.unit,
            now=incoming.sent_at.astimezone(record.zoneinfo),
            expect=expectation(record, self._base.clock.now()),
            last_top_c=fire.top_c if fire is not None else None,
            cold=fire is None,
            judged=fire is not None and fire.last is not None,
            instrument_max_c=instrument.max_c if instrument is not None else None,
            open_hazards=tuple(one.what for one in record.hazards),
        )
        # An answer of the set-up names what may be a danger beside a fire: "inside the garage".
        answers = fire is None and open_question(record) is not None
        return await self._read(incoming, setting, understand if answers else heard)

    async def _read(
        self,
        incoming: Incoming,
        setting: Setting,
        reader: Callable[[str, Setting], Understood],
    ) -> Understood:
        """Beside everything else, since thousands of odd signs take a while; and one text at a
        time, since what looks for dates in them was not made for several."""
        async with self._reading:
            return await asyncio.to_thread(reader, incoming.text or "", setting)


def _key(incoming: Incoming, own: bool = False) -> str:
    """The journal's name of a message; ``own`` names this very update of it."""
    part = incoming.key if own or not incoming.message else f"{incoming.chat}/{incoming.message}"
    return f"{incoming.channel}:{part}"
