"""What happened to a wall: the believed facts that drive it, in order of time.

Readings here are judged and corrected already (see ``reading`` and ``infrared``); a doubtful
one is no fact. All instants are timezone-aware, temperatures in °C.
"""

import math
from collections.abc import Iterable
from datetime import datetime
from typing import Annotated, Literal, Self

from pydantic import AwareDatetime, BaseModel, ConfigDict, Field, TypeAdapter, model_validator

Celsius = Annotated[float, Field(ge=-60.0, le=1000.0, allow_inf_nan=False)]


class DisorderError(ValueError):
    """The facts are not in order, or lie where they cannot."""


class _Fact(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")

    at: AwareDatetime


class FireLit(_Fact):
    """A fire was lit, meant to reach ``aim_c`` (None: nobody knows what it was meant for).

    ``climb_c_per_h`` is how fast it was meant to climb: with no thermometer it is all that is
    known of the fire.
    """

    kind: Literal["fire_lit"] = "fire_lit"
    aim_c: Celsius | None = None
    climb_c_per_h: Annotated[float, Field(gt=0, le=1000)] = 100.0


class FireOut(_Fact):
    """The fire is out, or down to embers that no longer heat the dome."""

    kind: Literal["fire_out"] = "fire_out"


class DoorSet(_Fact):
    """The door was put on or taken off. On a burning fire, on ends it."""

    kind: Literal["door_set"] = "door_set"
    on: bool


class WoodPut(_Fact):
    """Wood was put on; None for an amount that was not told: as much as the fire had."""

    kind: Literal["wood_put"] = "wood_put"
    kg: Annotated[float, Field(ge=0, le=200, allow_inf_nan=False)] | None = None


class SurfaceRead(_Fact):
    """Surface temperatures, believed and corrected, with one standard deviation ``spread_c``.

    ``between`` if nobody read it: a fire is believed to have stood so high between two readings. It
    drives the wall, and counts for nothing else.
    """

    kind: Literal["surface_read"] = "surface_read"
    between: bool = False
    top_c: Celsius | None = None
    side_c: tuple[Celsius, ...] = ()
    spread_c: Annotated[float, Field(ge=0, le=100, allow_inf_nan=False)] = 4.0

    @model_validator(mode="after")
    def _says_something(self) -> Self:
        if self.top_c is None and not self.side_c:
            raise ValueError("a reading needs at least one temperature")
        return self


class Unwatched(_Fact):
    """Nobody answered from ``at`` until ``until`` while a fire may have burnt: the fire may
    have flared in between, and the belief widens by as much."""

    kind: Literal["unwatched"] = "unwatched"
    until: AwareDatetime


class Soaked(_Fact):
    """The oven itself got wet through. ``rain_mm`` if it is known how much fell on it.

    Without it the outer layers are taken for full and the shell for wetted, by an amount that
    differs from member to member.
    """

    kind: Literal["soaked"] = "soaked"
    rain_mm: Annotated[float, Field(ge=0, le=500, allow_inf_nan=False)] | None = None


class Rendered(_Fact):
    """Fresh, wet mortar went on: as outer render, or as a repair that reaches the shell.

    Where it reaches the shell, the mortar's age starts anew at ``at``.
    """

    kind: Literal["rendered"] = "rendered"
    reaches_shell: bool = False


Fact = Annotated[
    FireLit | FireOut | DoorSet | WoodPut | SurfaceRead | Unwatched | Soaked | Rendered,
    Field(discriminator="kind"),
]

FACTS: TypeAdapter[tuple[Fact, ...]] = TypeAdapter(tuple[Fact, ...])


def in_order(facts: Iterable[Fact], after: datetime, until: datetime) -> tuple[Fact, ...]:
    """The facts as given, if they are in order and lie within ``after``-``until``.

    Raises DisorderError: a fact out of order was believed on wrong grounds, and sorting it in
    silently would rewrite what was advised meanwhile.
    """
    if math.isnan((until - after).total_seconds()) or until < after:
        raise DisorderError(f"cannot go back from {after:%Y-%m-%d %H:%M} to {until:%Y-%m-%d %H:%M}")
    known = tuple(facts)
    before = after
    for fact in known:
        if fact.at < before:
            raise DisorderError(
                f"{fact.kind} at {fact.at:%Y-%m-%d %H:%M} comes after what happened at "
                f"{before:%Y-%m-%d %H:%M}; put the journal in order of time"
            )
        before = fact.at
    if before > until:
        raise DisorderError(f"{known[-1].kind} at {before:%Y-%m-%d %H:%M} lies in the future")
    return known
