"""Sorts what a builder's people type, send and press about themselves, their list and their week.

It stands before the office: what it leaves alone is about one client, or a search.
"""

import re
from datetime import datetime

from bot.clientlist.columns import lines_in
from bot.clientlist.reading import decoded, is_sheet
from bot.conversation.clients.exporting import Exports
from bot.conversation.clients.filling import MakeUps
from bot.conversation.clients.importing import Imports
from bot.conversation.clients.introducing import Introductions, is_open
from bot.conversation.clients.week import Weeks
from bot.conversation.clients.whose import whose
from bot.conversation.door import oven_at_hand
from bot.conversation.foundation import Foundation
from bot.conversation.incoming import Incoming
from bot.conversation.office.office import LIES_OPEN
from bot.conversation.office.roster import wanted_of
from bot.conversation.office.whom import answered
from bot.conversation.people.inviting import is_called
from bot.conversation.sent_files import content_of
from bot.conversation.setting_up import SettingUp
from bot.understanding.addressing import heard
from bot.understanding.names import words_of
from bot.understanding.office_words import Find, Town, wish_of
from bot.understanding.orders import confirming
from bot.understanding.phones import phone_in
from scheduling.choice import (
    Calendaring,
    Command,
    CommandName,
    Filling,
    Importing,
    Introducing,
    Listing,
    Preparing,
)
from scheduling.emergency import country_of
from scheduling.ports import Asking, InHand, Opens, OvenCard, Person, Pressed

Answered = frozenset[str] | None
"""The ovens of the message that was answered; None for no reply."""

CLIENTS_CHOICES = (Preparing, Filling, Importing, Introducing, Calendaring)
"""Choices that only somebody of a builder's team can make."""

_WEEK = re.compile(r"(?:the |my |this )?(?:week(?: ahead)?|calendar)", re.IGNORECASE)
_IMPORT = re.compile(r"import(?: (?:the |my |a )?(?:list|clients|file))?", re.IGNORECASE)
_EXPORT = re.compile(r"export(?: (?:the |my )?(?:list|clients))?", re.IGNORECASE)
_SEARCH = re.compile(r"(?:find|open|show|search)\b", re.IGNORECASE)
_TOWN = re.compile(r"my (?:town|place|zone)\b", re.IGNORECASE)
"""Said by somebody with an oven of their own: "I'm in …" may go on otherwise at a fire."""

_MAKE_UP = re.compile(r"(?:the |their )?(?:oven|make-?up)", re.IGNORECASE)
_NAME = re.compile(r"(?:call me|my name is)\s+(?P<name>\S.*)", re.IGNORECASE)
_COMMANDS = frozenset({CommandName.WEEK, CommandName.IMPORT, CommandName.EXPORT})


