"""The limits that a break-in is planned within.

No published standard gives heating rates for a dome; every default is the project's own
cautious choice or common practice, and says so. A builder can only make them gentler.
"""

from typing import Annotated, Self

from pydantic import BaseModel, ConfigDict, Field, model_validator

from scheduling.oven.maturity import READY_RATIO


class Limits(BaseModel):
    """What no firing may pass."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    first_c: Annotated[float, Field(ge=60, le=160)] = 155.0
    """Plateau of the first fire: common practice, no published source."""
    step_k: Annotated[float, Field(ge=10, le=100)] = 100.0
    """Most above the plateau reached before (own choice)."""
    climb_low_k_h: Annotated[float, Field(ge=5, le=100)] = 100.0
    """Climb below ``climb_turns_c`` (own choice); as slow as any maker's drying sheet asks for."""
    climb_high_k_h: Annotated[float, Field(ge=5, le=170)] = 170.0
    climb_turns_c: Annotated[float, Field(ge=150, le=400)] = 200.0
    steam_safety: Annotated[float, Field(ge=3, le=10)] = 3.0
    """Tensile strength over allowed steam pressure (own choice)."""
    confidence: Annotated[float, Field(ge=0.95, le=0.995)] = 0.95
    """Share of members whose steam must stay within its limit."""
    cap_c: Annotated[float, Field(ge=60, le=450)] = 450.0
    """A builder's cap on any plateau."""
    final_c: Annotated[float, Field(ge=200, le=420)] = 400.0
    """Where soot burns off: common practice, no published source."""
    session_h: Annotated[float, Field(ge=1.5, le=8)] = 8.0
    """Longest firing that anybody is asked to tend."""
    hold_h: Annotated[float, Field(ge=1, le=4)] = 4.0
    hold_least_h: Annotated[float, Field(ge=0.5, le=3)] = 3.0
    """Holds last three to four hours: common practice, no published source."""
    final_hold_h: Annotated[float, Field(ge=0.25, le=2)] = 1.5
    """Long enough for the sides, which lag behind the crown, to burn clean too (own choice)."""
    stoke_least_minutes: Annotated[float, Field(ge=15, le=60)] = 30.0
    stoke_most_minutes: Annotated[float, Field(ge=15, le=60)] = 60.0
    cure_floor_d: Annotated[int, Field(ge=0, le=120)] = 0
    ready_ratio: Annotated[float, Field(ge=READY_RATIO, le=1.1)] = READY_RATIO
    most_firings: Annotated[int, Field(ge=1, le=30)] = 14
    """Past this many something is wrong that more fires will not mend."""
    idle_d: Annotated[float, Field(ge=7, le=60)] = 28.0
    """After so long without a fire a warm-up comes first: two or three small stokings."""
    warm_up_c: Annotated[float, Field(ge=50, le=120)] = 100.0

    @model_validator(mode="after")
    def _windows_stand(self) -> Self:
        if self.stoke_least_minutes > self.stoke_most_minutes:
            raise ValueError(
                f"stoking after at least {self.stoke_least_minutes:g} and at most "
                f"{self.stoke_most_minutes:g} minutes leaves no time to stoke in"
            )
        if self.hold_least_h > self.hold_h:
            raise ValueError("the shortest hold is longer than the longest")
        return self

    def gentler_of(self, other: "Limits") -> "Limits":
        """The gentler of both, limit by limit."""
        lower = (
            "first_c", "step_k", "climb_low_k_h", "climb_high_k_h", "cap_c", "final_c",
            "session_h", "idle_d", "warm_up_c", "most_firings",
        )  # fmt: skip
        higher = (
            "climb_turns_c", "steam_safety", "confidence", "cure_floor_d", "ready_ratio",
            "hold_h", "final_hold_h",
        )  # fmt: skip
        least = max(self.stoke_least_minutes, other.stoke_least_minutes)
        most = max(least, min(self.stoke_most_minutes, other.stoke_most_minutes))
        gentle: dict[str, float] = {"stoke_least_minutes": least, "stoke_most_minutes": most}
        for names, pick in ((lower, min), (higher, max)):
            gentle |= {name: pick(getattr(self, name), getattr(other, name)) for name in names}
        # A longer hold dries more at the same heat; the shortest never exceeds the longest.
        gentle["hold_least_h"] = min(max(self.hold_least_h, other.hold_least_h), gentle["hold_h"])
        return Limits.model_validate(gentle)

    def gentled(self, **wished: float | None) -> "Limits":
        """These limits with what a builder wished, where that is gentler; None leaves one be.

        Raises ValueError for a wish below what makes sense, or a limit that does not exist.
        """
        known = {name: value for name, value in wished.items() if value is not None}
        if unknown := known.keys() - Limits.model_fields.keys():
            raise ValueError(f"there is no limit {', '.join(sorted(unknown))}")
        return self.gentler_of(self.model_copy(update=known))

    def climb_k_h(self, surface_c: float) -> float:
        """Fastest climb at that surface temperature."""
        return self.climb_low_k_h if surface_c < self.climb_turns_c else self.climb_high_k_h

    def climb_hours(self, start_c: float, plateau_c: float) -> float:
        """Hours from ``start_c`` up to ``plateau_c`` at the fastest climb."""
        turn = self.climb_turns_c
        slow = max(0.0, min(plateau_c, turn) - min(start_c, turn))
        fast = max(0.0, max(plateau_c, turn) - max(start_c, turn))
        return slow / self.climb_low_k_h + fast / self.climb_high_k_h

    def climbed_c(self, start_c: float, hours: float) -> float:
        """Surface reached after ``hours`` of the fastest climb from ``start_c``."""
        slow_h = max(0.0, self.climb_turns_c - start_c) / self.climb_low_k_h
        slow, fast = min(hours, slow_h), max(0.0, hours - slow_h)
        return start_c + slow * self.climb_low_k_h + fast * self.climb_high_k_h


USUAL = Limits()
