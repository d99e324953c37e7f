"""Entries about the oven itself and the people around it."""

from datetime import date
from typing import Literal

from scheduling.choice import About, Keep
from scheduling.journal.base import Written
from scheduling.oven.makeup import Layer, MakeUp


class Opened(Written):
    """The oven was entered into the book."""

    kind: Literal["opened"] = "opened"
    name: str = ""
    builder: str | None = None


class Answered(Written):
    """A question of the set-up was answered, by the owner or in the builder's invitation."""

    kind: Literal["answered"] = "answered"
    about: About
    value: str


class Constructed(Written):
    """The layers of a builder's own construction, as they were when it was chosen."""

    kind: Literal["constructed"] = "constructed"
    construction: str
    layers: tuple[Layer, ...]
    characteristic_strength_mpa: float
    cement_class: Literal["S", "N", "R"] = "N"
    title: str = ""
    told: str = ""
    """As the builder describes it to an owner."""

    @property
    def name(self) -> str:
        """Its title, or its key where it has none."""
        return self.title or self.construction


class Modelled(Written):
    """The oven is of a model of its builder's, by its title."""

    kind: Literal["modelled"] = "modelled"
    title: str


class Described(Written):
    """What the oven is made of, once enough is known, and again whenever it is corrected."""

    kind: Literal["described"] = "described"
    makeup: MakeUp


class Joined(Written):
    """A person now tends this oven's fire."""

    kind: Literal["joined"] = "joined"
    person: str


class Left(Written):
    """A person no longer does."""

    kind: Literal["left"] = "left"
    person: str


class LookedAfter(Written):
    """A builder's team looks after this oven from now on; None: nobody does."""

    kind: Literal["looked_after"] = "looked_after"
    builder: str | None


class Agreed(Written):
    """What the builder may keep and see after the end, in the owner's word; ``by`` is empty
    where they left it unsaid."""

    kind: Literal["agreed"] = "agreed"
    keeps: Keep


class Repaired(Written):
    """Fresh mortar was put on: a new cure."""

    kind: Literal["repaired"] = "repaired"
    wet_work_ended: date
    what: str = ""


class Noted(Written):
    """A remark that nothing is computed from: a note, a photo, a message not understood."""

    kind: Literal["noted"] = "noted"
    text: str = ""
    photo: str | None = None


class Reached(Written):
    """A person could not be reached by message, or can again."""

    kind: Literal["reached"] = "reached"
    person: str
    reached: bool
    why: str = ""
