"""What truly happened, fire by fire, and the trace of it for whoever wants to see why."""

from dataclasses import dataclass, field
from datetime import datetime, timedelta

from scheduling.firing.aim import Aim
from tests.trials.unmet_ovens.oven import Oven

BAND_K = 25.0
OVERSHOT_K = 40.0
SAME_AIM_K = 7.0
BRIEF_SHARE = 0.6
"""Less of its hold than this within the band counts as too brief."""
WRONG_K, WRONG_SHARE = 25.0, 0.08
"""A number is wrong that lies off the true crown by more than either."""


@dataclass(slots=True)
class FireTold:
    """One fire: what was planned of it, what was asked, and what was true."""

    number: int
    aim_c: float
    hold_h: float
    planned_h: float
    planned_kg: float
    lit_at: datetime
    start_c: float
    asked_kg: float = 0.0
    put_kg: float = 0.0
    peak_c: float = 0.0
    near_at: datetime | None = None
    held_until: datetime | None = None
    over_at: datetime | None = None
    band_h: float = 0.0
    messages: int = 0
    wood_asks: int = 0
    wrong_asks: int = 0
    told_why: str = ""
    told_change: str = ""
    worst_share: float = 0.0
    water_kg: float = 0.0
    limited_by: str = ""
    range_kg: tuple[float, float] | None = None
    """What the bot said it may take."""
    needed_kg: float | None = None
    """What an old hand burns for the same aim and hold, from the same dome; None if she cannot."""

    @property
    def lasted_h(self) -> float | None:
        """From the match to the bot's word that it is over."""
        return None if self.over_at is None else (self.over_at - self.lit_at) / HOUR

    @property
    def window_h(self) -> float:
        """The time that counts as its hold: as planned if it was never near."""
        if self.near_at is None:
            return self.hold_h
        end = self.held_until or self.over_at or self.near_at
        return max((end - self.near_at) / HOUR, self.band_h)

    @property
    def overshot(self) -> bool:
        """The crown went far above the aim."""
        return self.peak_c > self.aim_c + OVERSHOT_K

    @property
    def missed(self) -> str:
        """Why it did not do what it was for; empty if it did."""
        if self.overshot:
            return "too hot"
        if self.peak_c < self.aim_c - BAND_K:
            return "too cold"
        return "too brief" if self.band_h < BRIEF_SHARE * self.hold_h else ""


HOUR = timedelta(hours=1)


@dataclass(frozen=True, slots=True)
class Event:
    """One line of the trace."""

    at: datetime
    crown_c: float
    words: str


@dataclass(slots=True)
class Course:
    """All fires of one oven, in order."""

    fires: list[FireTold] = field(default_factory=list)
    trace: list[Event] = field(default_factory=list)
    planned_fires: int | None = None
    planned_aims: tuple[float, ...] = ()
    unknown: dict[str, int] = field(default_factory=dict)
    """Kinds of letters that seemed to ask something which no owner knew how to answer."""
    _last: datetime | None = None

    @property
    def burning(self) -> FireTold | None:
        """The fire that is not over."""
        return self.fires[-1] if self.fires and self.fires[-1].over_at is None else None

    def watch(self, oven: Oven) -> None:
        """Look at the oven after every step."""
        seconds = 0.0 if self._last is None else (oven.now - self._last).total_seconds()
        self._last = oven.now
        if not self.fires:
            return
        fire = self.fires[-1]
        if oven.now - fire.lit_at < timedelta(hours=16):
            fire.peak_c = max(fire.peak_c, oven.crown_c)
        fire.worst_share = max(fire.worst_share, oven.steam_share)
        fire.water_kg = oven.water_kg
        if fire.over_at is not None or fire.held_until is not None:
            return
        if fire.near_at is None and oven.crown_c >= fire.aim_c - BAND_K:
            fire.near_at = oven.now
        if fire.near_at is not None and abs(oven.crown_c - fire.aim_c) <= BAND_K:
            fire.band_h += seconds / 3600.0

    def lit(self, oven: Oven, aim: Aim, put_kg: float, needed_kg: float | None) -> None:
        """A fire begins."""
        told = FireTold(
            number=len(self.fires) + 1,
            aim_c=aim.plateau_c,
            hold_h=aim.hold_h,
            planned_h=aim.session_h,
            planned_kg=aim.wood_kg,
            lit_at=oven.now,
            start_c=oven.crown_c,
            asked_kg=aim.lay_kg,
            put_kg=put_kg,
            peak_c=oven.crown_c,
            limited_by=aim.limited_by,
            range_kg=aim.wood_range_kg,
            needed_kg=needed_kg,
        )
        self.fires.append(told)
        self.note(
            oven,
            f"LIT fire {told.number} with {put_kg:.2f} kg: aim {aim.plateau_c:.0f} for "
            f"{aim.hold_h:.1f} h, planned {aim.wood_kg:.1f} kg in {aim.session_h:.1f} h "
            f"(by {aim.limited_by}, water {aim.water_left_l}); an old hand takes "
            + ("more than a day" if needed_kg is None else f"{needed_kg:.1f} kg"),
        )

    def note(self, oven: Oven, words: str) -> None:
        """One more line of the trace."""
        self.trace.append(Event(oven.now, oven.crown_c, words))

    def repeats(self) -> list[str]:
        """Aims that were missed again for a reason that had been met before."""
        found: list[str] = []
        for later, fire in enumerate(self.fires):
            if fire.missed and any(
                abs(one.aim_c - fire.aim_c) <= SAME_AIM_K and one.missed == fire.missed
                for one in self.fires[:later]
            ):
                found.append(f"{fire.aim_c:.0f} {fire.missed}")
        return found


def wrong(shown_c: float, true_c: float) -> bool:
    """Whether a number that the bot goes by is not that of the dome."""
    return abs(shown_c - true_c) > max(WRONG_K, WRONG_SHARE * true_c)
