"""A journal folded: which entries count, and what was computed from them, kept while it holds."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from functools import cached_property
from typing import TYPE_CHECKING, Self, TypeVar

from scheduling.journal import (
    Capped,
    Described,
    DoorMoved,
    Entry,
    FireDied,
    FireLit,
    FiringEnded,
    Foretold,
    HazardClosed,
    Learnt,
    LimitsSet,
    Measured,
    Repaired,
    RepeatOrdered,
    Silent,
    TakenBack,
    Undone,
    WeatherTold,
    WoodPutOn,
)
from scheduling.ports import OvenCard
from scheduling.record.live import Numbered, live
from scheduling.record.worked import Worked

if TYPE_CHECKING:
    from scheduling.oven.belief import Belief
    from scheduling.oven.maturity import Cure

TAKES_OUT = (Undone, TakenBack)
"""Entries after which others count no more."""

MOVES_CURE = (Described, Repaired, LimitsSet, Foretold, HazardClosed)
"""Entries that may change how the mortar stands."""

MOVES_WALL = (
    DoorMoved, FireDied, FireLit, FiringEnded, Learnt, Measured, Silent, WeatherTold, WoodPutOn,
)  # fmt: skip
"""Entries that may change what is believed of the wall, besides those above."""

MOVES_PLAN = (
    Capped, Described, FireLit, FiringEnded, Learnt, LimitsSet, Measured, Repaired, RepeatOrdered,
    Silent, WeatherTold, WoodPutOn,
)  # fmt: skip
"""Entries that a plan stands on. A forecast is not among them: what is said of the sky between
two firings moves days, and the firing about to be lit is computed anew with every forecast."""

MEMBERS = 200

KEPT_BELIEFS = 2
"""One reply looks at now and at one moment ahead."""

E = TypeVar("E")


@dataclass(frozen=True)
class Folded:
    """The journal of one oven. ``believed`` is the ensemble as it was after entry ``believed_seq``,
    or None."""

    entries: tuple[Entry, ...] = ()
    oven: str = ""
    believed: "Belief | None" = None
    believed_seq: int = 0
    members: int = MEMBERS
    """Size of the ensemble; 0 for the rule of thumb alone."""
    worked: Worked = field(default_factory=Worked, compare=False, repr=False)

    @classmethod
    def empty(cls, card: OvenCard) -> Self:
        """The record of an oven whose journal has not begun."""
        return cls(oven=card.id)

    @classmethod
    def folded(cls, entries: Sequence[Entry], oven: str = "") -> Self:
        """The record of a whole journal."""
        return cls(tuple(entries), oven)

    def applied(self, entry: Entry) -> Self:
        """The record after one more entry."""
        return self.with_entries((entry,))

    def with_entries(self, entries: Sequence[Entry]) -> Self:
        """The record after some more entries."""
        if not entries:
            return self
        after = replace(self, entries=(*self.entries, *entries))
        if _any(entries, (*TAKES_OUT, Described, Learnt, Repaired)):
            # The ensemble leant on what is gone, or on another prior: it is computed anew.
            after = replace(after, believed=None, believed_seq=0)
        if _any(entries, TAKES_OUT):
            return after
        kept = after.__dict__
        if "live" in self.__dict__:
            # Nothing is taken out, so what counted still counts: spare the second reading.
            start = len(self.entries) + 1
            added = tuple(Numbered(start + i, entry) for i, entry in enumerate(entries))
            kept["live"] = self.live + added
        if not _any(entries, MOVES_CURE):
            kept["cures"] = self.cures
            if not _any(entries, MOVES_WALL):
                kept["beliefs"] = self.beliefs
        return after

    def believing(self, belief: "Belief | None") -> Self:
        """The same with the ensemble as it is after the last entry."""
        after = replace(self, believed=belief, believed_seq=len(self.entries))
        after.__dict__.update({k: v for k, v in self.__dict__.items() if k not in _FIELDS})
        return after

    @cached_property
    def live(self) -> tuple[Numbered, ...]:
        """The entries that count."""
        return live(self.entries)

    @cached_property
    def cures(self) -> "dict[date, Cure]":
        """How the mortar stood on days it was asked for: kept on while nothing moves it."""
        return {}

    @cached_property
    def plan_ground(self) -> tuple[Entry, ...]:
        """The entries that a plan stands on."""
        return tuple(entry for entry in self.facts if isinstance(entry, MOVES_PLAN))

    @cached_property
    def beliefs(self) -> Worked:
        """The ensemble at moments it was asked for, while nothing new is told to the wall.

        One takes more than a megabyte, and somebody who only asks comes back at ever new moments.
        """
        return Worked(KEPT_BELIEFS)

    @cached_property
    def facts(self) -> tuple[Entry, ...]:
        """The same without their numbers."""
        return tuple(one.entry for one in self.live)

    @cached_property
    def keys(self) -> frozenset[str]:
        """Messages and presses that have had their effect."""
        return frozenset(entry.key for entry in self.entries if entry.key is not None)

    def all_of(self, kind: type[E]) -> tuple[E, ...]:
        """Entries of a kind that count, in the journal's order."""
        return tuple(entry for entry in self.facts if isinstance(entry, kind))

    def last_of(self, kind: type[E]) -> E | None:
        """The last entry of a kind that counts."""
        return next((e for e in reversed(self.facts) if isinstance(e, kind)), None)


def _any(entries: Sequence[Entry], kinds: tuple[type, ...]) -> bool:
    return any(isinstance(entry, kinds) for entry in entries)


_FIELDS = frozenset(Folded.__dataclass_fields__)
