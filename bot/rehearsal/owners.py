"""Invented owners: what they do when the bot writes, and what they do without being asked.

An owner knows the chat and the garden, nothing of the bot's inside. Habits are numbers in a
``Temper``; a policy is what follows from them. Owners act through ``Act``s in their own time.
"""

import heapq
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from enum import StrEnum
from itertools import count
from zoneinfo import ZoneInfo

import numpy as np

from bot.rehearsal import typing_habits
from bot.rehearsal.chat import Heard
from bot.rehearsal.reading_the_bot import Wish, understand
from bot.rehearsal.readings import Thermometer
from bot.rehearsal.setting_up import FIRST_MEETING, answer
from bot.rehearsal.trueoven import TrueOven
from scheduling.oven.makeup import Instrument, MakeUp

PIECE_KG = 0.5
"""A piece as split for a garden oven, about 6 cm thick (own choice)."""

THIN_STICKS_KG = 0.25
"""What a fire is lit again with (own choice)."""

LAID_M, USUAL_M = 0.03, 0.06
"""How thick the wood is that nothing was said of: of the first laying, and later on."""

HARDLY_WOOD_KG = 0.15
ASKED_FOR_SIDE, UNASKED_SIDE = 0.9, 0.25
"""How likely a side is read beside the crown, by somebody neat (own choice)."""
"""Less than this left of all that was put on looks like embers."""


class Kind(StrEnum):
    """Owners to choose from."""

    CAREFUL = "careful"
    CARELESS = "careless"
    SILENT = "silent"
    NO_THERMOMETER = "no-thermometer"


@dataclass(frozen=True, slots=True)
class Temper:
    """Habits. Shares are chances from 0 to 1."""

    reply_min: float
    ignores: float
    """Chance that a message is not answered at all."""
    neat: float
    aims: float
    heavy_hand: float
    """Wood put on over wood asked for."""
    extra: float
    """Chance an hour of putting a piece on unasked."""
    forgets_door: float
    goes_out: float
    """Chance a nudge of being away for an hour and a half."""
    measures: bool = True


TEMPERS = {
    Kind.CAREFUL: Temper(2.5, 0.02, 0.6, 1.0, 1.0, 0.0, 0.02, 0.0),
    Kind.CARELESS: Temper(6.0, 0.15, 0.15, 0.5, 1.3, 0.25, 0.35, 0.08),
    Kind.SILENT: Temper(9.0, 0.55, 0.7, 0.9, 1.0, 0.05, 0.2, 0.05),
    Kind.NO_THERMOMETER: Temper(3.0, 0.04, 0.4, 1.0, 1.05, 0.05, 0.05, 0.01, measures=False),
}


@dataclass(order=True, frozen=True, slots=True)
class Act:
    """Something an owner does at ``at``. ``hands`` changes the oven and may return words."""

    at: datetime
    number: int
    hands: Callable[[], str | None] = field(compare=False)
    press: str | None = field(default=None, compare=False)


