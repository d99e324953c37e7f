"""An owner of a trial: reads what came, when they get to it, does it, and answers honestly."""

from collections.abc import Awaitable, Callable, Iterable
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np

from scheduling.firing.aim import Aim
from scheduling.meaning import HowToLay
from tests.trials.unmet_ovens.course import Course
from tests.trials.unmet_ovens.habits import AT_ONCE_MIN, WEIGHS_WITHIN, Habits
from tests.trials.unmet_ovens.introduction import Knowledge
from tests.trials.unmet_ovens.letters import Letter
from tests.trials.unmet_ovens.old_hand import would_lead
from tests.trials.unmet_ovens.oven import Oven
from tests.trials.unmet_ovens.pointing import Shown, Thermometer

KINDLING_MM = 22.0
THICKEST_MM, THINNEST_MM = 80.0, 12.0
UP_FROM, UP_UNTIL = 6.6, 22.5
"""Local hours."""
SOAKED = "It rained hard all night and the oven got wet"
OVER_RANGE = "it just says HI"
ASKS_AFTER = timedelta(days=4)

Speak = Callable[[str | None, str | None], Awaitable[None]]
"""Says words, or presses a button."""


class Owner:
    """One person at one oven: hands, eyes and a thermometer. What they do is in ``deeds``."""

    def __init__(
        self,
        oven: Oven,
        knows: Knowledge,
        course: Course,
        rng: np.random.Generator,
        zone: str,
        say: Speak,
    ) -> None:
        self.oven, self.knows, self.course, self.say = oven, knows, course, say
        self.habits: Habits = knows.habits
        self.rng, self._zone = rng, ZoneInfo(zone)
        self._thermometer = Thermometer(rng)
        self.on_fahrenheit = False
        self.noticed = False
        self.laying: HowToLay | None = None
        self.fires = 0
        self.last_shown: Shown | None = None
        self._unread: list[Letter] = []
        self._overlooked: list[Letter] = []
        self.attends_at: datetime | None = None
        self.asked_at = oven.now

    # ------------------------------------------------------------ when

    def receive(self, letters: Iterable[Letter], *, at_once: bool = False) -> None:
        """They lie there until somebody looks; what answers them ``at_once`` mostly finds them."""
        for letter in letters:
            self._unread.append(letter)
            self.asked_at = max(self.asked_at, letter.at)
            if self.attends_at is None:
                self.attends_at = self.awake(letter.at + self._wait(at_once=at_once))

    def take_unread(self) -> list[Letter]:
        """All that came since they last looked; nothing, if they forget about it.

        The first meeting is held in one sitting, and nobody forgets it."""
        unread, self._unread, self.attends_at = self._unread, [], None
        sitting = self.course.planned_fires is None
        if sitting or self.rng.random() >= self.habits.forgets:
            self._overlooked = []
            return unread
        self._overlooked += unread
        return []

    def take_overlooked(self) -> list[Letter]:
        """Proposals that still stand open in the chat, for whoever scrolls up days later."""
        open_ones = [one for one in self._overlooked if one.button(kind="confirm", yes=True)]
        self._overlooked = []
        return open_ones[-1:]

    def look_again(self, letter: Letter, minutes: float) -> None:
        """Keep it for later."""
        self._unread.append(letter)
        again = self.awake(self.oven.now + timedelta(minutes=minutes))
        self.attends_at = min(self.attends_at or again, again)

    def awake(self, at: datetime) -> datetime:
        """Then, or in the morning."""
        local = at.astimezone(self._zone)
        hour = local.hour + local.minute / 60.0
        if UP_FROM <= hour < UP_UNTIL:
            return at
        ahead = (UP_FROM - hour) % 24.0
        return at + timedelta(hours=ahead + float(self.rng.uniform(0.0, 0.7)))

    @property
    def hour(self) -> float:
        """Local time of day."""
        local = self.oven.now.astimezone(self._zone)
        return local.hour + local.minute / 60.0

    def _wait(self, *, at_once: bool) -> timedelta:
        stays = at_once and self.rng.random() >= self.habits.walks_away
        return timedelta(
            minutes=float(self.rng.uniform(*(AT_ONCE_MIN if stays else self.habits.answers_min)))
        )

    # ------------------------------------------------------------ hands

    def light(self, aim: Aim) -> None:
        """Lay and light what was told."""
        put = self._weighed(aim.lay_kg)
        led = would_lead(self.oven, aim.plateau_c, aim.hold_h, self.habits.moisture)
        self.fires += 1
        self.course.lit(self.oven, aim, put, led.wood_kg if led.reached else None)
        self.oven.light(put, self.habits.moisture, KINDLING_MM * self.habits.splits)

    def stoke(self, kg: float, piece_mm: float, *, paper: bool) -> None:
        """Put wood on."""
        put = self._weighed(kg)
        thick = min(max(piece_mm * self.habits.splits, THINNEST_MM), THICKEST_MM)
        self.oven.stoke(put, self.habits.moisture, thick, paper)
        if (fire := self.course.burning) is not None:
            fire.put_kg += put
        self.course.note(self.oven, f"put {put:.2f} kg" + (" with paper" if paper else ""))

    def shut_door(self) -> bool:
        """Put the door on, if no flame is left."""
        if self.oven.fire.flames:
            return False
        self.oven.door_on = True
        return True

    def _weighed(self, kg: float) -> float:
        return kg * self.habits.hand * float(np.exp(WEIGHS_WITHIN * self.rng.normal()))

    # ------------------------------------------------------------ eyes

    def number(self, *, side: bool = False, with_care: bool = False) -> str:
        """What the display shows, as they type it: a bare number, whatever its unit."""
        shown = self._thermometer.point(self.oven, with_care=with_care)
        self.last_shown = shown
        if shown.top_c is None:
            return OVER_RANGE
        top, low = (self._as_displayed(one) for one in (shown.top_c, shown.side_c))
        self.course.note(self.oven, f"reads {top}" + (f", side {low}" if side else ""))
        return f"top {top} sides {low}" if side else f"{top}"

    def notice_unit(self) -> None:
        """They have looked at the display, and set it right."""
        self.on_fahrenheit, self.noticed = False, True

    def soot_gone(self) -> bool:
        """As seen from the mouth."""
        return self.oven.clear

    def _as_displayed(self, celsius: float) -> int:
        return round(celsius * 1.8 + 32.0 if self.on_fahrenheit else celsius)

    # ------------------------------------------------------------ slips and weather

    def morning_of_fire(self) -> None:
        """The thermometer may stand on °F from now on."""
        if self.habits.from_the_morning:
            self._slip(self.fires + 1)

    def fire_burns(self) -> None:
        """If not since the morning, then from here."""
        self._slip(self.fires)

    def fire_is_over(self) -> None:
        """Somebody sees the °F at the latest when it is put away."""
        self.on_fahrenheit = False

    def _slip(self, fire: int) -> None:
        if fire == self.habits.fahrenheit_fire and not self.noticed:
            self.on_fahrenheit = True
