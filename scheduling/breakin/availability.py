"""When somebody can tend a fire: derived from facts alone, so that undoing a fact undoes it.

Hours are local wall-clock hours, 0 to 24. A fire restriction outranks everything said before or
after it; of two other rules about a day the later said holds.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from enum import StrEnum

from scheduling.remark import Available, Unavailable

LONGEST_AWAY_D = 366
FARTHEST_AHEAD_D = 730


class Closed(StrEnum):
    """Why no fire can be lit on a day."""

    AWAY = "away"
    RESTRICTED = "restricted"  # a local fire restriction: asked for, never guessed
    FORBIDDEN = "forbidden"  # the builder wants no fire then
    TENDING_ANOTHER = "tending_another"  # the same person has a fire elsewhere
    USUALLY_BUSY = "usually_busy"
    TOO_SHORT = "too_short"  # fewer hours than the firing takes
    CURING = "curing"


OUTRANKING = (Closed.RESTRICTED, Closed.FORBIDDEN)
"""Why a day stays closed whatever is said of it later."""


@dataclass(frozen=True, slots=True)
class Window:
    """Free from one local hour to another of the same day."""

    first_hour: float = 0.0
    last_hour: float = 24.0

    @property
    def hours(self) -> float:
        """Its length; 0 when it ends before it begins."""
        return max(0.0, self.last_hour - self.first_hour)

    def within(self, other: "Window") -> "Window":
        """What is left of it inside another."""
        return Window(max(self.first_hour, other.first_hour), min(self.last_hour, other.last_hour))


@dataclass(frozen=True, slots=True)
class Rule:
    """What holds from ``first`` to ``last``, both inclusive: free in ``window``, or closed."""

    first: date
    last: date
    window: Window | None = None
    why: Closed = Closed.AWAY

    def covers(self, day: date) -> bool:
        """Whether it says anything about that day."""
        return self.first <= day <= self.last


@dataclass(frozen=True, slots=True)
class Availability:
    """``usual[i]`` is the free window of weekday i (Monday 0), None when never free."""

    usual: tuple[Window | None, ...] = field(default=(Window(),) * 7)
    rules: tuple[Rule, ...] = ()

    def on(self, day: date) -> Window | Closed:
        """The free window of a day, or why there is none."""
        about = [rule for rule in self.rules if rule.covers(day)]
        for outranking in OUTRANKING:
            if any(rule.why is outranking and rule.window is None for rule in about):
                return outranking
        if about:
            return about[-1].window or about[-1].why
        return self.usual[day.weekday()] or Closed.USUALLY_BUSY

    def with_rule(self, rule: Rule) -> "Availability":
        """The same with one more thing said; saying it twice changes nothing."""
        if self.rules and self.rules[-1] == rule:
            return self
        return Availability(self.usual, (*self.rules, rule))

    def with_remark(self, remark: Unavailable | Available, today: date) -> "Availability":
        """The same after a message about days."""
        rule = rule_of(remark, today)
        return self if rule is None else self.with_rule(rule)


def rule_of(remark: Unavailable | Available, today: date) -> Rule | None:
    """What a message about days means. None for an ``Available`` that names no day."""
    if isinstance(remark, Unavailable):
        window = None
        if remark.before_hour is not None or remark.after_hour is not None:
            window = Window(remark.before_hour or 0.0, remark.after_hour or 24.0)
        return Rule(max(remark.first, today), remark.last, window)
    if remark.first is None:
        return None
    return Rule(remark.first, remark.last or remark.first, Window())


def tended_elsewhere(days: Iterable[date]) -> tuple[Rule, ...]:
    """Rules that keep a person's other fires from falling on the same days."""
    return tuple(Rule(day, day, None, Closed.TENDING_ANOTHER) for day in sorted(set(days)))


class DateTrouble(StrEnum):
    """Why a range of days is asked back."""

    IN_THE_PAST = "in_the_past"
    BACKWARDS = "backwards"
    TOO_LONG = "too_long"
    TOO_FAR = "too_far"
    PARTLY_PAST = "partly_past"  # no hindrance: what is past is left out, and said
    NO_HOURS = "no_hours"


HINDRANCES = frozenset(DateTrouble) - {DateTrouble.PARTLY_PAST}


def trouble_with(
    first: date, last: date, today: date, window: Window | None = None
) -> tuple[DateTrouble, ...]:
    """What is odd about a range of days that was typed; empty when nothing is."""
    checks: Mapping[DateTrouble, bool] = {
        DateTrouble.BACKWARDS: last < first,
        DateTrouble.IN_THE_PAST: max(first, last) < today,
        DateTrouble.PARTLY_PAST: first < today <= last,
        DateTrouble.TOO_LONG: last - first > timedelta(days=LONGEST_AWAY_D),
        DateTrouble.TOO_FAR: first - today > timedelta(days=FARTHEST_AHEAD_D),
        DateTrouble.NO_HOURS: window is not None and window.hours <= 0.0,
    }
    return tuple(trouble for trouble, found in checks.items() if found)
