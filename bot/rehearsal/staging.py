"""Sets a rehearsal up: everything invented is drawn from one seed, then it is played."""

from collections.abc import Awaitable, Callable
from dataclasses import dataclass
from datetime import UTC, datetime, time, timedelta
from enum import StrEnum
from typing import Protocol
from zoneinfo import ZoneInfo

import numpy as np

from bot.rehearsal.air import HourlySky, made_up_sky
from bot.rehearsal.chat import Chat
from bot.rehearsal.closing import Closing
from bot.rehearsal.diary import Diary
from bot.rehearsal.foretelling import ForetoldSky
from bot.rehearsal.owners import Kind, Owner
from bot.rehearsal.rehearsal import Line, Rehearsal
from bot.rehearsal.trueoven import TrueOven
from bot.rehearsal.truth import draw_truth
from bot.weather.source import WeatherSource
from scheduling.oven.makeup import Instrument, MakeUp

OWNER = "robin"
DAYS_OF_WEATHER = 110
MEETS_AFTER = timedelta(days=18)
"""How long after the wet work the owner first writes (own choice)."""
USUAL_INSTRUMENT = Instrument(max_c=550)


class Weather(StrEnum):
    """Weathers to choose from."""

    DRY = "dry"
    SHOWERY = "showery"
    GALE = "gale"


class ClosingChat(Chat, Protocol):
    """A chat that can be let go of."""

    async def close(self) -> None:
        """Let go of the store."""
        ...


class OpenChat(Protocol):
    """Opens a chat on a clock that stands at ``start``, with the forecasts of ``weather``."""

    async def __call__(self, start: datetime, *, weather: WeatherSource) -> ClosingChat:
        """The opened chat."""
        ...


@dataclass(frozen=True, slots=True)
class Played:
    """A rehearsal that is over."""

    lines: list[Line]
    diary: Diary
    closing: Closing


@dataclass(frozen=True, slots=True)
class Scene:
    """What is invented before anybody speaks, and the evening on which it begins."""

    start: datetime
    skies: HourlySky
    oven: TrueOven
    chance: np.random.Generator
    """The owner's."""


def scene(
    told: MakeUp, kind: Kind, weather: Weather, seed: int, permeability_m2: float | None = None
) -> Scene:
    """An oven told as ``told``, its true properties and its weather, drawn from ``seed``.

    ``permeability_m2`` is what its shell truly lets steam through, whatever was drawn."""
    instrument = None if kind is Kind.NO_THERMOMETER else told.instrument or USUAL_INSTRUMENT
    make_up = told.model_copy(update={"instrument": instrument})
    zone = ZoneInfo(make_up.zone or "UTC")
    evening = datetime.combine(make_up.wet_work_ended + MEETS_AFTER, time(18), zone)
    truth_rng, sky_rng, owner_rng = np.random.default_rng(seed).spawn(3)
    skies = made_up_sky(weather.value, make_up, sky_rng, make_up.wet_work_ended, DAYS_OF_WEATHER)
    start = evening.astimezone(UTC)
    truth = draw_truth(make_up, truth_rng)
    if permeability_m2 is not None:
        truth = truth.tightened(permeability_m2)
    oven = TrueOven(make_up, truth, skies, start)
    return Scene(start, skies, oven, owner_rng)


async def stage(
    told: MakeUp,
    kind: Kind,
    weather: Weather,
    seed: int,
    open_chat: OpenChat,
    show: Callable[[Line], None] = lambda _: None,
    last_look: Callable[[], Awaitable[None]] | None = None,
    permeability_m2: float | None = None,
) -> Played:
    """One rehearsal of an oven told as ``told``. The same arguments tell the same story.

    ``last_look`` is awaited when all is over and the chat is still open.
    """
    set_up = scene(told, kind, weather, seed, permeability_m2)
    oven = set_up.oven
    lines: list[Line] = []
    diary = Diary()

    def note(line: Line) -> None:
        lines.append(line)
        show(line)

    chat = await open_chat(set_up.start, weather=ForetoldSky(set_up.skies))
    try:
        owner = Owner(OWNER, kind, oven, set_up.chance)
        closing = await Rehearsal(chat, oven, owner, note, diary.watch).play()
        if last_look is not None:
            await last_look()
    finally:
        await chat.close()
    return Played(lines, diary, closing)
