"""An oven on the road: tests say what happens, and read what was said, as a story."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from functools import cache
from typing import Any, TypeVar

from scheduling.advance import advance
from scheduling.alarm import AlarmName
from scheduling.choice import (
    About,
    Choice,
    Command,
    CommandName,
    Confirm,
    Ordering,
    OrderName,
    SetUpAnswer,
)
from scheduling.firing.aim import Action
from scheduling.happening import Begun, Came, Chose, Happening, Spoke
from scheduling.hazard import Hazard
from scheduling.meaning import Advice, Meaning
from scheduling.outcome import Message, Outcome
from scheduling.record import Record
from scheduling.remark import (
    Crack,
    CrackSize,
    DoorOn,
    FireOut,
    HazardSaid,
    Lit,
    Looked,
    Reading,
    Remark,
    Sign,
    Stoked,
)

ANA = "ana"
START = datetime(2026, 5, 1, 8, 0, tzinfo=UTC)
M = TypeVar("M")

ANSWERS: dict[About, str] = {
    About.UNITS: "C",
    About.PLACE: "51.5,-0.1,Europe/London,Kew",
    About.CONSTRUCTION: "cast-dense",
    About.SIZE: "900",
    About.WET_WORK: "2026-03-01",
    About.STANDS: "roof",
    About.OPENINGS: "insulated+flue",
    About.INSTRUMENT: "550",
    About.DAYS: "0123456",
    About.HOURS: "7-22",
    About.SECOND: "none",
}


@dataclass
class Road:
    """One oven, its alarms, and everything that was said, on a clock moved by hand."""

    now: datetime = START
    record: Record = field(default_factory=lambda: Record(members=0))
    """By the rule of thumb alone, for speed; the wall has stories of its own."""
    alarms: dict[AlarmName, datetime] = field(default_factory=dict)
    said: list[Message] = field(default_factory=list)
    mark: int = 0
    count: int = 0

    # ------------------------------------------------------------ what happens

    def happen(self, happening: Happening) -> Outcome:
        self.mark = len(self.said)
        outcome = advance(self.record, happening, self.now)
        self.record = self.record.with_entries(outcome.entries)
        for name in outcome.drop_alarms:
            self.alarms.pop(name, None)
        for alarm in outcome.set_alarms:
            assert alarm.due.tzinfo is not None
            self.alarms[alarm.name] = alarm.due
        self.said += outcome.messages
        return outcome

    def key(self) -> str:
        self.count += 1
        return f"m{self.count}"

    def begin(self, answers: dict[About, str] | None = None, builder: str | None = None) -> "Road":
        """Through the whole set-up, answer by answer."""
        wanted = tuple({**ANSWERS, **(answers or {})}.items())
        begun = _begun(wanted, builder, self.now, self.record.members)
        self.record, self.count, self.mark = begun.record, begun.count, begun.mark
        self.alarms, self.said = dict(begun.alarms), list(begun.said)
        return self

    def press(self, choice: Choice, by: str = ANA) -> Outcome:
        return self.happen(Chose(by, choice, self.key()))

    def say(self, *remarks: Remark, by: str = ANA, text: str = "", **more: Any) -> Outcome:
        spoke = Spoke(by, text, tuple(remarks), **({"key": self.key()} | more))
        return self.happen(spoke)

    def reads(self, top_c: float, *sides_c: float, **more: Any) -> Outcome:
        return self.say(Reading(top_c=top_c, sides_c=sides_c, **more))

    def lights(self, at: datetime | None = None) -> Outcome:
        return self.say(Lit(at=at))

    def stokes(self, pieces: int | None = None, at: datetime | None = None) -> Outcome:
        return self.say(Stoked(pieces=pieces, at=at))

    def sees(self, what: str) -> Outcome:
        return self.say(Sign(kind=what))

    def endangered(self, *hazards: Hazard, text: str = "") -> Outcome:
        return self.say(*(HazardSaid(hazard=one) for one in hazards), text=text)

    def looked(self, hazard: Hazard | None = None, *, sound: bool = True, **more: Any) -> Outcome:
        return self.say(Looked(hazard=hazard, sound=sound), **more)

    def cracks(self, size: CrackSize) -> Outcome:
        return self.say(Crack(size=size))

    def shuts_door(self) -> Outcome:
        return self.say(DoorOn())

    def fire_dies(self) -> Outcome:
        return self.say(FireOut())

    def confirms(self, proposal: str, yes: bool = True) -> Outcome:
        return self.press(Confirm(proposal=proposal, yes=yes))

    def orders(self, name: OrderName, **more: Any) -> Outcome:
        return self.press(Ordering(name=name, **more), by="beth")

    def undoes(self) -> Outcome:
        return self.press(Command(name=CommandName.UNDO))

    # ------------------------------------------------------------ time

    def wait(self, minutes: float = 0.0, *, hours: float = 0.0, days: float = 0.0) -> "Road":
        return self.until(self.now + timedelta(minutes=minutes, hours=hours, days=days))

    def until(self, then: datetime) -> "Road":
        """Run every alarm that comes due on the way, each at its own time."""
        start = len(self.said)
        for _ in range(1000):
            due = min(self.alarms.items(), key=lambda item: item[1], default=None)
            if due is None or due[1] > then:
                break
            self.now = max(self.now, due[1])
            del self.alarms[due[0]]
            self.happen(Came(due[0], due[1]))
        else:
            raise AssertionError("the alarms never come to rest")
        self.now = then
        self.mark = start
        return self

    def sleep_through(self, then: datetime) -> "Road":
        """A downtime: nothing runs until ``then``, and everything overdue at that moment."""
        self.now = then
        return self.until(then)

    # ------------------------------------------------------------ what was said

    @property
    def heard(self) -> list[Meaning]:
        """What the last step said."""
        return [message.meaning for message in self.said[self.mark :]]

    def last(self, kind: type[M]) -> M:
        """The last of that kind that was ever said."""
        return next(m.meaning for m in reversed(self.said) if isinstance(m.meaning, kind))

    def heard_of(self, kind: type[M]) -> list[M]:
        return [one for one in self.heard if isinstance(one, kind)]

    def all_said(self, kind: type[M]) -> list[M]:
        return [m.meaning for m in self.said if isinstance(m.meaning, kind)]

    @property
    def action(self) -> Action | None:
        """What was advised in the last step."""
        advised = self.heard_of(Advice)
        return advised[-1].action if advised else None

    def entries(self, kind: type[M]) -> Sequence[M]:
        return [one for one in self.record.entries if isinstance(one, kind)]

    def to_first_firing(self) -> "Road":
        """Wait until the first firing may begin: it was asked for the starting reading."""
        first = self.record.promise[0]
        return self.until(first.start)


@cache
def _begun(
    answers: tuple[tuple[About, str], ...], builder: str | None, now: datetime, members: int
) -> Road:
    """An oven just described: kept, since many stories begin alike."""
    road = Road(now=now, record=Record(members=members))
    road.happen(Begun(ANA, "Ana's oven", builder))
    for about, value in answers:
        road.press(SetUpAnswer(about=about, value=value))
    return road


def stoking(road: Road, until_c: float, climb_k: float = 30.0, times: int = 30) -> Road:
    """Tend the fire as advised on an oven that climbs ``climb_k`` a nudge, up to ``until_c``."""
    top_c = road.record.session.top_c if road.record.session else None
    top_c = 14.0 if top_c is None else top_c
    for _ in range(times):
        due = road.alarms.get(AlarmName.NUDGE)
        if due is None:
            return road
        road.until(max(due, road.now + timedelta(minutes=1)))
        top_c = min(until_c, top_c + climb_k)
        road.reads(top_c)
        if road.heard_of(Advice) and road.action is Action.ADD:
            road.stokes(road.heard_of(Advice)[-1].pieces)
    return road


def lit(answers: dict[About, str] | None = None, builder: str | None = None) -> Road:
    """The first firing of an ordinary oven, just lit."""
    road = Road().begin(answers, builder).to_first_firing()
    if (answers or {}).get(About.INSTRUMENT) != "none":
        road.reads(14)
    road.lights()
    return road


def fired(road: Road, *, look: bool = True) -> Road:
    """One firing of the plan from the morning to the shut door, and a look at the soot."""
    aim_c = road.record.promise[0].plateau_c
    road.until(road.record.promise[0].start)
    road.reads(25)
    road.lights()
    stoking(road, aim_c + 3.0, 30.0 if aim_c < 200 else 45.0)
    if AlarmName.EMBERS in road.alarms:
        road.until(road.alarms[AlarmName.EMBERS])
    if road.record.session is not None:
        road.shuts_door()
    question = road.record.question
    if look and question is not None and question.what == "soot":
        road.sees("soot_clear")
    return road
