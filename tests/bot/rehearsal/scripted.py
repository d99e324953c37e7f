"""A small scripted coach behind the shape of a chat: enough to try owners and ovens on."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta

WOOD = 0.5


@dataclass(frozen=True)
class Said:
    at: datetime
    to: str
    text: str
    buttons: tuple[tuple[str, ...], ...] = ()
    attachments: tuple[str, ...] = ()


@dataclass
class ScriptedCoach:
    """Fires on following days to ``aims_c``, a question every half hour, wood when below."""

    start: datetime
    person: str
    aims_c: Sequence[float] = (150, 190, 270, 340, 410)
    hours: float = 5.0
    wood_kg: float = 0.5
    heavy_kg: float = 1.2
    now: datetime = field(init=False)
    firing: int = 0
    lit_at: datetime | None = None
    asked_at: datetime | None = None
    answered: bool = True
    said: list[tuple[str, str]] = field(default_factory=list)
    stopped: bool = False

    def __post_init__(self) -> None:
        self.now = self.start
        self.next_light = self.start + timedelta(hours=14)

    def next_due(self) -> datetime | None:
        if self.stopped or self.firing >= len(self.aims_c):
            return None
        if self.lit_at is None:
            return self.next_light
        return max(self.now, (self.asked_at or self.lit_at) + timedelta(minutes=30))

    async def pass_time(self, until: datetime) -> list[Said]:
        out: list[Said] = []
        while (due := self.next_due()) is not None and due <= until:
            self.now = max(self.now, due)
            out += self._due()
        self.now = until
        return out

    async def say(self, person: str, text: str, at: datetime) -> list[Said]:
        out = await self.pass_time(at)
        self.said.append((person, text))
        return out + self._answer(text)

    async def press(self, person: str, label: str, at: datetime) -> list[Said]:
        return await self.say(person, label.lower(), at)

    async def location(
        self, person: str, latitude: float, longitude: float, at: datetime
    ) -> list[Said]:
        return await self.pass_time(at)

    async def close(self) -> None:
        self.stopped = True

    def _heard(self, text: str, *labels: str) -> list[Said]:
        return [Said(self.now, self.person, text, (labels,) if labels else ())]

    def _due(self) -> list[Said]:
        if self.lit_at is None:
            self.next_light += timedelta(hours=3)
            return self._heard("Today's aim is 150 °C. Light it with 1 kg of sticks.", "Lit")
        if self.now - self.lit_at > timedelta(hours=self.hours):
            self.firing += 1
            self.lit_at = self.asked_at = None
            self.next_light = self.next_light.replace(hour=8) + timedelta(days=1)
            if self.firing == len(self.aims_c):
                return self._heard("Your break-in is done. Shut the door for the night.")
            return self._heard("Enough for today. Let it die, then shut the door.", "Door on")
        self.asked_at = self.now
        return self._heard("What does the top of the dome read?")

    def _answer(self, text: str) -> list[Said]:
        if "lit" in text.lower() and self.lit_at is None:
            self.lit_at = self.now
            return self._heard("Good. Leave it alone for now.")
        number = re.search(r"\d{2,3}", text.replace(" ", ""))
        if number and self.lit_at and not re.search(r"on|piece|bits|stoked|out", text):
            aim = self.aims_c[min(self.firing, len(self.aims_c) - 1)]
            if float(number.group()) < aim:
                kg = self.wood_kg if aim < 200 else self.heavy_kg
                return self._heard(f"Add {kg:g} kg now.", "Put on")
            return self._heard("Hot enough. Add nothing, let it fall a little.")
        return []
