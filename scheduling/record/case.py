"""What the builder's side does about an oven: who has the case, and who speaks with the owner."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

from scheduling.journal import (
    CaseClosed,
    CaseHandedBack,
    CaseTaken,
    Entry,
    HazardClosed,
    Jotted,
    LookedAfter,
    Order,
    TalkClosed,
    TalkOpened,
    TalkSaid,
)

TALK_LASTS = timedelta(hours=2)
"""A talk in which nobody has said anything for so long is over (own choice)."""


@dataclass(frozen=True, slots=True)
class Case:
    """Who of the team looks after an oven, and since when."""

    by: str
    name: str
    since: datetime


@dataclass(frozen=True, slots=True)
class Talk:
    """Who of the team speaks with the owner; ``heard_at`` is when anything was last said."""

    by: str
    name: str
    since: datetime
    heard_at: datetime

    def open(self, now: datetime) -> bool:
        """Whether it still goes on."""
        return now - self.heard_at < TALK_LASTS


def case_of(entries: Iterable[Entry]) -> Case | None:
    """The case as it stands after these entries."""
    case: Case | None = None
    for entry in entries:
        match entry:
            case CaseTaken():
                case = Case(entry.by, entry.name, entry.at)
            case CaseHandedBack() | CaseClosed() | LookedAfter():
                case = None
            case _:
                pass
    return case


def talk_of(entries: Iterable[Entry]) -> Talk | None:
    """The last talk that nobody has ended; it may have fallen asleep."""
    talk: Talk | None = None
    for entry in entries:
        match entry:
            case TalkOpened():
                talk = Talk(entry.by, entry.name, entry.at, entry.at)
            case TalkSaid() if talk is not None:
                talk = Talk(talk.by, talk.name, talk.since, max(entry.at, talk.heard_at))
            case TalkClosed() | LookedAfter():
                talk = None
            case _:
                pass
    return talk


@dataclass(frozen=True, slots=True)
class Attention:
    """When the builder's side last acted (None for never, or handed back since), and when a case
    was last handed back."""

    acted_at: datetime | None = None
    dropped_at: datetime | None = None


def attention_of(entries: Iterable[Entry]) -> Attention:
    """How the builder's side has looked after the oven."""
    attention = Attention()
    for entry in entries:
        if isinstance(entry, CaseHandedBack):
            attention = Attention(None, entry.at)
        elif _is_act(entry):
            attention = Attention(entry.at, attention.dropped_at)
    return attention


def _is_act(entry: Entry) -> bool:
    if isinstance(entry, TalkSaid):
        return entry.side == "builder"
    return isinstance(entry, CaseTaken | CaseClosed | Jotted | Order | HazardClosed | TalkOpened)
