"""What the bot wrote, with what it meant: a voice that speaks as the house does and keeps count.

Owners of a trial act on meanings and on what buttons stand for, so that a new wording changes no
score; only what was really sent is acted on.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from bot.channels.markup import plain
from bot.conversation.chat import Chat
from bot.conversation.heard import Heard
from bot.parts import shipped
from bot.weather.source import WeatherSource
from bot.wiring import open_chat
from bot.wording.voice import Voice
from scheduling.choice import Choice
from scheduling.meaning import Meaning
from scheduling.outcome import Urgency
from scheduling.ports import Parcel, Person


@dataclass(frozen=True, slots=True)
class Letter:
    """A message as it arrived. ``meaning`` is None where it was not ours to know."""

    at: datetime
    text: str
    meaning: Meaning | None
    choices: tuple[tuple[str, Choice], ...]

    @property
    def kind(self) -> str:
        """The name of what it means; empty where that is not known."""
        return "" if self.meaning is None else self.meaning.kind

    def button(self, **wanted: Any) -> str | None:
        """The label of the first button that stands for all of ``wanted``."""
        for label, choice in self.choices:
            for one in getattr(choice, "remarks", (choice,)):
                if all(getattr(one, name, None) == value for name, value in wanted.items()):
                    return label
        return None


class OverheardVoice(Voice):
    """The voice of the house; remembers what it last meant by each text."""

    def __init__(self) -> None:
        self._meant: dict[str, tuple[Meaning, dict[str, Choice]]] = {}

    def render(self, meaning: Meaning, reader: Person, zone: str, now: datetime) -> Parcel:
        parcel = super().render(meaning, reader, zone, now)
        self._meant[plain(parcel.text)] = (meaning, parcel.choices)
        return parcel

    def again(self, parcel: Parcel, urgency: Urgency) -> Parcel:
        said = super().again(parcel, urgency)
        if (known := self._meant.get(plain(parcel.text))) is not None:
            self._meant[plain(said.text)] = known
        return said

    def letters(self, heard: Sequence[Heard], reader: str) -> list[Letter]:
        """Those of ``heard`` that were for ``reader``."""
        return [self._letter(one) for one in heard if one.to == reader]

    def _letter(self, heard: Heard) -> Letter:
        meaning, choices = self._meant.get(heard.text, (None, {}))
        shown = [(label, choices[label]) for label in heard.labels if label in choices]
        return Letter(heard.at, heard.text, meaning, tuple(shown))


async def open_conversation(
    start: datetime, seed: int, weather: WeatherSource
) -> tuple[Chat, OverheardVoice]:
    """The real house on a stepped clock, and what it means by what it says."""
    voice = OverheardVoice()
    parts = replace(shipped(), voice=voice)
    return await open_chat(start, parts, seed=seed, weather=weather), voice
