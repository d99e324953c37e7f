"""Stands behind the channels: finds who speaks, and makes happenings of what they did."""

import asyncio
from collections.abc import Callable
from dataclasses import dataclass
from zoneinfo import ZoneInfo

import structlog

from bot.conversation import set_up_words
from bot.conversation.door import NothingHereError, oven_at_hand, oven_for
from bot.conversation.incoming import Incoming
from bot.conversation.meeting import (
    OPEN_CHANNELS,
    FirstRunCodes,
    code_in,
    invitation,
)
from bot.places import NoLandError, PlaceBook
from bot.understanding import understand
from scheduling.choice import About, Choice, Command, SetUpAnswer, Tending
from scheduling.clock import Clock
from scheduling.firing.answers import ASKED, Refused, place_of
from scheduling.firing.session import crown_c
from scheduling.happening import Begun, Chose, Delivery, Happening, Spoke
from scheduling.journal import Answered
from scheduling.meaning import Meaning, NothingHere, Option, SetUpQuestion
from scheduling.outcome import Outcome, Urgency
from scheduling.ports import Letter, OvenCard, Person, Store, Voice
from scheduling.record import Record
from scheduling.record.expect import expectation
from scheduling.remark import Setting, Understood
from scheduling.waking.engine import Engine, button_keys

GRAVE = frozenset({"unwell", "flue_flames", "popping", "crack", "lit"})
"""Acted on even where an answer of the set-up was asked for."""

SMALL_TALK = frozenset({"greeting", "thanks"})

_log = structlog.get_logger(__name__)


@dataclass(frozen=True, slots=True)
class House:
    """What the reception works with. ``builder`` is the team that looks after whoever comes."""

    store: Store
    clock: Clock
    engine: Engine[Record]
    voice: Voice
    new_id: Callable[[], str]
    quiet: tuple[float, float] | None = (22.0, 7.0)
    builder: str | None = None
    codes: FirstRunCodes | None = None


