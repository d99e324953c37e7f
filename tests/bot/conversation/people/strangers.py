"""Two builders and five owners who invite, move, leave, erase and guess, in any order.

Whatever names somebody or something carries a token of its own, such as ``qz17q``. A letter may
hold those tokens alone that its reader may know of, by what the store says before the step or
after it; and a guess is answered byte for byte like one at what was never there.
"""

import asyncio
import re
from collections.abc import Callable, Coroutine
from dataclasses import dataclass, field
from datetime import timedelta
from itertools import count
from typing import Any, TypeVar

from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule

from bot.conversation.heard import Listener
from bot.wording.voice import Voice
from scheduling.choice import (
    About,
    Agreeing,
    Casing,
    Choice,
    Command,
    CommandName,
    Erasing,
    Filling,
    Inviting,
    Jotting,
    Keep,
    Leaving,
    Opening,
    Ordering,
    OrderName,
    Preparing,
    Renewing,
    Revoking,
    Talking,
)
from scheduling.clock import SteppedClock
from scheduling.journal import Finished, Noted
from scheduling.ports import Builder, Invitation, Letter, OvenCard, Person, Store, digest_of
from scheduling.waking.carrying import Sent
from tests.bot.conversation.desk import CODES, EVENING, Desk

T = TypeVar("T")

BUILDERS = ("bea", "elm")
OWNERS = ("ana", "ben", "clo", "dov", "eve")
EVERYBODY = (*BUILDERS, *OWNERS)

WHO = st.sampled_from(EVERYBODY)
PICK = st.integers(0, 10_000)

NOWHERE = "id-of-nothing-at-all"

Attempt = Callable[[str], tuple[str | None, Choice]]
"""A button about something: the oven of its letter, and what it does."""

TOKEN = re.compile(r"qz\d+q")
CODE = re.compile(r"<b>(id-[^<]+)</b>")

COMMANDS = (
    "/invite", "/second", "/invitations", "/team", "/leave", "/erase", "/start", "/now", "/roster",
    "/statistics", "/ways", "/settings", "/record", "/plan", "/help", "firing", "/week",
    "/export", "oven", "size: 80 cm",
)  # fmt: skip


WIDE = ((About.SIZE, "900"),)


class Ear(Listener):
    """Remembers whole letters."""

    def __init__(self, clock: SteppedClock) -> None:
        super().__init__(clock)
        self.letters: list[tuple[str, Letter]] = []

    async def send(self, letter: Letter, person: Person, edit_ref: str | None = None) -> Sent:
        self.letters.append((person.address, letter))
        return await super().send(letter, person, edit_ref)


@dataclass
class World:
    """What the store says, as far as it bears on who may see what."""

    people: dict[str, Person] = field(default_factory=dict)
    ovens: dict[str, OvenCard] = field(default_factory=dict)
    notes: dict[str, frozenset[str]] = field(default_factory=dict)
    builders: dict[str, Builder] = field(default_factory=dict)
    invited: dict[str, frozenset[str]] = field(default_factory=dict)
    """Tokens of open invitations, by builder or oven."""

    def may_know(self, who: str) -> set[str]:
        """Tokens of what is theirs, or their team's."""
        person = self.people.get(who)
        if person is None:
            return set()
        found = tokens(person.name)
        if person.builder is not None:
            found |= self._of_builder(person.builder)
            found |= self.invited.get(person.builder, frozenset())
            for other in self.people.values():
                if other.builder == person.builder:
                    found |= tokens(other.name)
        for card in self.ovens.values():
            if person.id in card.owners or (person.builder and card.builder == person.builder):
                found |= tokens(card.name) | self.notes[card.id]
                found |= self._of_builder(card.builder) | self.invited.get(card.id, frozenset())
                for other in self.people.values():
                    if other.id in card.owners:
                        found |= tokens(other.name)
        return found

    def _of_builder(self, builder_id: str | None) -> set[str]:
        builder = self.builders.get(builder_id or "")
        return tokens(builder.name) if builder is not None else set()


