"""One owner, one oven and the real bot, from the first word to the end."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time, timedelta
from time import process_time
from zoneinfo import ZoneInfo

from bot.conversation.chat import Chat
from bot.conversation.heard import NoSuchButtonError
from bot.rehearsal.foretelling import ForetoldSky
from tests.trials.unmet_ovens import deeds
from tests.trials.unmet_ovens.cases import Case
from tests.trials.unmet_ovens.course import Course
from tests.trials.unmet_ovens.draw import Drawn, draw_oven, generators
from tests.trials.unmet_ovens.habits import Kind, draw_habits
from tests.trials.unmet_ovens.hearing import EDITED, hear
from tests.trials.unmet_ovens.introduction import Knowledge
from tests.trials.unmet_ovens.letters import Letter, OverheardVoice, open_conversation
from tests.trials.unmet_ovens.old_hand import Allowed, allowed
from tests.trials.unmet_ovens.owner import ASKS_AFTER, SOAKED, Owner
from tests.trials.unmet_ovens.sky import PLACE, AtTheOven, sky_over

AFTER_DONE = timedelta(hours=12)
GLANCE = timedelta(hours=1)
PERSON = "robin"
INSULATED_BELOW = 0.13
"""Doors that let less through than this are called insulated."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """How it went, by the truth."""

    case: Case
    oven: str
    ended: str
    told_done: bool
    dry: bool
    clear: bool
    wettest_share: float
    bare_share: float
    worst_share: float
    days: float
    cpu_s: float
    old_hand: Allowed
    course: Course = field(repr=False)

    @property
    def good(self) -> bool:
        """Told to be done, and truly dry and clear of soot, with the steam within its limit."""
        return self.told_done and self.dry and self.clear and self.worst_share < 1.0


async def play(case: Case) -> Outcome:
    """Play it to its end; a fault of the bot is an end like any other, and is told."""
    began = process_time()
    one = _Playing(case)
    try:
        ended = await one.play()
    except Exception as fault:  # noqa: BLE001 - the trial of the others goes on
        ended = f"fault: {fault!r}"
    oven, course = one.oven, one.course
    return Outcome(
        case=case,
        oven=_described(one.drawn),
        ended=ended,
        told_done=one.done_at is not None,
        dry=oven.dry,
        clear=oven.clear,
        wettest_share=oven.wettest_share,
        bare_share=oven.bare_share,
        worst_share=oven.account.worst_share,
        days=(oven.now - one.start) / timedelta(days=1),
        cpu_s=process_time() - began,
        old_hand=allowed(case),
        course=course,
    )


class _Playing:
    """A trial while it runs."""

    def __init__(self, case: Case) -> None:
        self.case = case
        for_oven, for_sky, for_owner, chance = generators(case.seed, case.number, 4)
        habits = draw_habits(case.kind, for_owner)
        wet_work = date(2026, 4, 1) + timedelta(days=int(for_owner.integers(0, 120)))
        meets = wet_work + timedelta(days=int(for_owner.integers(27, 46)))
        evening = datetime.combine(meets, time(17, 30), ZoneInfo(PLACE[2]))
        self.start = evening.astimezone(UTC)
        self.sky = sky_over(for_sky, wet_work, windy=case.kind is Kind.WINDY)
        weather = AtTheOven(self.sky, habits.wind_share)
        self.drawn: Drawn = draw_oven(case.structure, for_oven, self.start, weather)
        self.oven = self.drawn.oven
        self.course = Course()
        self.oven.watch = self.course.watch
        knows = Knowledge(
            make=self.drawn.make,
            habits=habits,
            wet_work_ended=wet_work,
            insulated_door=self.oven.door_open_share < INSULATED_BELOW,
            hours="7-22" if for_owner.random() < 0.6 else "9-18",
            knows_size=bool(for_owner.random() < 0.9),
        )
        self.owner = Owner(self.oven, knows, self.course, chance, PLACE[2], self._speak)
        self.done_at: datetime | None = None
        self._soaks_at: datetime | None = None
        self._complains_at: datetime | None = None
        self._chat: Chat
        self._voice: OverheardVoice

    async def play(self) -> str:
        """Returns why it ended."""
        weather = ForetoldSky(self.sky)
        self._chat, self._voice = await open_conversation(self.start, self.case.number, weather)
        try:
            await self._speak("/start", None)
            while (ended := self._ended()) is None:
                await self._go_on()
        finally:
            await self._chat.close()
        return ended

    async def _go_on(self) -> None:
        until = self._next()
        heard = await self._chat.pass_time(until)
        self.oven.run_until(until)
        self._hear(self._voice.letters(heard, PERSON))
        await self._rain()
        attends = self.owner.attends_at
        if attends is not None and attends <= self.oven.now:
            await deeds.do(self.owner, self.owner.take_unread())
        elif self.oven.now - self.owner.asked_at > ASKS_AFTER and 9 < self.owner.hour < 20:
            self.owner.asked_at = self.oven.now
            if overlooked := self.owner.take_overlooked():
                await deeds.do(self.owner, overlooked)
            else:
                await self._speak("what is next?", None)

    def _next(self) -> datetime:
        coming = [
            self.oven.now + GLANCE, self.owner.attends_at, self._chat.next_due(), self._soaks_at,
            self._complains_at,
        ]  # fmt: skip
        soonest = min(one for one in coming if one is not None)
        return max(soonest, self.oven.now + timedelta(seconds=1))

    async def _rain(self) -> None:
        if self._soaks_at is not None and self.oven.now >= self._soaks_at:
            self._soaks_at = None
            self.oven.soak(self.owner.habits.rain_kg_m2)
            self.course.note(self.oven, f"RAIN: water now {self.oven.water_kg:.1f} kg")
        if self._complains_at is not None and self.oven.now >= self._complains_at:
            self._complains_at = None
            await self._speak(SOAKED, None)

    async def _speak(self, words: str | None, press: str | None) -> None:
        now = max(self.oven.now, self._chat.now)
        if press is not None:
            self.course.note(self.oven, f"presses “{press}”")
            try:
                heard = await self._chat.press(PERSON, press, now)
            except NoSuchButtonError:
                heard = await self._chat.say(PERSON, press, now)
        else:
            heard = await self._chat.say(PERSON, words or "", now)
        if words is not None and not words.replace(" ", "").isdigit():
            self.course.note(self.oven, f"says “{words}”")
        self._hear(self._voice.letters(heard, PERSON), at_once=True)

    def _hear(self, letters: Sequence[Letter], *, at_once: bool = False) -> None:
        for letter in letters:
            hear(self.course, self.oven, letter, self.owner.last_shown)
            if letter.kind == "break_in_done":
                self.done_at = self.done_at or letter.at
            if letter.kind == "firing_done":
                self._after_fire()
        calling = [one for one in letters if one.kind != EDITED]
        self.owner.receive(calling, at_once=at_once)

    def _after_fire(self) -> None:
        self.owner.fire_is_over()
        if self.owner.fires == self.owner.habits.soaked_after_fire:
            night = self.oven.now.replace(hour=2, minute=0) + timedelta(days=1)
            self._soaks_at, self._complains_at = night, night + timedelta(hours=4, minutes=20)

    def _ended(self) -> str | None:
        if self.done_at is not None and self.oven.now > self.done_at + AFTER_DONE:
            return "done"
        if self.oven.now - self.start > timedelta(days=self.case.patience_d):
            return f"gave up after {self.case.patience_d} days"
        return None


def _described(drawn: Drawn) -> str:
    make, burning = drawn.make, drawn.oven.fire.burning
    return (
        f"{make.construction.key} {make.diameter_m * 100:.0f} cm, {make.shell_m * 1e3:.0f} mm, "
        f"burn-out {burning.burn_out_min:.0f} min"
    )
