"""Meanings about a builder's own ways."""

from typing import Literal

from pydantic import AwareDatetime, BaseModel, ConfigDict

from scheduling.meaning.base import Said


class WayFault(BaseModel):
    """One fault of a file: where, what, and the range that would be plausible.

    ``low`` and ``high`` are in the field's own unit; for ``less_gentle`` and ``no_reason``
    ``low`` is the project's own limit. ``near`` is what may have been meant.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    what: Literal[
        "not_toml", "unknown", "not_number", "not_text", "not_yes_no", "not_list", "not_table",
        "out_of_range", "no_window", "too_long", "too_many", "empty", "taken", "description",
        "less_gentle", "no_reason", "both", "no_construction",
    ]  # fmt: skip
    line: int | None = None
    field: str = ""
    value: str = ""
    low: float | None = None
    high: float | None = None
    near: str = ""


class WaysRefused(Said):
    """Nothing of it was taken: every fault, by line."""

    kind: Literal["ways_refused"] = "ways_refused"
    faults: tuple[WayFault, ...]


class ModelShown(BaseModel):
    """A model of a builder's: how many have finished and may teach, how many it takes before they
    do, and the fewest and most fires that they took."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    title: str
    diameter_mm: int
    ovens: int
    least: int
    fires: tuple[int, int]


class WaysShown(Said):
    """The ways as they stand, with their file; ``version`` 0 where there are none yet."""

    kind: Literal["ways_shown"] = "ways_shown"
    version: int
    made_at: AwareDatetime | None = None
    by: str = ""
    limits: tuple[tuple[str, float], ...] = ()
    cautions: int = 0
    checks: int = 0
    presets: tuple[str, ...] = ()
    models: tuple[str, ...] = ()
    """Titles of the ovens that they build again and again."""
    greeting: bool = False
    head: tuple[str, ...] = ()
    """What of name, address and logo stands at the head of their papers."""
    learn: bool = True
    teaching: tuple[ModelShown, ...] = ()
    """Those of which ovens have finished."""
    file: str = ""
    """The file's text."""


class WaysKept(Said):
    """A version is kept; new clients begin with it. ``running``: clients that are not done, to
    whom it may be applied. ``changed`` are the names of what differs from the version before."""

    kind: Literal["ways_kept"] = "ways_kept"
    version: int
    changed: tuple[str, ...] = ()
    running: int = 0


class WaysApplied(Said):
    """A version was applied to running clients. ``kept_gentler``: some had gentler limits of
    their own, and keep those."""

    kind: Literal["ways_applied"] = "ways_applied"
    version: int
    clients: int
    kept_gentler: int = 0


class WaysUnchanged(Said):
    """What was sent is what is kept already."""

    kind: Literal["ways_unchanged"] = "ways_unchanged"
    version: int


class WaysOutrun(Said):
    """Somebody of the team was quicker: nothing was kept, look first."""

    kind: Literal["ways_outrun"] = "ways_outrun"