class Reception:
    """The ``Receiver`` of the real house."""

    def __init__(self, house: House, places: Callable[[], PlaceBook] = PlaceBook) -> None:
        self._house = house
        self._make_places = places
        self._places: PlaceBook | None = None

    async def receive(self, incoming: Incoming) -> None:
        """Act on it; its inbox row is marked done in the same unit of work."""
        person = await self._person(incoming)
        if incoming.reached is not None:
            await self._reach(incoming, person)
            return
        if person is None:
            person = await self._stranger(incoming)
        elif person.blocked:
            person = await self._put(person.model_copy(update={"blocked": False}))
            await self._tell_ovens(person, Delivery(person.id, True))
        if incoming.press is not None:
            await self._press(incoming, person)
            return
        if (code := code_in(incoming)) and await self._admit(incoming, person, code):
            return
        oven = await self._oven(person)
        if oven is None:
            oven = await self._open(incoming, person)
        if oven is None:
            await self._say(incoming, person, NothingHere())
            return
        record = await self._house.engine.record(oven.id)
        if not record.entries:
            if await self._begin(incoming, person, oven):
                return
            record = await self._house.engine.record(oven.id)
        await self._hear(incoming, person, oven, record)

    # ------------------------------------------------------------ who

    async def _person(self, incoming: Incoming) -> Person | None:
        async with self._house.store.read() as unit:
            return await unit.people.at(incoming.channel, incoming.chat)

    async def _stranger(self, incoming: Incoming) -> Person:
        """A chat that nobody has written from before."""
        quiet = self._house.quiet
        return await self._put(
            Person(
                id=self._house.new_id(),
                channel=incoming.channel,
                address=incoming.chat,
                name=incoming.sender_name,
                quiet_from=quiet[0] if quiet else None,
                quiet_until=quiet[1] if quiet else None,
            )
        )

    async def _put(self, person: Person) -> Person:
        async with self._house.store.write() as unit:
            known = await unit.people.at(person.channel, person.address)
            if known is not None and known.id != person.id:
                return known
            await unit.people.put(person)
            await unit.commit()
        return person

    async def _oven(self, person: Person) -> OvenCard | None:
        async with self._house.store.read() as unit:
            return await oven_at_hand(unit, person)

    async def _open(self, incoming: Incoming, person: Person) -> OvenCard | None:
        """An oven for somebody who comes without a code, where that is allowed."""
        if incoming.channel not in OPEN_CHANNELS or person.builder is not None:
            return None
        return await self._open_for(person, self._house.builder)

    async def _open_for(self, person: Person, builder: str | None) -> OvenCard:
        card = OvenCard(
            id=self._house.new_id(), name=person.name, builder=builder, owners=(person.id,)
        )
        async with self._house.store.write() as unit:
            await unit.ovens.put(card)
            await unit.commit()
        return card

    async def _admit(self, incoming: Incoming, person: Person, code: str) -> bool:
        """Let in who comes with a code. False where it is none of ours."""
        codes = self._house.codes
        if codes is not None and code == codes.owner and await self._oven(person) is None:
            card = await self._open_for(person, None)
            return await self._begin(incoming, person, card, at_once=True)
        if codes is not None and code == codes.builder:
            await self._put(person.model_copy(update={"builder": f"team-{person.id}"}))
            return False
        async with self._house.store.write() as unit:
            opened = await invitation(unit, code, self._house.clock)
            if opened is None:
                return False
            pressed, card = opened
            if isinstance(pressed.choice, Command):
                card = card.model_copy(update={"owners": (person.id,), "state": "set_up"})
                await unit.ovens.put(card)
                await unit.commit()
        if isinstance(pressed.choice, Command):
            return await self._begin(incoming, person, card, at_once=True)
        joined = Chose(person.id, Tending(person=person.id), key=code)
        await self._happen(incoming, person, card.id, joined)
        return True

    async def _begin(
        self, incoming: Incoming, person: Person, oven: OvenCard, at_once: bool = False
    ) -> bool:
        """The first meeting. False where their first words said more than that they are there."""
        begun = Begun(person.id, oven.name, oven.builder)
        said = understand(incoming.text or "", self._bare_setting(incoming, person))
        only_there = all(remark.kind in SMALL_TALK for remark in said.meanings)
        if at_once or incoming.command is not None or (only_there and incoming.photo is None):
            await self._happen(incoming, person, oven.id, begun)
            return True
        await self._house.engine.happen(oven.id, begun)
        return False

    async def _reach(self, incoming: Incoming, person: Person | None) -> None:
        """They blocked us, or came back."""
        if person is None:
            return
        reached = incoming.reached is not False
        await self._put(person.model_copy(update={"blocked": not reached}))
        if not reached:
            async with self._house.store.write() as unit:
                await unit.outbox.cancel_for(person.id, "blocked")
                await unit.commit()
        await self._tell_ovens(person, Delivery(person.id, reached, "" if reached else "blocked"))

    async def _tell_ovens(self, person: Person, delivery: Delivery) -> None:
        async with self._house.store.read() as unit:
            cards = await unit.ovens.of_person(person.id)
        for card in cards:
            await self._house.engine.happen(card.id, delivery)

    # ------------------------------------------------------------ what they did

    async def _press(self, incoming: Incoming, person: Person) -> None:
        async with self._house.store.read() as unit:
            pressed = await unit.outbox.pressed(incoming.press or "")
            try:
                if pressed is None or pressed.person != person.id or pressed.oven is None:
                    raise NothingHereError
                oven = await oven_for(unit, person, pressed.oven)
            except NothingHereError:
                oven = None
        if pressed is None or oven is None:
            await self._say(incoming, person, NothingHere())
            return
        await self._choose(incoming, person, oven.id, pressed.choice)

    async def _hear(
        self, incoming: Incoming, person: Person, oven: OvenCard, record: Record
    ) -> None:
        if incoming.command is not None:
            choice = Command(name=incoming.command.name, rest=incoming.command.rest)
            await self._choose(incoming, person, oven.id, choice)
            return
        if incoming.location is not None:
            value = await asyncio.to_thread(self._place_at, *incoming.location)
            answer = SetUpAnswer(about=About.PLACE, value=value)
            await self._choose(incoming, person, oven.id, answer)
            return
        said = self._understood(incoming, person, record)
        about = self._asked(incoming, record)
        typed = incoming.text is not None and incoming.photo is None
        if typed and about is not None:
            if await self._answer(incoming, person, oven, record, about, said):
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
                photo=incoming.photo,
                sent_at=incoming.sent_at,
                key=_key(incoming, own=incoming.edited),
                amends=_key(incoming) if incoming.edited else None,
            ),
        )

    async def _answer(
        self,
        incoming: Incoming,
        person: Person,
        oven: OvenCard,
        record: Record,
        about: About,
        said: Understood,
    ) -> bool:
        """Take words as the answer to a question of the set-up; False if they are none."""
        if any(remark.kind in GRAVE for remark in said.meanings):
            return False
        text = incoming.text or ""
        if about is About.PLACE:
            options = await asyncio.to_thread(self._places_named, text)
            if len(options) > 1:
                asked = SetUpQuestion(
                    about=about,
                    options=options,
                    step=1 + sum(one in record.answers for one in ASKED),
                    steps=len(ASKED),
                )
                await self._say(incoming, person, asked, oven)
                return True
            value = options[0].value if options else None
        else:
            asked_at = incoming.sent_at.astimezone(record.zoneinfo)
            value = set_up_words.answer(
                about,
                text,
                set_up_words.Asked(
                    unit=person.unit,
                    now=asked_at,
                    zone=record.zone,
                    own=tuple(record.own_constructions),
                ),
            )
        talk = {remark.kind for remark in said.meanings} - {"yes", "no", "reading"}
        if value is None and talk:
            return False
        await self._choose(
            incoming, person, oven.id, SetUpAnswer(about=about, value=value or text[:100])
        )
        return True

    async def _choose(self, incoming: Incoming, person: Person, oven: str, choice: Choice) -> None:
        if isinstance(choice, SetUpAnswer) and choice.about is About.UNITS:
            # Before the answer is told, so that it is told in the unit that was chosen.
            person = await self._in_unit(person, choice.value)
        key = _key(incoming, own=incoming.press is not None or incoming.edited)
        await self._happen(incoming, person, oven, Chose(person.id, choice, key=key))

    async def _happen(
        self, incoming: Incoming, person: Person, oven: str, happening: Happening
    ) -> Outcome | None:
        at = (incoming.channel, incoming.key)
        outcome = await self._house.engine.happen(oven, happening, inbox=at)
        if isinstance(happening, Chose | Begun) and outcome is not None:
            await self._keep_in_step(person, await self._house.engine.record(oven))
        return outcome

    # ------------------------------------------------------------ reading

    def _understood(self, incoming: Incoming, person: Person, record: Record) -> Understood:
        if not incoming.text:
            return Understood()
        makeup, last = record.makeup, record.last_believed
        instrument = makeup.instrument if makeup is not None else None
        setting = Setting(
            unit=person.unit,
            now=incoming.sent_at.astimezone(record.zoneinfo),
            expect=expectation(record, self._house.clock.now()),
            last_top_c=crown_c(last) if last is not None else None,
            instrument_max_c=instrument.max_c if instrument is not None else None,
        )
        return understand(incoming.text, setting)

    def _bare_setting(self, incoming: Incoming, person: Person) -> Setting:
        return Setting(unit=person.unit, now=incoming.sent_at.astimezone(ZoneInfo(person.zone)))

    def _asked(self, incoming: Incoming, record: Record) -> About | None:
        """The question of the set-up that is open, or that an edited message answered."""
        if incoming.edited:
            key = _key(incoming)
            edited = [e for e in record.all_of(Answered) if e.key == key]
            return edited[-1].about if edited else None
        question = record.question
        if question is None or not question.what.startswith("set_up:"):
            return None
        about = About(question.what.removeprefix("set_up:"))
        since = record.facts[record.facts.index(question) :]
        if any(isinstance(entry, Answered) and entry.about is about for entry in since):
            return None
        return about

    # ------------------------------------------------------------ places

    def _book(self) -> PlaceBook:
        if self._places is None:
            self._places = self._make_places()
        return self._places

    def _place_at(self, latitude: float, longitude: float) -> str:
        """In the notation of ``About.PLACE``; words that are refused, where there is no land."""
        try:
            place = self._book().at(latitude, longitude)
        except (NoLandError, ValueError):
            return f"{latitude:g}, {longitude:g}"
        return f"{place.latitude},{place.longitude},{place.zone},"

    def _places_named(self, text: str) -> tuple[Option, ...]:
        """What a typed place may mean, one option if it is clear."""
        degrees = _degrees(text)
        if degrees is not None:
            value = self._place_at(*degrees)
            return (Option(value=value),)
        found = self._book().named(_bare_place(text))
        if len(found) > 1 and found[0].people > MUCH_LARGER * found[1].people:
            found = found[:1]
        return tuple(
            Option(
                value=f"{one.latitude},{one.longitude},{one.zone},{one.name}",
                title=", ".join(part for part in (one.name, one.region, one.country) if part),
            )
            for one in found
        )

    # ------------------------------------------------------------ people in step

    async def _in_unit(self, person: Person, value: str) -> Person:
        if value not in ("C", "F") or value == person.unit:
            return person
        return await self._put(person.model_copy(update={"unit": value}))

    async def _keep_in_step(self, person: Person, record: Record) -> None:
        """Quiet hours are those of the oven's own zone."""
        place = record.answers.get(About.PLACE)
        try:
            zone = place_of(place).zone if place else None
        except Refused:
            zone = None
        if zone is not None and zone != person.zone:
            await self._put(person.model_copy(update={"zone": zone}))

    # ------------------------------------------------------------ saying

    async def _say(
        self, incoming: Incoming, person: Person, meaning: Meaning, oven: OvenCard | None = None
    ) -> None:
        """Answer without any oven's record being changed."""
        now = self._house.clock.now()
        parcel = self._house.voice.render(meaning, person, person.zone, now)
        letter = Letter(
            id=self._house.new_id(),
            person=person.id,
            oven=oven.id if oven is not None else None,
            parcel=parcel,
            urgency=Urgency.ANSWER,
            created_at=now,
            not_before=now,
            button_keys=button_keys(parcel, self._house.new_id),
        )
        async with self._house.store.write() as unit:
            if await unit.inbox.done(incoming.channel, incoming.key):
                await unit.outbox.post(letter)
                await unit.commit()


MUCH_LARGER = 8
"""A town so many times larger than its namesakes is taken to be meant (own choice)."""


def _key(incoming: Incoming, own: bool = False) -> str:
    """The journal's name of a message; ``own`` names this very update of it."""
    part = incoming.key if own or not incoming.message else f"{incoming.chat}/{incoming.message}"
    return f"{incoming.channel}:{part}"


def _degrees(text: str) -> tuple[float, float] | None:
    parts = text.replace("°", " ").replace(";", " ").replace(", ", " ").replace(",", " ").split()
    try:
        latitude, longitude = (float(part) for part in parts)
    except ValueError:
        return None
    return (latitude, longitude) if abs(latitude) <= 90 and abs(longitude) <= 180 else None


def _bare_place(text: str) -> str:
    """Without "I live in", "near", "it is at"."""
    words = text.strip(" .!").split()
    lead = {"i", "i'm", "im", "live", "in", "near", "at", "it's", "its", "it", "is", "the", "we",
            "are", "just", "outside", "of", "from", "oven", "stands", "my", "a", "village",
            "town", "close", "to", "next"}  # fmt: skip
    start = next((i for i, word in enumerate(words) if word.lower() not in lead), 0)
    return " ".join(words[start:])
