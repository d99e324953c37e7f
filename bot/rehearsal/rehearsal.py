"""A whole break-in played through: an invented owner, an invented oven, and a real chat."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from bot.rehearsal.audit import Audit
from bot.rehearsal.chat import Chat, Heard
from bot.rehearsal.closing import Closing, close
from bot.rehearsal.owners import Owner
from bot.rehearsal.trueoven import TrueOven

LONGEST = timedelta(days=60)
QUIET_BEFORE_GIVING_UP = timedelta(days=6)
GLANCE = timedelta(hours=1)
AFTER_DONE = timedelta(hours=14)
"""The last night belongs to it: embers spread, door on."""

SAME_INSTANT = timedelta(seconds=1)


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the transcript: somebody said something, or did it."""

    at: datetime
    who: str
    text: str
    buttons: tuple[tuple[str, ...], ...] = ()
    attachments: tuple[str, ...] = ()
    pressed: bool = False


class Rehearsal:
    """One owner at one oven. ``told`` is handed every line as it falls."""

    def __init__(
        self,
        chat: Chat,
        oven: TrueOven,
        owner: Owner,
        told: Callable[[Line], None],
        watch: Callable[[TrueOven], None] = lambda _: None,
        first_words: str = "/start",
    ) -> None:
        self.chat, self.oven, self.owner = chat, oven, owner
        self.told, self.watch, self.first_words = told, watch, first_words
        self.audit = Audit()
        self.began = oven.now
        self.first_fire: datetime | None = None
        self._glanced = oven.now
        self._last_life = oven.now
        self._done_at: datetime | None = None

    async def play(self) -> Closing:
        """Play it to its end and sum up what was true."""
        await self._say(self.first_words)
        while (ended := self._ended()) is None:
            until = await self._next()
            heard = await self.chat.pass_time(until)
            self._live_until(until)
            self._hear(heard)
            while (due := self.owner.next_act()) is not None and due <= self.oven.now:
                await self._act()
        return close(
            self.oven,
            self.audit,
            ended=ended,
            told_done=self.owner.finished,
            began=self.began,
            first_fire=self.first_fire,
            over=self._done_at or self.oven.now,
        )

    async def _next(self) -> datetime:
        coming = [self._glanced + GLANCE, self.owner.next_act(), self.chat.next_due()]
        soonest = min(instant for instant in coming if instant is not None)
        return max(soonest, self.oven.now + SAME_INSTANT)

    def _live_until(self, until: datetime) -> None:
        self.oven.run_until(max(until, self.oven.now))
        self.watch(self.oven)
        if self.oven.now >= self._glanced + GLANCE:
            self._glanced = self.oven.now
            self.owner.idle_hour(self.oven.now)

    async def _act(self) -> None:
        act = self.owner.take_act()
        fires = self.oven.account.fires
        words = act.hands()
        if self.oven.account.fires > fires:
            self.first_fire = self.first_fire or self.oven.now
            self.audit.fire_lit(self.oven.now)
        self._last_life = self.oven.now
        if act.press is not None:
            try:
                heard = await self.chat.press(self.owner.person, act.press, self.oven.now)
            except LookupError:
                pass  # the button has gone; say it instead
            else:
                self.told(Line(self.oven.now, self.owner.person, act.press, pressed=True))
                self._hear(heard)
                return
        if words:
            await self._say(words)

    async def _say(self, words: str) -> None:
        owner = self.owner
        self.told(Line(self.oven.now, owner.person, words))
        if owner.just_read is not None and owner.last_true_c is not None:
            self.audit.number_said(self.oven.now, owner.just_read, owner.last_true_c)
            owner.just_read = None
        self._hear(await self.chat.say(owner.person, words, self.oven.now))

    def _hear(self, heard: Sequence[Heard]) -> None:
        for one in heard:
            self.told(Line(one.at, f"to {one.to}", one.text, one.buttons, one.attachments))
            if one.to != self.owner.person:
                continue
            self._last_life = max(self._last_life, one.at)
            burning = self.owner.fire_lit
            wish = self.owner.hear(one)
            if burning and (wish.wood_kg or wish.pieces):
                self.audit.wood_asked(one.at, one.text, self.owner.measures)
            if wish.stop:
                self.audit.stop_said(self.oven.account.worst_share, self.oven.account.damaged)

    def _ended(self) -> str | None:
        """Why it is over, or None."""
        now = self.oven.now
        if self.owner.finished:
            self._done_at = self._done_at or now
            if now >= self._done_at + AFTER_DONE:
                return "finished"
        curing = self.first_fire is None and not self.owner.stopped
        if not curing and now - self._last_life > QUIET_BEFORE_GIVING_UP:
            if self.owner.stopped:
                return f"stopped: {self.owner.stopped}"
            return "nothing more was asked of the owner"
        if now - self.began > LONGEST:
            return f"not finished after {LONGEST.days} days"
        return None
