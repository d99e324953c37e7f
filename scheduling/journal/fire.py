"""Entries about fires: readings, wood, what was seen, and what was advised."""

from typing import Literal

from scheduling.firing.aim import Action, Aim
from scheduling.hazard import Hazard
from scheduling.journal.base import Written
from scheduling.oven.reading import Suspicion
from scheduling.remark import CrackSize


class Measured(Written):
    """A reading with its raw numbers (°C as shown), believed or doubtful."""

    kind: Literal["measured"] = "measured"
    top_c: float | None = None
    sides_c: tuple[float, ...] = ()
    hearth_c: float | None = None
    approximate: bool = False
    doubt: Suspicion | None = None
    """What speaks against it; a doubtful reading counts for nothing."""
    at_least: bool = False
    """Doubtful, and may well stand for something hotter: to be treated as hot, never as cool."""
    unit_certain: bool = False
    taken_in: Literal["C", "F"] | None = None
    """The unit that the numbers were taken in, where that is known."""

    @property
    def believed(self) -> bool:
        """Whether it may move the wall."""
        return self.doubt is None


class FireLit(Written):
    """The fire was lit, with the aim it was lit for; None for one that nobody planned."""

    kind: Literal["fire_lit"] = "fire_lit"
    aim: Aim | None
    too_early: bool = False
    """Lit against the advice: before the cure, on hold, or under a restriction."""


class WoodPutOn(Written):
    """Wood went on the fire; ``advised`` if it was asked for just before."""

    kind: Literal["wood_put_on"] = "wood_put_on"
    pieces: int | None = None
    kg: float | None = None
    advised: bool = False


class FireDied(Written):
    """No flame is left."""

    kind: Literal["fire_died"] = "fire_died"


class FiringEnded(Written):
    """A firing is over, with what it reached.

    ``peak_c`` and ``held_h`` are of the believed readings; None with no instrument.
    ``why`` tells how it ended.
    """

    kind: Literal["firing_ended"] = "firing_ended"
    firing: int
    aim_c: float
    peak_c: float | None
    held_h: float
    completed: bool
    why: Literal["held", "stopped", "short", "unattended", "weather", "time", "too_early"]
    soot_clear: bool = False


class DoorMoved(Written):
    """The door was put on or taken off."""

    kind: Literal["door_moved"] = "door_moved"
    on: bool


class Seen(Written):
    """Something seen, heard or felt that has no number.

    Dangers are written as ``HazardSeen``; older journals name three of them here.
    """

    kind: Literal["seen"] = "seen"
    what: Literal[
        "steam",
        "damp",
        "smoke",
        "flue_flames",
        "popping",
        "soot_clear",
        "too_big",
        "leaving",
        "back",
        "unwell",
        "wood_out",
        "only_embers",
        "soot_black",
    ]
    minutes: float | None = None
    """For how long somebody leaves the fire, where they said so."""


class CrackSeen(Written):
    """A crack, perhaps with a photo."""

    kind: Literal["crack_seen"] = "crack_seen"
    size: CrackSize
    photo: str | None = None
    from_words: bool = False
    """It was read out of somebody's words, and may have been misread."""
    words: str = ""
    """Those words."""


class HazardSeen(Written):
    """A danger was told of; ``words`` are those of whoever told it."""

    kind: Literal["hazard_seen"] = "hazard_seen"
    hazard: Hazard
    words: str = ""


class HazardClosed(Written):
    """A danger that was reported has been looked at, and is over."""

    kind: Literal["trouble_closed"] = "trouble_closed"
    what: Hazard | Literal["mortar"]
    why: str = ""


class Unheard(Written):
    """Words said beside a fire that nobody could make anything of: no wood goes on until all is
    said to be well, or a later message is understood whole. Empty ``words``: the message could
    not be worked on at all."""

    kind: Literal["unheard"] = "unheard"
    words: str = ""
    misread: bool = False
    """A danger to people was read into such words, and is denied: only a word that all is well
    lets wood go on again."""


class AllWell(Written):
    """Somebody at the fire said that nothing is wrong, when asked about words not understood."""

    kind: Literal["all_well"] = "all_well"


class Advised(Written):
    """What was advised, kept for the record. ``pieces`` and ``kg`` are of this one charge."""

    kind: Literal["advised"] = "advised"
    action: Action
    minutes: float | None = None
    kg: float | None = None
    pieces: int | None = None
    why: str | None = None
    """The reason's name, as in ``meaning.Why``."""


class Nudged(Written):
    """Stoke and read was asked for; ``repeat`` if for the second time."""

    kind: Literal["nudged"] = "nudged"
    repeat: bool = False


class Silent(Written):
    """Nobody answered: the others were told (``told``), then the fire counts as unattended."""

    kind: Literal["silent"] = "silent"
    step: Literal["told", "unattended"]


class Hushed(Written):
    """The owner asked for no nudges until ``until_h`` hours from then; None until they write."""

    kind: Literal["hushed"] = "hushed"
    until_h: float | None = None


class Alerted(Written):
    """The builder's side was told of a trouble: not again for the same one."""

    kind: Literal["alerted"] = "alerted"
    needs: str
