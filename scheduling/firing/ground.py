"""What a decision about a fire stands on, and what comes out of it."""

from dataclasses import dataclass, field
from datetime import datetime, timedelta

from scheduling.firing.aim import Action, WhyGentler
from scheduling.firing.response import Known
from scheduling.firing.rule import Bounds
from scheduling.firing.session import Session


@dataclass(frozen=True, slots=True)
class Reason:
    """Why, as in ``meaning.Why``."""

    what: str
    amount: float | None = None


@dataclass(frozen=True, slots=True)
class WallSays:
    """What the wall's forecast has to say, as far as it has.

    Shares are of the steam limit (95 %) over the next stoking: ``steam_share`` with no more wood,
    ``steam_share_held`` with the crown kept where it is, ``steam_share_led`` with it led to its
    plateau. ``falls_at`` is when the crown leaves the band.
    """

    steam_share: float | None = None
    steam_share_held: float | None = None
    steam_share_led: float | None = None
    plateau_at: datetime | None = None
    falls_at: datetime | None = None
    expect_c: tuple[float, float] | None = None
    dry: bool | None = None
    """The shell is dry enough for this firing: holding longer gains nothing."""


@dataclass(frozen=True, slots=True)
class Ground:
    """All that a decision stands on. ``forbidden`` is why no wood may go on whatever is read:
    ``indoors``, ``held``, ``trouble`` (a hazard that stops the fire), ``hazard`` (one that holds
    the wood), ``unheard`` (words that nobody understood), ``cure``, ``weather``,
    ``restricted``, ``forbidden`` (by the builder), ``away``, ``silent``."""

    session: Session
    now: datetime
    bounds: Bounds
    instrument: bool
    forbidden: str | None = None
    wall: WallSays | None = None
    modelled: bool = False
    """An ensemble follows this oven: while it has nothing to say of a fire, it allows no wood."""
    known: Known = field(default_factory=Known)
    """What is known of the dome beside this fire."""
    latest: datetime | None = None
    """After this the owner has no more time."""

    def just_fed(self) -> Reason:
        """The last wood, or the first, has not shown yet what it does; how old it is, minutes."""
        since = (self.now - self.session.last_fed_at) / timedelta(minutes=1)
        return Reason("just_fed" if self.session.stokes else "just_lit", since)


@dataclass(frozen=True, slots=True)
class Decision:
    """One action, why, and when to look again."""

    action: Action
    why: Reason
    minutes: float | None = None
    kg: float | None = None
    pieces: int | None = None
    expect_c: tuple[float, float] | None = None
    plateau_at: datetime | None = None
    gentler: WhyGentler | None = None
    piece_mm: float | None = None
    """Thickness of the pieces, where it is not that of the aim."""
