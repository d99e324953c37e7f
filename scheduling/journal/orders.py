"""Entries that only a builder writes. Each can be taken back; the journal keeps both."""

from datetime import date
from typing import Literal

from pydantic import BaseModel, ConfigDict

from scheduling.journal.base import Written


class Order(Written):
    """``why`` is the builder's reason; ``confirmed`` if it makes the plan less gentle and was
    confirmed in so many words; ``together`` is the same in all entries of an order for many."""

    why: str = ""
    confirmed: bool = False
    together: str = ""


class Held(Order):
    """No firing until released; a burning fire is left to die."""

    kind: Literal["held"] = "held"


class Released(Order):
    """Firing may go on."""

    kind: Literal["released"] = "released"


class Capped(Order):
    """Nothing above ``cap_c``: neither the plateau nor its range; None lifts an earlier cap."""

    kind: Literal["capped"] = "capped"
    cap_c: float | None


class OwnLimits(BaseModel):
    """A builder's limits in °C, K/h, minutes, hours and days; None leaves one as it is."""

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False)

    step_k: float | None = None
    climb_low_k_h: float | None = None
    climb_high_k_h: float | None = None
    stoke_min_minutes: float | None = None
    stoke_max_minutes: float | None = None
    cure_floor_d: int | None = None
    session_h: float | None = None
    final_c: float | None = None

    def told(self) -> dict[str, float]:
        """Those that are set."""
        return self.model_dump(include=set(OwnLimits.model_fields), exclude_none=True)


class LimitsSet(Order, OwnLimits):
    """Limits of this builder for this oven."""

    kind: Literal["limits_set"] = "limits_set"


class RepeatOrdered(Order):
    """The last firing is to be done again: no higher aim than ``cap_c`` at the next one."""

    kind: Literal["repeat_ordered"] = "repeat_ordered"
    cap_c: float


class Moved(Order):
    """The next firing not before this day."""

    kind: Literal["moved"] = "moved"
    not_before: date


class Forbidden(Order):
    """No firing from ``first`` to ``last``, both inclusive."""

    kind: Literal["forbidden"] = "forbidden"
    first: date
    last: date


class TakenBack(Order):
    """The order with that number in the journal no longer holds."""

    kind: Literal["taken_back"] = "taken_back"
    seq: int


class Undone(Written):
    """The entries with these numbers are as if they had never been written."""

    kind: Literal["undone"] = "undone"
    seqs: tuple[int, ...]
    why: Literal["undo", "edited", "unit"] = "undo"
    """``unit``: numbers in the wrong one, written again in the right one."""
