"""An oven's journal, and all that follows from it.

Nothing is kept beside the entries but the ensemble, which is a cache. Every fact is derived when
it is first asked for, so that an entry undone is as if it had never been.
"""

from datetime import date, datetime
from functools import cached_property
from zoneinfo import ZoneInfo

from scheduling.breakin.availability import Availability
from scheduling.breakin.walltime import local_day
from scheduling.breakin.weather import Forecast, OwnersWord
from scheduling.choice import About, Keep
from scheduling.firing.aim import plateau_under
from scheduling.firing.answers import place_of
from scheduling.firing.session import Session
from scheduling.firing.session_fold import sessions_of
from scheduling.journal import (
    Agreed,
    Answered,
    Asked,
    Capped,
    Constructed,
    DaysSaid,
    Described,
    DoorMoved,
    Finished,
    FireLit,
    Foretold,
    Held,
    Joined,
    Learnt,
    Left,
    LookedAfter,
    Measured,
    Model,
    Modelled,
    Moved,
    Opened,
    Promised,
    PromisedFiring,
    Reached,
    Released,
    Reopened,
    Repaired,
    Settled,
    WeatherTold,
    Worded,
)
from scheduling.oven.makeup import MakeUp
from scheduling.oven.stands import Over
from scheduling.ports import PromisedDay
from scheduling.record.case import Case, Talk, case_of, talk_of
from scheduling.record.fold import Folded
from scheduling.record.free import free_days
from scheduling.record.hazards import OpenHazard, open_hazards
from scheduling.record.numbering import promises_of


