"""A Saturday of many clients with ten kinds of trouble, and a team of two in a van.

Owners light, write and fall silent by a fixed seed; the team takes every case that it hears of,
three minutes later. What is written down is who was told of what, and when.
"""

import heapq
import random
import re
from collections import defaultdict
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta

from bot.conversation.heard import Heard
from bot.wording.builder import LIT_ALTHOUGH, NEEDS
from bot.wording.clients import NEED_NAMES
from scheduling.happening import Delivery
from scheduling.hazard import Hazard
from scheduling.record import Need
from scheduling.record.standing import Concern
from tests.bot.conversation.office.van import MINUTE, Van

SATURDAY = datetime(2026, 5, 2, 8, 0, tzinfo=UTC)
SUNDAY_SEVEN = datetime(2026, 5, 3, 6, 0, tzinfo=UTC)
TEAM = ("beth", "jo")
TAKES = 3 * MINUTE

SAID: dict[str, str] = {
    "unwell": "i feel dizzy and have a headache",
    "popping": "popping noises, bits are flaking off",
    "flue": "flames coming out of the flue",
    "crack": "there is an open crack, it is growing",
    "hot": "230",
}
"""What owners write in a danger that they see."""

DANGERS: dict[str, Need] = {
    "unwell": Hazard.UNWELL,
    "popping": Hazard.POPPING,
    "flue": Hazard.FLUE_FLAMES,
    "crack": Hazard.CRACK,
    "hot": Concern.TOO_HOT,
    "early": Hazard.LIT_EARLY,
    "silent": Concern.SILENT,
    "lost": Concern.UNDELIVERED,
}
"""Kinds of trouble that are told at once, by the word that their owners' names begin with."""

LATER = ("blocked", "small")
"""Kinds that wait for the digest: not reached, and a thermometer that ends too low."""

UNLIKE_OTHERS = {"early": {"wet_work": "2026-04-26"}, "small": {"instrument": "300"}}
"""Answers of the set-up that are their trouble."""

KINDS = (*DANGERS, *LATER)


@dataclass(order=True)
class Event:
    """``who`` writes ``text``, or something else happens to them."""

    at: datetime
    turn: int
    who: str = field(compare=False)
    text: str = field(compare=False)


class Saturday:
    """Plays the day. ``told`` are the moments at which each of the team heard of a client's
    need."""

    def __init__(self, count: int, seed: int = 4) -> None:
        self.van = Van()
        self._chance = random.Random(seed)
        self._events: list[Event] = []
        self._turn = 0
        self.names = [f"{(*KINDS, *('calm',) * 10)[n % 20]}{n:03}" for n in range(count)]
        self.told: dict[tuple[str, str, str], list[datetime]] = defaultdict(list)
        self.again = 0
        self.digests: dict[str, list[Heard]] = defaultdict(list)

    def of(self, kind: str) -> list[str]:
        return [name for name in self.names if name.startswith(kind)]

    async def play(self) -> None:
        """From Friday's first words to Sunday's digest."""
        await self.van.team(*TEAM)
        for name in self.names:
            await self.van.client(name, **UNLIKE_OTHERS.get(name[:-3], {}))
        for name in self.names:
            self._plan(name)
        while self.van.now < SUNDAY_SEVEN:
            await self._step()

    def _plan(self, name: str) -> None:
        kind = name[:-3]
        lights = SATURDAY + self._chance.randrange(45) * MINUTE
        happens = lights + timedelta(minutes=self._chance.randrange(31, 95))
        match kind:
            case "early":
                self._add(lights, name, "the fire is lit")
            case "blocked":
                self._add(happens, name, "blocks")
            case "calm" | "small":
                pass
            case _:
                self._add(lights, name, "14")
                self._add(lights + MINUTE, name, "lit")
                if kind == "lost":
                    self._add(lights + 20 * MINUTE, name, "blocks")
                elif kind != "silent":
                    # Everybody's flue catches in the same gust; the rest comes as it comes.
                    gust = SATURDAY + timedelta(minutes=100)
                    self._add(gust if kind == "flue" else happens, name, SAID[kind])

    def _add(self, at: datetime, who: str, text: str) -> None:
        self._turn += 1
        heapq.heappush(self._events, Event(at, self._turn, who, text))

    async def _happen(self, event: Event) -> None:
        if event.text == "blocks":
            lost = Delivery(event.who, reached=False, why="blocked")
            await self.van.engine.happen(f"oven-{event.who}", lost)
            heard = await self.van.chat.pass_time(self.van.now)
        else:
            heard = await self.van.chat.say(event.who, event.text, self.van.now)
        self._listen(heard)

    async def _step(self) -> None:
        """On to the next thing that happens, so that the team is heard when it is told."""
        times = [SUNDAY_SEVEN, self.van.chat.next_due()]
        times += [self._events[0].at] if self._events else []
        then = max(self.van.now, min(one for one in times if one is not None))
        self._listen(await self.van.chat.pass_time(then))
        while self._events and self._events[0].at <= self.van.now:
            await self._happen(heapq.heappop(self._events))

    def _listen(self, heard: list[Heard]) -> None:
        for one in heard:
            if one.to not in TEAM:
                continue
            if one.text.startswith("Good morning"):
                self.digests[one.to].append(one)
                continue
            alone = "Open the card" in one.labels and {"I’ll take it", "I’m on it"} & {*one.labels}
            if not alone and "need somebody now" not in one.text:
                continue
            if "yet; told" in one.text:
                self.again += 1
                continue
            for name, need in _named(one.text):
                self.told[one.to, name, need].append(one.at)
                if one.to == TEAM[int(name[-3:]) % len(TEAM)]:
                    self._add(one.at + TAKES, one.to, f"find {name}")
                    self._add(one.at + TAKES, one.to, "take it")


def _named(text: str) -> list[tuple[str, str]]:
    """The clients that an alert is about, each with what is wrong."""
    lines = [line for line in text.split("\n") if re.search(r"\b[A-Z][a-z]+\d{3}\b", line)]
    return [
        (re.findall(r"\b([A-Z][a-z]+\d{3})\b", line)[0].lower(), need)
        for line in lines
        for need in NEEDS
        if NEEDS[need] in line
        or (need == "lit_early" and any(lit in line for lit in LIT_ALTHOUGH.values()))
        or re.search(rf": {NEED_NAMES[need]}( for |,|\.)", line)
    ]
