"""Meanings of a builder's first meeting: who they are, and where."""

from typing import Literal

from scheduling.meaning.base import Said
from scheduling.meaning.setting_up import Option

Introduction = Literal["team_name", "own_name", "town"]


class IntroductionAsked(Said):
    """What do clients know you by, what are you called yourself, which town are you in?

    ``known`` is what holds until they say otherwise. ``options`` are towns of the name that they
    typed (a zone, and the town); ``strange`` is a town that is not known.
    """

    kind: Literal["introduction_asked"] = "introduction_asked"
    what: Introduction
    known: str = ""
    options: tuple[Option, ...] = ()
    strange: str = ""
    first: bool = False


class Introduced(Said):
    """It is noted, or (``kept``) stays as it was. ``clock`` is the time of day in a town.
    ``first``: it was the last question of their first meeting, and this is what to do next."""

    kind: Literal["introduced"] = "introduced"
    what: Introduction
    value: str = ""
    kept: bool = False
    first: bool = False