class Facts(Folded):
    """What a journal tells of its oven, its people, its fires and its days."""

    # ------------------------------------------------------------ the oven and its people

    @cached_property
    def name(self) -> str:
        """What the oven is called."""
        opened = self.last_of(Opened)
        return opened.name if opened is not None else ""

    @cached_property
    def builder(self) -> str | None:
        """Who looks after it; None for an owner alone."""
        kinds = (Opened, LookedAfter)
        last = next((one for one in reversed(self.facts) if isinstance(one, kinds)), None)
        return last.builder if last is not None else None

    @cached_property
    def agreed(self) -> Keep | None:
        """What the builder may keep and see after the end; None while it is not said."""
        last = self.last_of(Agreed)
        return last.keeps if last is not None else None

    @cached_property
    def tenders(self) -> tuple[str, ...]:
        """The people who tend its fire, the owner first."""
        people: dict[str, None] = {}
        for entry in self.facts:
            if isinstance(entry, Joined):
                people.setdefault(entry.person)
            elif isinstance(entry, Left):
                people.pop(entry.person, None)
        return tuple(people)

    @property
    def is_left(self) -> bool:
        """Whoever tended it has gone, and nobody came instead."""
        return not self.tenders and self.last_of(Left) is not None

    @cached_property
    def unreached(self) -> tuple[Reached, ...]:
        """People who cannot be reached by message."""
        latest = {entry.person: entry for entry in self.all_of(Reached)}
        return tuple(entry for entry in latest.values() if not entry.reached)

    @cached_property
    def answers(self) -> dict[About, str]:
        """Answers of the set-up; of one question the last."""
        return {entry.about: entry.value for entry in self.all_of(Answered)}

    @cached_property
    def answered_by(self) -> dict[About, str]:
        """Who gave the answer that counts."""
        return {entry.about: entry.by for entry in self.all_of(Answered)}

    @cached_property
    def model(self) -> str:
        """Title of the builder's model that it is of; "" for none."""
        last = self.last_of(Modelled)
        return last.title if last is not None else ""

    @cached_property
    def own_constructions(self) -> dict[str, Constructed]:
        """Constructions of the builder's own."""
        return {entry.construction: entry for entry in self.all_of(Constructed)}

    @cached_property
    def own_words(self) -> Worded | None:
        """The builder's own words for this oven, as last taken over."""
        return self.last_of(Worded)

    @cached_property
    def makeup(self) -> MakeUp | None:
        """What it is made of; None until enough is known. A repair begins a new cure."""
        described = self.last_of(Described)
        if described is None:
            return None
        repaired = self.last_of(Repaired)
        if repaired is None or repaired.wet_work_ended <= described.makeup.wet_work_ended:
            return described.makeup
        return described.makeup.model_copy(update={"wet_work_ended": repaired.wet_work_ended})

    @cached_property
    def learnt(self) -> Learnt | None:
        """What finished ovens of its model taught it; None for nothing."""
        if self.makeup is None:
            return None
        model = Model.of(self.makeup)
        last = next((one for one in reversed(self.all_of(Learnt)) if one.model == model), None)
        return last if last is not None and last.ovens else None

    @property
    def flue(self) -> bool | None:
        """Whether its smoke leaves by a flue; None where nobody has said."""
        return None if self.makeup is None else self.makeup.flue

    @cached_property
    def indoors_since(self) -> datetime | None:
        """Since when it is known to stand indoors, where no fire is led; None if it does not."""
        told = [one for one in self.all_of(Answered) if one.about is About.STANDS]
        if told:
            return told[-1].at if told[-1].value == Over.INDOORS else None
        described = self.last_of(Described)
        return described.at if described is not None and described.makeup.indoors else None

    @property
    def indoors(self) -> bool:
        """It stands indoors, as far as anybody has said: no fire is led."""
        return self.indoors_since is not None

    @cached_property
    def unit(self) -> str:
        """C or F, as its people like to read."""
        return self.answers.get(About.UNITS, "C")

    @cached_property
    def place(self) -> str:
        """The name of the place where it stands; "" while nobody has said."""
        told = self.answers.get(About.PLACE)
        return place_of(told).name if told else ""

    @cached_property
    def zone(self) -> str:
        """The oven's own time zone."""
        if self.makeup is not None and self.makeup.zone:
            return self.makeup.zone
        place = self.answers.get(About.PLACE)
        return place_of(place).zone if place else "UTC"

    @cached_property
    def zoneinfo(self) -> ZoneInfo:
        """The same, to compute with."""
        return ZoneInfo(self.zone)

    def today(self, now: datetime) -> date:
        """The date that its owner reads."""
        return local_day(now, self.zoneinfo)

    # ------------------------------------------------------------ fires

    @cached_property
    def sessions(self) -> tuple[Session, ...]:
        """All fires so far, the one that burns among them."""
        return sessions_of(self.facts)

    @cached_property
    def session(self) -> Session | None:
        """The fire that burns, or burns down."""
        last = self.sessions[-1] if self.sessions else None
        return last if last is not None and last.ended is None else None

    @cached_property
    def ended_sessions(self) -> tuple[Session, ...]:
        """Fires that are over."""
        return tuple(one for one in self.sessions if one.ended is not None)

    @cached_property
    def readings(self) -> tuple[Measured, ...]:
        """All readings in order of the time they tell of."""
        return tuple(sorted(self.all_of(Measured), key=lambda one: one.at))

    @cached_property
    def last_believed(self) -> Measured | None:
        """The last believed reading."""
        return next((one for one in reversed(self.readings) if one.believed), None)

    @cached_property
    def door_on(self) -> bool | None:
        """Whether the door is on, as far as anybody has said."""
        moved = self.last_of(DoorMoved)
        return None if moved is None else moved.on

    @cached_property
    def hazards(self) -> tuple[OpenHazard, ...]:
        """Hazards that stand open, the gravest first."""
        return open_hazards(self.facts)

    @cached_property
    def finished(self) -> bool:
        """The break-in is done, and nothing has reopened it."""
        done = False
        for entry in self.facts:
            if isinstance(entry, Finished):
                done = True
            elif isinstance(entry, Reopened | Repaired):
                done = False
        return done

    @cached_property
    def held(self) -> Held | None:
        """The builder's hold, while it lasts."""
        holding: Held | None = None
        for entry in self.facts:
            if isinstance(entry, Held):
                holding = entry
            elif isinstance(entry, Released):
                holding = None
        return holding

    # ------------------------------------------------------------ the builder's side

    @cached_property
    def lid_c(self) -> float | None:
        """What no fire may pass by the builder's order, °C; None while there is none."""
        capped = self.last_of(Capped)
        return None if capped is None else capped.cap_c

    @cached_property
    def case(self) -> Case | None:
        """Who of the builder's team has taken what is wrong."""
        return case_of(self.facts)

    @cached_property
    def talk(self) -> Talk | None:
        """The talk between owner and builder that nobody has ended."""
        return talk_of(self.facts)

    # ------------------------------------------------------------ days

    @cached_property
    def availability(self) -> Availability:
        """When somebody can tend a fire, by the set-up and all that was said since."""
        return free_days(self.answers, self.facts)

    @cached_property
    def words(self) -> tuple[OwnersWord, ...]:
        """Weather as people here told it."""
        return tuple(
            OwnersWord(day=e.day, what=e.what, wind_ms=e.wind_ms, said_at=e.at, now=e.now)
            for e in self.all_of(WeatherTold)
        )

    @cached_property
    def forecast(self) -> Forecast | None:
        """The newest forecast."""
        told = self.last_of(Foretold)
        return None if told is None else told.forecast

    @cached_property
    def promises(self) -> tuple[Promised, ...]:
        """Every telling of days, its firings numbered as they are lit."""
        return promises_of(self.facts)

    @cached_property
    def promise(self) -> tuple[PromisedFiring, ...]:
        """Firings that the owner was told, as last told; none above what has been ordered since."""
        if not self.promises:
            return ()
        told = self.promises[-1].firings
        return tuple(one.under(plateau_under(self.lid_c)) for one in told)

    @cached_property
    def promised(self) -> tuple[PromisedDay, ...]:
        """The same as days."""
        return tuple(
            PromisedDay(
                firing=one.number,
                day=one.day,
                told_at=promised.at,
                start=one.start,
                session_h=one.session_h,
                plateau_c=one.plateau_c,
                hold_h=one.hold_h,
                warm_up=one.warm_up,
            )
            for promised in self.promises[-1:]
            for one in self.promise
        )

    @cached_property
    def not_before(self) -> date | None:
        """The builder's earliest day for the next firing, until one has been lit since."""
        day: date | None = None
        for entry in self.facts:
            if isinstance(entry, Moved):
                day = entry.not_before
        return day

    @cached_property
    def stopped_for_now(self) -> bool:
        """Whether no days are laid until the owner says to go on: by a yes, by naming a day, or by
        lighting a fire."""
        for entry in reversed(self.facts):
            if isinstance(entry, DaysSaid | FireLit | Reopened | Repaired):
                return False
            if isinstance(entry, Settled) and entry.what.startswith("stopped:"):
                return not entry.yes
            if isinstance(entry, Asked) and entry.what.startswith("stopped:"):
                return True
        return False

    @cached_property
    def days_gone_by(self) -> int:
        """Promised days in a row that went by without a fire though one might have been lit, since
        the last fire or the last word of days that suit."""
        count = 0
        for entry in reversed(self.facts):
            went_on = isinstance(entry, Settled) and entry.what.startswith("stopped:")
            if went_on or isinstance(entry, DaysSaid | FireLit):
                break
            count += isinstance(entry, Promised) and entry.why == "slipped"
        return count

    @cached_property
    def question(self) -> Asked | None:
        """The question that is open."""
        open_: Asked | None = None
        for entry in self.facts:
            if isinstance(entry, Asked):
                open_ = entry
            elif isinstance(entry, Settled):
                open_ = None
        return open_

    def last_day_fired(self) -> date | None:
        """The day of the last fire."""
        return local_day(self.sessions[-1].lit_at, self.zoneinfo) if self.sessions else None
