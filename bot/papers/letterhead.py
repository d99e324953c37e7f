"""Whose paper it is: the builder's name, address and mark, as they have told them."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Letterhead:
    """The head of a builder's papers; all of it may be empty. ``logo`` is a picture's reference."""

    name: str = ""
    address: tuple[str, ...] = ()
    logo: str | None = None
