"""From an oven file and a journal to cure, belief and plan, as ``plan`` shows them."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from pydantic import ValidationError

from bot.commands.ovenfile import OvenFile
from scheduling.breakin.climate import usual
from scheduling.breakin.hourly import surroundings
from scheduling.breakin.limits import USUAL, Limits
from scheduling.breakin.plan import Plan
from scheduling.breakin.planner import plan_break_in
from scheduling.breakin.ready import curing_air
from scheduling.breakin.walltime import instant, local_day
from scheduling.oven.belief import Belief
from scheduling.oven.history import Fact, Rendered
from scheduling.oven.makeup import MakeUp, plain_sentences
from scheduling.oven.maturity import TENDER_D, Cure, DayTemperature, cure
from scheduling.oven.preset import DescriptionError
from scheduling.record.outlook import FLOOR_D

LIT_HOUR = 9.0
"""Local hour at which a planned fire is lit."""

LONGEST_PLAN_D = 60


@dataclass(frozen=True, slots=True)
class Planned:
    """What came out. ``plan`` is None while no day can be given."""

    make_up: MakeUp
    zone: ZoneInfo
    at: datetime
    limits: Limits
    cure: Cure
    belief: Belief
    plan: Plan | None
    watched: bool
    """Whether the oven file tells anything of the air so far."""

    @property
    def likely_frost_c(self) -> float | None:
        """The usual low of the mortar's first days, where that is frost and nobody watched."""
        days, place = self.cure, place_of(self.make_up)
        tender = [
            days.began + timedelta(days=i) for i, age in enumerate(days.ages_d) if age < TENDER_D
        ]
        if self.watched or not tender:
            return None
        low_c = min(usual(*place, day).low_c for day in tender)
        return low_c if low_c < 0.0 else None


def place_of(make_up: MakeUp) -> tuple[float, float]:
    """Latitude and longitude. Raises DescriptionError where none is told."""
    if make_up.latitude is None or make_up.longitude is None:
        raise DescriptionError(
            (
                "The oven file does not say where the oven stands, so neither cure nor weather "
                "can be reckoned; write latitude and longitude under [place].",
            )
        )
    return make_up.latitude, make_up.longitude


def zone_of(make_up: MakeUp) -> ZoneInfo:
    """The oven's own time zone, by its place where the file does not name it."""
    if make_up.zone is not None:
        return ZoneInfo(make_up.zone)
    # The towns take a second to load, which an oven whose zone is known need not wait for.
    from bot.places import NoLandError, PlaceBook

    try:
        return ZoneInfo(PlaceBook().at(*place_of(make_up)).zone)
    except NoLandError as error:
        raise DescriptionError((f"place: {error}; put its numbers right.",)) from None


def limits_of(oven: OvenFile) -> Limits:
    """The gentler of the usual limits and those in the file. Raises DescriptionError."""
    try:
        told = Limits.model_validate(dict(oven.limits))
    except ValidationError as error:
        said = plain_sentences(error, Limits.model_fields)
        raise DescriptionError(tuple(f"limits, {one}" for one in said)) from None
    return USUAL.gentler_of(told)


def not_taken(oven: OvenFile, limits: Limits) -> dict[str, tuple[float, float]]:
    """Limits of the file that would have been less gentle: as told, and what holds instead."""
    return {
        name: (float(told), float(getattr(limits, name)))
        for name, told in oven.limits.items()
        if told != getattr(limits, name)
    }


def opened_on(make_up: MakeUp, zone: ZoneInfo) -> datetime:
    """The instant from which a journal may tell: midnight of the day the wet work ended."""
    return instant(make_up.wet_work_ended, 0.0, zone)


def plan_for(
    oven: OvenFile, facts: Sequence[Fact], at: datetime, zone: ZoneInfo, *, with_course: bool
) -> Planned:
    """Cure, belief and plan at ``at``. Raises DescriptionError.

    Fires are lit at nine on days on end, the first one when the mortar is strong enough.
    """
    make_up, place, limits = oven.make_up, place_of(oven.make_up), limits_of(oven)
    today = local_day(at, zone)
    wetted = [local_day(one.at, zone) for one in facts if isinstance(one, Rendered)]
    cured = _cure(oven, max([make_up.wet_work_ended, *wetted]), today, place, zone, limits)
    aged = _cure(oven, make_up.wet_work_ended, today, place, zone, limits) if wetted else cured
    start = _first_start(cured.ready_on or today, at, facts, zone)
    begin = facts[0].at if facts else start
    past = surroundings(min(begin, at), max(begin, at), place, mean_c=oven.air_c)
    belief = Belief.fresh(make_up, begin, past, age_d=aged.age_d(local_day(begin, zone)))
    if facts:
        belief = belief.carried(facts, at, past)
    plan = None
    if cured.ready_on is not None:
        ahead = surroundings(min(belief.at, start), start + timedelta(days=LONGEST_PLAN_D), place)
        plan = plan_break_in(belief, limits, ahead, [start], with_course=with_course)
    watched = oven.air_c is not None or oven.coldest_c is not None
    return Planned(make_up, zone, at, limits, cured, belief, plan, watched)


def _cure(
    oven: OvenFile,
    began: date,
    today: date,
    place: tuple[float, float],
    zone: ZoneInfo,
    limits: Limits,
) -> Cure:
    return cure(
        began,
        oven.make_up.cement_class,
        curing_air(began, today, place, zone, measured=_watched(oven, began, today)),
        today,
        ready_ratio=limits.ready_ratio,
        floor_d=max(FLOOR_D, limits.cure_floor_d),
    )


def _watched(oven: OvenFile, began: date, today: date) -> list[DayTemperature]:
    """What the oven file says of the air so far; the coldest night is laid on the first day."""
    days: list[DayTemperature] = []
    if oven.air_c is not None:
        span = range(max(0, (today - began).days) + 1)
        days = [DayTemperature(began + timedelta(days=i), oven.air_c) for i in span]
    if oven.coldest_c is not None and began <= today:
        mean_c = oven.air_c if oven.air_c is not None else max(oven.coldest_c, 0.0)
        days[:1] = [DayTemperature(began, mean_c, oven.coldest_c)]
    return days


def _first_start(ready_on: date, at: datetime, facts: Sequence[Fact], zone: ZoneInfo) -> datetime:
    """Nine o'clock on the first day that is ready, still to come, and after the last fire's."""
    day = max(ready_on, local_day(at, zone))
    burnt = [one.at for one in facts if one.kind in ("fire_lit", "fire_out", "wood_put")]
    if burnt:
        day = max(day, local_day(burnt[-1], zone) + timedelta(days=1))
    start = instant(day, LIT_HOUR, zone)
    return start if start >= at else instant(day + timedelta(days=1), LIT_HOUR, zone)


def moment(written: str | None, zone: ZoneInfo, now: datetime) -> datetime:
    """The instant meant by ``--at``: with its offset, or in the oven's own time; else ``now``.

    Raises ValueError with a sentence.
    """
    if written is None:
        return now
    try:
        read = datetime.fromisoformat(written)
    except ValueError:
        raise ValueError(f"{written!r} is no time; write it like 2026-05-30T09:15") from None
    if not 1950 <= read.year <= 2100:
        raise ValueError(f"the year {read.year} cannot be right")
    if read.tzinfo is None:
        return instant(read.date(), read.hour + read.minute / 60.0, zone)
    return read