def sees(person: Person, card: OvenCard) -> bool:
    of_team = person.builder is not None and person.builder == card.builder
    return person.id in card.owners or of_team


def may_take_back(person: Person, one: Invitation, world: World) -> bool:
    if one.oven is not None:
        return one.oven in world.ovens and person.id in world.ovens[one.oven].owners
    return one.builder == person.builder


def tokens(text: str) -> set[str]:
    return set(TOKEN.findall(text))


class Strangers(RuleBasedStateMachine):
    """The machine; ``open`` makes the store."""

    def open(self) -> Store:
        raise NotImplementedError

    def dump(self) -> str:
        """All that the store holds."""
        raise NotImplementedError

    def __init__(self) -> None:
        super().__init__()
        self.runner = asyncio.Runner()
        self.store = self.open()
        clock = SteppedClock(EVENING)
        self.ear = Ear(clock)
        self.desk = Desk(
            channel="telegram",
            voice=Voice(),
            store=self.store,
            clock=clock,
            listener=self.ear,
            quiet=None,
        )
        self.numbers = count(1)
        self.names = {who: self.token() for who in EVERYBODY}
        self.codes: list[str] = []
        self.keys: list[tuple[str, str]] = []
        """Keys of buttons that were shown, and to whom."""
        self.gone: list[str] = []
        """Names of people who were erased."""
        self.holding: set[str] = set()
        """Tokens that whoever holds a code may be told."""

    def run(self, work: Coroutine[Any, Any, T]) -> T:
        return self.runner.run(work)

    def token(self) -> str:
        return f"qz{next(self.numbers)}q"

    def teardown(self) -> None:
        self.run(self.store.close())
        self.runner.close()

    @initialize()
    def two_builders_and_their_clients(self) -> None:
        """Eve is a stranger; Dov fires alone; Ben helps Ana."""
        for builder, client in (("bea", "ana"), ("elm", "clo")):
            self.says(builder, f"/start {CODES.builder}")
            self.says(builder, f"/team name {self.token()}")
            self.says(builder, f"/invite {self.token()}")
            self.comes_with(client, self.codes[-1])
            self.something_is_written_down(client, 0)
            self.says(builder, f"/invite {self.token()}")
            self.says(builder, "/invitations")
        self.says("dov", f"/start {CODES.owner}")
        self.says("ana", f"/second {self.token()}")
        self.comes_with("ben", self.codes[-1])

    # ------------------------------------------------------------ what they do

    @rule(who=WHO, pick=PICK)
    def somebody_invites(self, who: str, pick: int) -> None:
        command = ("/invite", "/second", "/team")[pick % 3]
        self.says(who, f"{command} {self.token()}")

    @rule(who=WHO, pick=PICK)
    def somebody_comes_with_a_code(self, who: str, pick: int) -> None:
        if self.codes:
            self.comes_with(who, self.codes[-1 - pick % min(len(self.codes), 6)])

    def comes_with(self, who: str, code: str) -> None:
        self.says(who, f"/start {code}", holding=self.run(self.held_by(code)))

    @rule(who=WHO, pick=PICK)
    def somebody_fires_alone(self, who: str, pick: int) -> None:
        self.says(who, f"/start {CODES.owner if pick % 2 else CODES.builder}")

    @rule(who=WHO, pick=PICK)
    def somebody_gives_a_command(self, who: str, pick: int) -> None:
        self.says(who, COMMANDS[pick % len(COMMANDS)])

    @rule(who=WHO, pick=PICK)
    def somebody_presses_a_button_of_theirs(self, who: str, pick: int) -> None:
        mine = [key for key, owner in self.keys if owner == who]
        if mine:
            self.presses(who, mine[-1 - pick % min(len(mine), 8)])

    @rule(who=WHO, pick=PICK, keeps=st.sampled_from(Keep))
    def somebody_says_what_may_be_kept(self, who: str, pick: int, keeps: Keep) -> None:
        if card := self.an_oven_of(who, pick):
            self.chooses(who, card.id, Agreeing(keeps=keeps))

    @rule(who=WHO, pick=PICK, keeps=st.none() | st.sampled_from(Keep))
    def somebody_leaves_an_oven(self, who: str, pick: int, keeps: Keep | None) -> None:
        if card := self.an_oven_of(who, pick):
            self.chooses(who, None, Leaving(what="oven", which=card.id, keeps=keeps))

    @rule(who=WHO)
    def somebody_is_erased(self, who: str) -> None:
        name = self.names[who]
        if self.world().people.get(who) is None:
            return
        self.chooses(who, None, Erasing(yes=True))
        self.gone.append(name)
        self.names[who] = self.token()
        self.time_passes(0)

    @rule(who=WHO, pick=PICK)
    def something_is_written_down(self, who: str, pick: int) -> None:
        if card := self.an_oven_of(who, pick):
            person = self.world().people[who]
            entry = Noted(at=self.desk.clock.now(), by=person.id, text=self.token())
            self.run(self.write(card.id, entry))

    @rule(who=WHO, pick=PICK)
    def a_break_in_ends(self, who: str, pick: int) -> None:
        if card := self.an_oven_of(who, pick):
            self.run(self.write(card.id, Finished(at=self.desk.clock.now())))

    @rule(pick=PICK)
    def time_passes(self, pick: int) -> None:
        hours = (0.1, 1, 50)[pick % 3]
        self.desk.clock.move_to(self.desk.clock.now() + timedelta(hours=hours))
        self.act(self.desk.sweeping.look())

    # ------------------------------------------------------------ what they try

    @rule(who=WHO, pick=PICK)
    def somebody_guesses_a_code(self, who: str, pick: int) -> None:
        """Whatever was ever an id, a key or a code, but opens nothing for them."""
        guess = self.a_guess(pick)
        if not self.run(self.opens(guess)):
            self.compare(who, f"/start {guess}", f"/start {NOWHERE}")

    @rule(who=WHO, pick=PICK)
    def somebody_presses_anothers_button(self, who: str, pick: int) -> None:
        others = [key for key, owner in self.keys if owner != who]
        guess = others[pick % len(others)] if others and pick % 4 else self.a_guess(pick)
        if guess not in {key for key, owner in self.keys if owner == who}:
            before = self.world()
            told = self.presses(who, guess)
            assert told == self.presses(who, NOWHERE)
            self.unchanged(before, who)

    @rule(who=WHO, pick=PICK)
    def somebody_names_what_is_not_theirs(self, who: str, pick: int) -> None:
        """By a button of their own, which names an id that they have somewhere come by."""
        world = self.world()
        person = world.people.get(who)
        if person is None:
            return
        ovens = [card.id for card in world.ovens.values() if person.id not in card.owners]
        unseen = [card.id for card in world.ovens.values() if not sees(person, card)]
        ovens_of_others = [
            card.id
            for card in world.ovens.values()
            if person.builder is None or card.builder != person.builder
        ]
        teams = [team for team in world.builders if team != person.builder]
        invited = [
            one.id for one in self.run(self.invitations()) if not may_take_back(person, one, world)
        ]
        attempts: tuple[tuple[list[str], Attempt], ...] = (
            (ovens, lambda it: (None, Leaving(what="oven", which=it, keeps=Keep.NOTHING))),
            (ovens, lambda it: (it, Agreeing(keeps=Keep.NOTHING))),
            (ovens, lambda it: (None, Inviting(opens="second", oven=it))),
            (unseen, lambda it: (it, Command(name=CommandName.PLAN))),
            (unseen, lambda it: (it, Ordering(name=OrderName.HOLD))),
            (unseen, lambda it: (it, Opening(part="journal"))),
            (unseen, lambda it: (None, Opening(oven=it))),
            (unseen, lambda it: (it, Jotting(text="a note"))),
            (unseen, lambda it: (it, Casing(what="take"))),
            (unseen, lambda it: (it, Talking(what="open"))),
            (unseen, lambda it: (it, Preparing())),
            (unseen, lambda it: (None, Preparing(oven=it, about=About.SIZE))),
            (unseen, lambda it: (None, Filling(answers=WIDE, oven=it))),
            (ovens_of_others, lambda it: (it, Filling(answers=WIDE))),
            (teams, lambda it: (None, Leaving(what="team", which=it))),
            (invited, lambda it: (None, Revoking(invitation=it))),
            (invited, lambda it: (None, Renewing(invitation=it))),
            (invited, lambda it: (None, Preparing(invitation=it))),
            (invited, lambda it: (None, Filling(answers=WIDE, invitation=it))),
        )
        for foreign, attempt in attempts:
            if foreign:
                told = self.chooses(who, *attempt(foreign[pick % len(foreign)]))
                assert told == self.chooses(who, *attempt(NOWHERE))
        self.unchanged(world, who)

    @rule(who=WHO, pick=PICK)
    def somebody_searches_for_a_name(self, who: str, pick: int) -> None:
        """One that is not theirs is found no more than one that nobody bears."""
        world = self.world()
        named = {t for card in world.ovens.values() for t in tokens(card.name)}
        foreign = sorted(named - world.may_know(who))
        if foreign:
            name, nobody = foreign[pick % len(foreign)], self.token()
            self.says(who, f"find {nobody}")
            told = [one.replace(name, "") for one in self.says(who, f"find {name}")]
            assert told == [one.replace(nobody, "") for one in self.says(who, f"find {nobody}")]

    # ------------------------------------------------------------ what always holds

    @invariant()
    def cards_say_what_journals_say(self) -> None:
        for card in self.world().ovens.values():
            record = self.run(self.desk.engine.record(card.id))
            if record.entries:
                assert record.card(card, self.desk.clock.now()) == card

    @invariant()
    def the_erased_are_nowhere(self) -> None:
        kept = self.dump()
        assert [name for name in self.gone if name in kept] == []

    # ------------------------------------------------------------ doing it

    def says(self, who: str, text: str, holding: set[str] | None = None) -> list[str]:
        said = self.desk.say(who, text, sender_name=self.names[who])
        return self.act(said, who, (holding or set()) | tokens(text))

    def presses(self, who: str, key: str) -> list[str]:
        named = self.desk.incoming(who, press=key, sender_name=self.names[who])
        # Whoever was asked about an invitation may go on with it.
        return self.act(self.desk.receive(named), who, self.holding)

    def chooses(self, who: str, oven: str | None, choice: Choice) -> list[str]:
        person = self.world().people.get(who)
        if person is None:
            return []
        return self.presses(who, self.run(self.desk.button(person.id, oven, choice)))

    def act(self, work: Coroutine[Any, Any, Any], who: str = "", told: Any = ()) -> list[str]:
        """Do it; every letter that follows is looked at. Returns those to who acted."""
        before, start = self.world(), len(self.ear.letters)
        self.run(work)
        self.run(self.desk.told("nobody"))
        after = self.world()
        answers = []
        for reader, letter in self.ear.letters[start:]:
            shown = letter.parcel.model_dump_json()
            allowed = before.may_know(reader) | after.may_know(reader)
            if reader == who:
                allowed |= set(told)
                answers.append(without_ids(shown))
            assert tokens(shown) <= allowed, (reader, letter.parcel.text, tokens(shown) - allowed)
            self.codes += CODE.findall(letter.parcel.text)
            self.keys += [(key, reader) for key in letter.button_keys.values()]
        return answers

    def compare(self, who: str, guess: str, nothing: str) -> None:
        self.says(who, nothing)
        before = self.world()
        told = self.says(who, guess)
        assert told == self.says(who, nothing)
        self.unchanged(before, who)

    def unchanged(self, before: World, who: str) -> None:
        after = self.world()
        known = before.people.keys() | {who}
        assert {w: p for w, p in after.people.items() if w in known - {who}} == {
            w: p for w, p in before.people.items() if w != who
        }
        assert (after.ovens, after.builders, after.invited, after.notes) == (
            before.ovens,
            before.builders,
            before.invited,
            before.notes,
        )

    # ------------------------------------------------------------ looking

    def an_oven_of(self, who: str, pick: int) -> OvenCard | None:
        world = self.world()
        person = world.people.get(who)
        if person is None:
            return None
        mine = [card for card in world.ovens.values() if person.id in card.owners]
        return mine[pick % len(mine)] if mine else None

    def a_guess(self, pick: int) -> str:
        world = self.world()
        known = [*self.codes, *world.ovens, *world.builders]
        known += [person.id for person in world.people.values()]
        known += [key for key, _ in self.keys[-20:]]
        return known[pick % len(known)]

    def world(self) -> World:
        return self.run(self.look())

    async def look(self) -> World:
        world, now = World(), self.desk.clock.now()
        async with self.store.read() as unit:
            for who in EVERYBODY:
                person = await unit.people.at("telegram", who)
                if person is not None:
                    world.people[who] = person
                    for card in await unit.ovens.of_person(person.id):
                        world.ovens[card.id] = card
            teams = {p.builder for p in world.people.values() if p.builder is not None}
            for team in sorted(teams):
                builder = await unit.builders.get(team)
                if builder is not None:
                    world.builders[team] = builder
                open_ones = await unit.invitations.open_for_builder(team, now)
                world.invited[team] = frozenset(t for one in open_ones for t in tokens(one.name))
                for card in await unit.ovens.of_builder(team):
                    world.ovens[card.id] = card
            for card in world.ovens.values():
                journal = await unit.ovens.journal(card.id)
                noted = (one.entry.text for one in journal if isinstance(one.entry, Noted))
                world.notes[card.id] = frozenset(t for text in noted for t in tokens(text))
                found = await unit.invitations.open_for_oven(card.id, now)
                world.invited[card.id] = frozenset(t for one in found for t in tokens(one.name))
        return world

    async def held_by(self, code: str) -> set[str]:
        """What whoever holds an open code may be told: the builder's name, and whom it is for."""
        async with self.store.read() as unit:
            found = await unit.invitations.by_digest(digest_of(code))
            if found is None or not found.is_open(self.desk.clock.now()):
                return set()
            builder = await unit.builders.get(found.builder or "")
        known = tokens(found.name) | (tokens(builder.name) if builder is not None else set())
        self.holding |= known
        return known

    async def opens(self, code: str) -> bool:
        async with self.store.read() as unit:
            found = await unit.invitations.by_digest(digest_of(code))
        return found is not None and found.is_open(self.desk.clock.now())

    async def invitations(self) -> list[Invitation]:
        async with self.store.read() as unit:
            found = [await unit.invitations.by_digest(digest_of(code)) for code in self.codes]
        return [one for one in found if one is not None]

    async def write(self, oven_id: str, *entries: Any) -> None:
        async with self.desk.engine.standing_still(oven_id), self.store.write() as unit:
            journal = await unit.ovens.journal(oven_id)
            await unit.ovens.append(oven_id, len(journal), entries)
            card = await unit.ovens.get(oven_id)
            await unit.commit()
        assert card is not None
        record = await self.desk.engine.record(oven_id)
        async with self.store.write() as unit:
            await unit.ovens.put(record.card(card, self.desk.clock.now()))
            await unit.commit()


def without_ids(shown: str) -> str:
    """A letter without ids that are new in each: those of what it is about."""
    return re.sub(r"id-\d{12}", "id", shown)