class ClientsDesk:
    """``hear`` and ``press`` say whether it was theirs to answer at all."""

    def __init__(self, base: Foundation, setting_up: SettingUp) -> None:
        self._base = base
        self._introductions = Introductions(base, setting_up)
        self._make_ups = MakeUps(base, setting_up)
        self._imports = Imports(base, setting_up)
        self._exports = Exports(base)
        self._weeks = Weeks(base)

    async def came(self, before: Person) -> None:
        """Somebody came with a code, or was let in: ask who they are, if it made them one of a
        team."""
        await self._introductions.begin(before)

    # ------------------------------------------------------------ what is pressed

    async def press(self, incoming: Incoming, person: Person, pressed: Pressed) -> bool:
        """Act on a button. False for one that is none of theirs; a question is then over."""
        if person.builder is None:
            return False
        hand = await self._hand(person)
        match pressed.choice:
            case Preparing() as said:
                if not said.oven and not said.invitation:
                    said = said.model_copy(update={"oven": pressed.oven or ""})
                await self._make_ups.prepare(incoming, person, said, hand)
            case Filling() as said:
                if not said.oven and not said.invitation:
                    said = said.model_copy(update={"oven": pressed.oven or ""})
                await self._make_ups.fill(incoming, person, said, hand)
            case Importing(text=text):
                await self._imports.invite(incoming, person, text, pressed.letter)
            case Introducing() as said:
                await self._introductions.press(incoming, person, said, hand)
            case Calendaring() as said:
                await self._weeks.do(incoming, person, said)
            case Command(name=name) if name in _COMMANDS:
                await self._command(incoming, person, name)
            case _:
                await self._over(hand)
                return False
        return True

    # ------------------------------------------------------------ what is typed

    async def hear(self, incoming: Incoming, person: Person) -> bool:
        """Act on what somebody of a team typed or sent. False where it is about something else."""
        if person.builder is None:
            return False
        if incoming.file is not None:
            return await self._file(incoming, person)
        hand = await self._hand(person)
        if incoming.command is not None:
            await self._over(hand)
            if incoming.command.name not in _COMMANDS:
                return False
            await self._command(incoming, person, incoming.command.name)
            return True
        text = (incoming.text or "").strip()
        if not text or incoming.photo is not None or incoming.edited:
            return False
        async with self._base.store.read() as unit:
            own = await oven_at_hand(unit, person)
            about = await answered(unit, person, incoming)
        if self._is_talking(hand):
            return False
        return (
            await self._answer(incoming, person, hand, text, about)
            or await self._lines(incoming, person, hand, text, about)
            or await self._words(incoming, person, hand, text, own, about)
        )

    async def _answer(
        self, incoming: Incoming, person: Person, hand: InHand, text: str, about: Answered
    ) -> bool:
        """Words after a question of ours, unless they are plainly meant otherwise, or answer a
        message about another oven."""
        asking = hand.asking
        now = self._base.clock.now()
        if asking is None or not is_open(asking, now) or lines_in(text):
            return False
        elsewhere = about is not None and bool(about - {asking.oven})
        if elsewhere or await self._is_meant_otherwise(text, asking, person, now):
            await self._over(hand)
            return False
        if asking.what != "make_up":
            told = _NAME.fullmatch(text)
            words = told["name"] if told is not None else text
            await self._introductions.hear(
                incoming, person, asking.what, words, hand, first=asking.first
            )
            return True
        found = await whose(self._base, person, asking.oven, asking.invitation)
        if found is None or asking.about is None:
            return False
        if await self._make_ups.hear_answer(incoming, person, found, hand, asking.about):
            return True
        if await self._is_client(person, text):
            await self._over(hand)
            return False
        await self._make_ups.refuse(incoming, person, found, hand, asking.about)
        return True

    async def _lines(
        self, incoming: Incoming, person: Person, hand: InHand, text: str, about: Answered
    ) -> bool:
        """Lines like ``size: 80 cm`` about the oven of the message that they answer, else about the
        make-up, or the card, that lies open."""
        if is_sheet(text):
            await self._imports.look(incoming, person, text)
            return True
        if not lines_in(text):
            return False
        asking, open_oven = hand.asking, self._oven_meant(hand, about)
        if not about and asking is not None and asking.what == "make_up":
            found = await whose(self._base, person, asking.oven, asking.invitation)
        else:
            found = await whose(self._base, person, open_oven) if open_oven else None
        if found is None:
            return False
        await self._make_ups.hear_lines(incoming, person, found, hand, text)
        return True

    async def _words(
        self,
        incoming: Incoming,
        person: Person,
        hand: InHand,
        text: str,
        own: OvenCard | None,
        about: Answered,
    ) -> bool:
        plain = text.strip(" .!?")
        wish = wish_of(text)
        if told := _NAME.fullmatch(plain):
            await self._introductions.hear(incoming, person, "own_name", told["name"], hand)
        elif isinstance(wish, Town) and (own is None or _TOWN.match(plain)):
            await self._introductions.hear(incoming, person, "town", wish.name, hand)
        elif _WEEK.fullmatch(plain):
            await self._weeks.do(incoming, person, Calendaring())
        elif _IMPORT.fullmatch(plain):
            await self._imports.explain(incoming, person)
        elif _EXPORT.fullmatch(plain):
            await self._exports.show(incoming, person)
        elif isinstance(wish, Find) and (invited := await self._invited(person, wish)):
            await self._make_ups.prepare(incoming, person, invited, hand)
        elif _MAKE_UP.fullmatch(plain) and (oven := self._oven_meant(hand, about)):
            await self._make_ups.prepare(incoming, person, Preparing(oven=oven), hand)
        else:
            return False
        return True

    async def _file(self, incoming: Incoming, person: Person) -> bool:
        content = await content_of(self._base, incoming)
        text = decoded(content) if content is not None else None
        if text is None or not is_sheet(text):
            return False
        await self._imports.look(incoming, person, text)
        return True

    async def _command(self, incoming: Incoming, person: Person, name: CommandName) -> None:
        match name:
            case CommandName.WEEK:
                await self._weeks.do(incoming, person, Calendaring())
            case CommandName.IMPORT:
                await self._imports.explain(incoming, person)
            case _:
                await self._exports.show(incoming, person)

    # ------------------------------------------------------------ what lies open

    async def _hand(self, person: Person) -> InHand:
        async with self._base.store.read() as unit:
            return await unit.hands.of(person.id)

    async def _over(self, hand: InHand) -> None:
        """Something else was done: the next words answer no question of ours any more."""
        if hand.asking is None:
            return
        async with self._base.store.write() as unit:
            await unit.hands.put(hand.model_copy(update={"asking": None}))
            await unit.commit()

    async def _is_meant_otherwise(
        self, text: str, asking: Asking, person: Person, now: datetime
    ) -> bool:
        """A word of the office, an order, a yes, a phone number, or plainly an answer to another
        question."""
        wish = wish_of(text)
        if phone_in(text, country_of(person.zone)) is not None:
            return True
        if asking.what != "town" and _TOWN.match(text):
            return True
        if asking.what in ("town", "make_up") and _NAME.fullmatch(text):
            return True
        if wish is not None and not isinstance(wish, Find | Town):
            return True
        if isinstance(wish, Find) and _SEARCH.match(text):
            return True
        return confirming(text) is not None or await self._orders(person, text, now)

    async def _orders(self, person: Person, text: str, now: datetime) -> bool:
        """Whether it is an order, be it for one who is named or for many."""
        words = sorted({word for word, _, _ in words_of(text) if len(word) > 1})
        async with self._base.store.read() as unit:
            clients = await unit.ovens.called(person.builder or "", words)
        return bool(heard(text, clients, person.unit, now.date()).whole)

    async def _is_client(self, person: Person, text: str) -> bool:
        builder = person.builder or ""
        async with self._base.store.read() as unit:
            names = {one.name.casefold() for one in await unit.ovens.of_builder(builder)}
        return text.casefold() in names

    async def _invited(self, person: Person, wish: Find) -> Preparing | None:
        """The one who was invited and is called so, where no client is."""
        listing = Listing(text=wish.text)
        async with self._base.store.read() as unit:
            if (await unit.ovens.roster(wanted_of(person, listing))).total:
                return None
            now = self._base.clock.now()
            open_ones = await unit.invitations.open_for_builder(person.builder or "", now)
        called = [one for one in open_ones if one.opens is Opens.OVEN and is_called(one, wish.text)]
        return Preparing(invitation=called[0].id) if len(called) == 1 else None

    def _oven_meant(self, hand: InHand, about: Answered) -> str:
        """The one of the message that was answered, else whose card lies open; "" for none."""
        if about is None:
            return self._open_oven(hand)
        return next(iter(about)) if len(about) == 1 else ""

    def _open_oven(self, hand: InHand) -> str:
        since = hand.opened_at
        if hand.oven is None or since is None or self._base.clock.now() - since > LIES_OPEN:
            return ""
        return hand.oven

    def _is_talking(self, hand: InHand) -> bool:
        return hand.talking and bool(self._open_oven(hand))