class Owner:
    """Somebody with an oven. ``person`` is the address that the bot writes to."""

    def __init__(self, person: str, kind: Kind, oven: TrueOven, rng: np.random.Generator) -> None:
        self.person, self.oven, self.rng = person, oven, rng
        self.temper = TEMPERS[kind]
        self.make_up: MakeUp = oven.make_up
        self.unit = "C"
        self.met_at = oven.now
        instrument = self.make_up.instrument or Instrument(max_c=550)
        self.thermometer = (
            Thermometer(instrument, rng, self.temper.aims) if self.temper.measures else None
        )
        self.just_read: float | None = None
        """A number read off the display and about to be sent."""
        self.last_true_c: float | None = None
        self._shown_c = 0.0
        self._reads_side = False
        """What the display showed last."""
        self.fire_lit = False
        self.lit_at: datetime | None = None
        self.finished = False
        self.stopped: str | None = None
        self.away_until: datetime | None = None
        self._acts: list[Act] = []
        self._numbers = count()

    @property
    def measures(self) -> bool:
        """Whether this owner has a thermometer."""
        return self.thermometer is not None

    # ------------------------------------------------------------ hearing

    def hear(self, heard: Heard) -> Wish:
        """Take in a message and make up one's mind; returns what was understood."""
        wish = understand(heard)
        now = heard.at
        if wish.done:
            self.finished = True
        if wish.stop:
            self.stopped = " ".join(heard.text.split())
        told = answer(self, heard, wish) if now - self.met_at < FIRST_MEETING else None
        if told is not None:
            self._act(now, 1.0, lambda: told.text, told.press)
            return wish
        if self._overhears(now, wish):
            return wish
        wait = self._wait()
        if wish.stop or (wish.rake and not wish.embers):
            self._act(now, wait, self._rake)
        lit = wish.button("lit", "it's lit", "it’s lit", "it is lit")
        if (wish.light or lit) and not self.fire_lit and not wish.not_yet:
            self._act(now, self._until_free(now, wait), self._light(wish), lit)
        elif self._tending(now) and (only_embers := self._sees_only_embers(wish)):
            self._act(now, wait, lambda: None, only_embers)
        elif self._tending(now) and (wish.wood_kg or wish.pieces):
            late = wait + (3.0 if wish.read else 0.0)
            self._act(now, late, self._stoke(wish), wish.button("put on", "on it", "added", "done"))
        elif wish.embers:
            self._act(now, wait, self._spread, wish.button("spread", "done"))
        if wish.door_on and not (wish.wood_kg or wish.pieces or wish.light):
            late = 600.0 if self.rng.random() < self.temper.forgets_door else wait
            self._act(now, late, self._door_on, wish.button("door on", "door is on", "shut"))
        clean = wish.button("soot is gone" if self.oven.soot_clear() else "still black")
        if clean is not None:
            self._act(now, wait, lambda: None, clean)
        meant = wish.button(f"top {self._shown_c:.0f}") if wish.unclear else None
        if meant is not None:
            self._act(now, wait, lambda: None, meant)
        elif wish.read or wish.unclear:
            self._reads_side = wish.side
            self._act(now, wait, self._read)
        elif not (wish.light or wish.wood_kg or wish.pieces or wish.door_on or wish.embers):
            yes = wish.button("yes", "still on", "i can", "ok", "fine", "i’m here")
            if yes is not None and not wish.stop:
                self._act(now, wait, lambda: None, yes)
        return wish

    def next_act(self) -> datetime | None:
        """When this owner next does something."""
        return self._acts[0].at if self._acts else None

    def take_act(self) -> Act:
        """The next act, due now."""
        return heapq.heappop(self._acts)

    def idle_hour(self, now: datetime) -> None:
        """What people do unasked, once an hour with a fire burning."""
        if self.fire_lit and self.oven.glowing and self.rng.random() < self.temper.extra:
            self._act(now, 5.0, self._slip_one_on)
        if self.fire_lit and not self.oven.glowing and self.rng.random() < 1 - self.temper.ignores:
            self.fire_lit = False
            self._act(now, 3.0, lambda: "fires out")
        if self.oven.make_up.cover and not self.fire_lit:
            self.oven.cover_up()

    # ------------------------------------------------------------ making up one's mind

    def _overhears(self, now: datetime, wish: Wish) -> bool:
        if self.away_until is not None and now < self.away_until:
            return True
        if self.fire_lit and self.rng.random() < self.temper.goes_out:
            self.away_until = now + timedelta(minutes=90)
            return True
        return bool(self.rng.random() < self.temper.ignores) and not wish.stop

    def _tending(self, now: datetime) -> bool:
        """Whether it is a day of fire: one that has died is lit again when wood is asked for."""
        lit = self.lit_at is not None and now - self.lit_at < timedelta(hours=8)
        return self.fire_lit or lit

    def _wait(self) -> float:
        return float(self.temper.reply_min * np.exp(0.5 * self.rng.normal()))

    def _until_free(self, now: datetime, wait: float) -> float:
        """Minutes until a decent hour for lighting a fire, at the oven's place."""
        zone = ZoneInfo(self.make_up.zone or "UTC")
        local = (now + timedelta(minutes=wait)).astimezone(zone)
        if local.hour < 7:
            return wait + (7 - local.hour) * 60.0
        return wait

    def _act(
        self,
        now: datetime,
        wait_min: float,
        hands: Callable[[], str | None],
        press: str | None = None,
    ) -> None:
        at = now + timedelta(minutes=wait_min)
        heapq.heappush(self._acts, Act(at, next(self._numbers), hands, press))

    # ------------------------------------------------------------ hands

    def _light(self, wish: Wish) -> Callable[[], str | None]:
        def hands() -> str | None:
            if self.fire_lit:
                return None
            self.fire_lit, self.lit_at = True, self.oven.now
            self.oven.set_door(False)
            kg = wish.wood_kg or (wish.pieces or 0) * 0.15 or 1.0
            self.oven.light(min(max(kg, 0.4), 3.0) * self.temper.heavy_hand, wish.thick_m or LAID_M)
            return typing_habits.lit(self.rng, self.temper.neat)

        return hands

    def _stoke(self, wish: Wish) -> Callable[[], str | None]:
        def hands() -> str | None:
            kg = wish.wood_kg or (wish.pieces or 1) * PIECE_KG
            thick_m = wish.thick_m or USUAL_M
            self.oven.set_door(False)
            if wish.relight and not self.oven.alight:
                thin_kg = min(kg, THIN_STICKS_KG)
                self.oven.rekindle(thin_kg)
                if kg > thin_kg:
                    self.oven.stoke((kg - thin_kg) * self.temper.heavy_hand, thick_m)
            elif self.oven.glowing or self.oven.crown_c > 330:
                self.oven.stoke(kg * self.temper.heavy_hand, thick_m)
            else:  # it has died: some of the wood is split small to get it going again
                self.oven.rekindle(0.4 * kg)
                self.oven.stoke(0.6 * kg * self.temper.heavy_hand, thick_m)
            self.fire_lit, self.lit_at = True, self.oven.now
            pieces = int(wish.pieces or max(1, round(kg / PIECE_KG)))
            return typing_habits.stoked(pieces, self.rng, self.temper.neat)

        return hands

    def _sees_only_embers(self, wish: Wish) -> str | None:
        """The button for it, if that is what lies there."""
        left_kg = sum(one.volatile + one.char_to_come for one in self.oven.fire.charges)
        return wish.button("no wood left") if left_kg < HARDLY_WOOD_KG else None

    def _slip_one_on(self) -> str | None:
        self.oven.stoke(PIECE_KG)
        return "put 1 on" if self.rng.random() < 0.3 else None

    def _rake(self) -> str | None:
        self.oven.rake_apart()
        return None

    def _spread(self) -> str | None:
        self.oven.rake_apart()
        return None

    def _door_on(self) -> str | None:
        self.oven.set_door(True)
        return "door on"

    def _read(self) -> str | None:
        self.last_true_c = self.oven.crown_c
        if self.thermometer is None:
            if self.oven.soot_clear():
                return "the soot is gone, bricks look clean"
            return "i have no thermometer"
        top = self.thermometer.show(self.oven)
        likely = ASKED_FOR_SIDE * self.temper.neat if self._reads_side else UNASKED_SIDE
        sides = self.thermometer.show(self.oven, "sides") if self.rng.random() < likely else None
        if top.celsius is None:
            return typing_habits.over_range(self.rng)
        self.just_read = self._shown_c = top.celsius
        side_c = None if sides is None else sides.celsius
        return typing_habits.a_reading(top.celsius, side_c, self.unit, self.temper.neat, self.rng)
