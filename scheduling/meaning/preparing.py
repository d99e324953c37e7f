"""Meanings about the make-up of an oven that its builder fills in, before or after its owner comes.

``oven`` and ``invitation`` are ids: one of them says whose make-up it is; ``name`` is what the
builder calls it.
"""

from typing import Literal

from pydantic import AwareDatetime

from scheduling.choice import About
from scheduling.meaning.base import Said
from scheduling.meaning.setting_up import Option, SetUpRefused


class FilledIn(Said):
    """To the builder, what was new in what they filled in (nothing, if all was known) of the oven
    called ``oven``, or of that of an ``invitation``; to who tends it (``owner``), what their
    builder ``by`` filled in."""

    kind: Literal["filled_in"] = "filled_in"
    answers: tuple[tuple[About, str], ...] = ()
    oven: str = ""
    invitation: str = ""
    model: str = ""
    by: str = ""
    owner: bool = False
    left: tuple[About, ...] = ()
    """What the builder could fill in as well; else its owner is asked."""


class FillingWaits(Said):
    """A fire burns: its wall is not changed under it."""

    kind: Literal["filling_waits"] = "filling_waits"
    oven: str


class OwnerSaysOtherwise(Said):
    """To the builder: an owner put right what the builder had filled in."""

    kind: Literal["owner_says_otherwise"] = "owner_says_otherwise"
    oven: str
    about: About
    given: str
    told: str


class MakeUpShown(Said):
    """What is known of an oven, each answer to be corrected. ``left`` are questions that the owner
    will be asked; ``open_until`` is set for one that nobody has come for yet."""

    kind: Literal["make_up_shown"] = "make_up_shown"
    name: str
    oven: str = ""
    invitation: str = ""
    answers: tuple[tuple[About, str], ...] = ()
    left: tuple[About, ...] = ()
    model: str = ""
    open_until: AwareDatetime | None = None


class MakeUpAsked(Said):
    """One question to the builder; ``refusal`` says why what they answered cannot be right.
    ``along`` are answers typed beside it, which are taken with this one."""

    kind: Literal["make_up_asked"] = "make_up_asked"
    name: str
    about: About
    options: tuple[Option, ...] = ()
    known: str | None = None
    oven: str = ""
    invitation: str = ""
    refusal: SetUpRefused | None = None
    along: tuple[tuple[About, str], ...] = ()


class ModelsOffered(Said):
    """The builder's own models, to take a make-up from; none at all where they have none.
    ``along`` are answers that are taken with it."""

    kind: Literal["models_offered"] = "models_offered"
    name: str
    models: tuple[Option, ...] = ()
    oven: str = ""
    invitation: str = ""
    along: tuple[tuple[About, str], ...] = ()
