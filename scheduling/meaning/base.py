"""What all meanings share, and values that several of them show."""

from datetime import date

from pydantic import AwareDatetime, BaseModel, ConfigDict

from scheduling.firing.aim import Aim


class Said(BaseModel):
    """A meaning. Its fields are numbers and names, never sentences to be shown as they are."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class Contact(BaseModel):
    """How somebody at an oven is reached past us: by ``phone``, and at ``chat``, their address in
    the reader's own channel; "" for not at all."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    name: str = ""
    phone: str = ""
    chat: str = ""


class PlanLine(Aim):
    """One firing of a plan with its day."""

    day: date | None
    start: AwareDatetime | None
    poor: float = 0.0
    """Chance from 0 to 1 that the day turns out too poor for a fire."""


class DayChange(BaseModel):
    """A firing that moves: ``before`` is None for one added, ``after`` None for one dropped."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    number: int
    before: date | None
    after: date | None
    aim_before_c: float | None = None
    aim_after_c: float | None = None


class ReadingShown(BaseModel):
    """A reading as it is shown (°C)."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    at: AwareDatetime
    top_c: float | None = None
    sides_c: tuple[float, ...] = ()
    hearth_c: float | None = None
    believed: bool = True


class StokeShown(BaseModel):
    """Wood put on, as it is shown."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    at: AwareDatetime
    pieces: int | None = None
    kg: float | None = None


class FiringShown(BaseModel):
    """All that a picture or a summary of one firing needs.

    ``spans_held`` are the times during which it was in the band or above, ``held_h`` their hours
    (of a fire that nobody read: by the clock). A field that is not known is left aside: pictures
    that wait to be sent may be of an older version.
    """

    model_config = ConfigDict(frozen=True, extra="ignore")

    aim: Aim
    lit_at: AwareDatetime
    ended_at: AwareDatetime | None = None
    readings: tuple[ReadingShown, ...] = ()
    stokes: tuple[StokeShown, ...] = ()
    spans_held: tuple[tuple[AwareDatetime, AwareDatetime], ...] = ()
    held_h: float = 0.0
    peak_c: float | None = None
