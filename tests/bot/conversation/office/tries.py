"""A builder who types orders as people do, at clients whose names begin alike or are words.

Each try means one client, or nobody; what the journals then hold is compared with that. The script
knows whom it means because it says so itself: nothing here asks the house.
"""

import random
from collections.abc import Awaitable, Callable

from bot.conversation.heard import Heard
from scheduling.journal import Order
from tests.bot.conversation.office.van import Van

NAMES = (
    "Max", "Maxine", "Max Moor", "Maxim Hill", "Ivy", "Ivy Moor", "Ivo", "Rob", "Robin Hill", "May",
    "Maya", "Hold", "Will Moor", "Mark", "Clear", "Norma",
)  # fmt: skip
"""Beginnings alike, surnames alike, and names that are words of an order."""

SHARED = {"Max": ("Max Moor",), "Ivy": ("Ivy Moor",)}
"""Whoever types these may mean others too, and is asked."""

HOURS = (0.2, 1.0, 5.0, 9.0, 30.0)

Try = Callable[[], Awaitable[None]]


class Tries:
    """``play`` one seed after the other; ``wrong`` are orders at ovens that were not meant."""

    def __init__(self) -> None:
        self.van = Van()
        self.wrong: list[str] = []
        self.given = 0
        self.asked = 0
        self.missed: list[str] = []
        self._chance = random.Random(0)
        self._seen: list[tuple[Heard, str]] = []
        self._before: dict[str, int] = {}
        self._day = 0
        self._typed: list[str] = []

    async def settle_in(self) -> None:
        """The team and its clients."""
        await self.van.team("beth", "jo")
        for name in NAMES:
            await self.van.client(_id(name), oven=name)
        for name in NAMES:
            await self._open(name)

    async def play(self, seed: int) -> None:
        """One try, from a list that lies open to the journals of all."""
        self._chance = random.Random(seed)
        self._typed = []
        await self._say("list")
        await self._chance.choice(self.ways)()

    @property
    def ways(self) -> tuple[Try, ...]:
        return (
            self.by_a_name, self.by_a_name, self.by_a_name_and_a_tap, self.by_a_reply,
            self.by_a_reply, self.on_the_open_card, self.on_a_card_left_open, self.after_others,
            self.for_all_and_for_none, self.in_a_talk, self.by_a_reply_that_names_another,
            self.by_a_name_alone, self.by_part_of_a_name,
        )  # fmt: skip

    # ------------------------------------------------------------ ways to mean somebody

    async def by_a_name(self) -> None:
        """Another's card lies open; who is named has the order, and nobody else."""
        await self._open(self._other())
        meant = self._other(*SHARED)
        await self._say(self._named(meant))
        await self._only(meant, surely=True)

    async def by_a_name_and_a_tap(self) -> None:
        """Several are called so: it is asked, and the tap says who."""
        meant = self._chance.choice([*SHARED])
        await self._open(self._other(meant))
        await self._say(self._named(meant))
        await self._only(None)
        await self._tap(meant)
        await self._only(meant, surely=True)

    async def by_a_reply(self) -> None:
        """To a message of long ago, with another's card open."""
        message, meant = self._chance.choice(self._seen)
        await self._open(self._other(meant))
        await self._say(self._bare(), message)
        await self._only(meant, surely=True)

    async def on_the_open_card(self) -> None:
        """Just opened, and nothing since."""
        meant = self._other()
        await self._open(meant)
        await self._for_the_open_card(meant)

    async def on_a_card_left_open(self) -> None:
        """Hours ago: nobody has the order before the tap."""
        opened = self._other()
        await self._open(opened)
        await self.van.wait(hours=self._chance.choice(HOURS[1:]))
        await self._say(self._bare())
        await self._only(None)

    async def after_others(self) -> None:
        """A danger at another oven was told since: it may be meant as well."""
        opened = self._other()
        await self._open(opened)
        told = self._other(opened)
        before = len(self.van.told("beth"))
        await self.van.say(_id(told), "popping noises, bits are flaking off")
        heard_of_it = any(told in text for text in self.van.told("beth")[before:])
        await self._say(self._bare())
        await self._only(None if heard_of_it else opened)

    async def for_all_and_for_none(self) -> None:
        """Never the one open card."""
        await self._open(self._other())
        await self._say(
            self._chance.choice(
                ["hold all", "no fires for anybody today", "on hold", "hold everybody, storm",
                 "cap all at 200", "nobody fires tomorrow", "hold everyone in Kew", "repeat all",
                 "all: no fire tomorrow", "hold all but Ivy Moor", "who is on hold?"]
            )
        )  # fmt: skip
        await self._only(None)

    async def in_a_talk(self) -> None:
        """What is typed is said or asked about, and orders nothing."""
        talking = self._other()
        await self._open(talking)
        await self._say("talk")
        if not self.van.last("beth").text.startswith("What you type now goes to"):
            return
        for typed in (self._bare(), self._named(self._other()), "hold all"):
            await self._say(typed)
        await self._only(None)
        await self._say("end talk")

    async def by_a_reply_that_names_another(self) -> None:
        """The message is about one, the words name another."""
        message, about = self._chance.choice(self._seen)
        other = self._other(about, *SHARED)
        await self._say(self._named(other), message)
        await self._only(None)

    async def by_a_name_alone(self) -> None:
        """It opens that card, and orders nothing; the next order is for that one."""
        await self._open(self._other())
        meant = self._other(*SHARED, "Hold", "Clear")
        await self._say(meant.lower())
        await self._only(None)
        await self._for_the_open_card(meant)

    async def by_part_of_a_name(self) -> None:
        """Half a name is nobody's: it is asked."""
        await self._open(self._other())
        await self._say(self._chance.choice(["hold maxi", "cap robi 150", "hold mo", "hold wil"]))
        await self._only(None)

    async def _for_the_open_card(self, meant: str) -> None:
        """It is theirs, unless the house told of somebody else before the order was typed."""
        opened = len(self.van.heard)
        await self._say(self._bare())
        told = [one.text for one in self.van.heard[opened:] if one.to == "beth"]
        news = any(text.startswith(f"{name}: ") for text in told for name in NAMES if name != meant)
        await self._only(meant, surely=not news)

    # ------------------------------------------------------------ typing

    def _named(self, name: str) -> str:
        day = self._some_day()
        typed = self._chance.choice([name, name.lower(), f"{name}’s oven"])
        return self._chance.choice(
            [f"no fire for {typed} on {day}", f"{typed}: no fire on {day}",
             f"{typed}, no fire on {day}", f"no fire on {day} for {typed}",
             f"no fire for {typed} on {day}, storm", f"no fire on {day}: {typed}"]
        )  # fmt: skip

    def _bare(self) -> str:
        return f"no fire on {self._some_day()}" + self._chance.choice(["", ", storm", ", too wet"])

    def _some_day(self) -> str:
        self._day += 1
        return (
            f"{1 + self._day % 28} {('June', 'July', 'August', 'September')[self._day // 28 % 4]}"
        )

    def _other(self, *but: str) -> str:
        return self._chance.choice([one for one in NAMES if one not in but])

    async def _open(self, name: str) -> None:
        """By its button in the list of who is found, as one opens a card among many of a name."""
        await self.van.say("beth", f"find {name}")
        shown = self.van.last("beth")
        if not shown.text.startswith(f"{name}") or shown.text.split(" · ")[0].split(",")[0] != name:
            label = next(one for one in shown.labels if one.partition(" ")[2] == name)
            await self.van.press("beth", label)
        self._seen.append((self.van.last("beth"), name))
        self._before = await self._orders()

    async def _say(self, text: str, answering: Heard | None = None) -> None:
        self._typed.append(text)
        if answering is None:
            await self.van.say("beth", text)
        else:
            await self.van.reply("beth", answering, text)

    async def _tap(self, name: str) -> None:
        shown = self.van.last("beth")
        label = next((one for one in shown.labels if one.endswith(f" {name}")), None)
        if label is None:
            self.missed.append(f"{self._typed}: no button for {name}; {shown.text} {shown.labels}")
        else:
            await self.van.press("beth", label)

    # ------------------------------------------------------------ what came of it

    async def _only(self, meant: str | None, *, surely: bool = False) -> None:
        now = await self._orders()
        grown = [name for name in NAMES if now[name] > self._before.get(name, 0)]
        self._before = now
        wrong = [name for name in grown if name != meant]
        self.wrong += [f"{self._typed}: for {meant}, but {name}" for name in wrong]
        self.given += len(grown)
        self.asked += meant is None
        if surely and meant not in grown:
            self.missed.append(f"{self._typed}: not for {meant}; {self.van.last('beth').text}")

    async def _orders(self) -> dict[str, int]:
        counts = {}
        for name in NAMES:
            record = await self.van.record(_id(name))
            counts[name] = sum(isinstance(one, Order) for one in record.entries)
        return counts


def _id(name: str) -> str:
    return name.replace(" ", "").lower()
