"""When somebody can tend a fire, out of the journal."""

from collections.abc import Mapping, Sequence
from datetime import timedelta

from scheduling.breakin.availability import Availability, Closed, Rule, Window
from scheduling.choice import About
from scheduling.journal import DaysSaid, Entry, Forbidden, RestrictionSaid

ANY_HOUR = Window(7.0, 22.0)


def free_days(answers: Mapping[About, str], entries: Sequence[Entry]) -> Availability:
    """By the set-up's answers and all that was said since. A restriction outranks the rest, and
    what the builder forbids outranks what the owner says."""
    days, hours = answers.get(About.DAYS), answers.get(About.HOURS)
    window = Window(*map(float, hours.split("-"))) if hours else ANY_HOUR
    free = Availability(tuple(window if not days or str(i) in days else None for i in range(7)))
    for entry in entries:
        rule = _rule_of(entry, window)
        if rule is not None:
            free = free.with_rule(rule)
    for rule in _restrictions([one for one in entries if isinstance(one, RestrictionSaid)]):
        free = free.with_rule(rule)
    return free


def _restrictions(said: Sequence[RestrictionSaid]) -> list[Rule]:
    """Restrictions, each cut short by the first word that it is over."""
    rules: list[Rule] = []
    for one in said:
        over = next((other for other in said if other.over and other.at > one.at), None)
        last = one.last if over is None else min(one.last, over.first - timedelta(days=1))
        if not one.over and last >= one.first:
            rules.append(Rule(one.first, last, None, Closed.RESTRICTED))
    return rules


def _rule_of(entry: Entry, usual: Window) -> Rule | None:
    match entry:
        case DaysSaid(free=False):
            return Rule(entry.first, entry.last)
        case DaysSaid():
            window = Window(entry.from_hour, entry.to_hour)
            whole = window == Window()
            return Rule(entry.first, entry.last, usual if whole else window)
        case Forbidden():
            return Rule(entry.first, entry.last, None, Closed.FORBIDDEN)
        case _:
            return None
