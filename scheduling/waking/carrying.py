"""What a carrier does with a letter, and the ways in which that may go wrong.

CarrierError
├── NotSent    it surely did not leave: tried again; a told wait pauses the chat
├── Unknown    it may have arrived: tried again, more slowly, and marked so
├── Blocked    its reader does not let us in any more
└── Refused    the channel does not take such a message: a fault of ours, never tried again
"""

from dataclasses import dataclass
from datetime import timedelta
from typing import Protocol

from scheduling.ports import Letter, Person


class CarrierError(Exception):
    """A letter did not surely arrive."""


class NotSent(CarrierError):  # noqa: N818 - a fate, not a fault
    """It surely did not leave; ``retry_after`` is the wait that the channel asked for."""

    def __init__(self, why: str = "", retry_after: timedelta | None = None) -> None:
        super().__init__(why)
        self.retry_after = retry_after


class Unknown(CarrierError):  # noqa: N818
    """It may have arrived: nobody can know."""


class Blocked(CarrierError):  # noqa: N818
    """Its reader does not let us in any more."""


class Refused(CarrierError):  # noqa: N818
    """The channel does not take such a message: a fault of ours."""


@dataclass(frozen=True, slots=True)
class Sent:
    """It arrived; ``ref`` is the channel's own id of it."""

    ref: str


class Carrier(Protocol):
    """Shows letters to people."""

    async def send(self, letter: Letter, person: Person, edit_ref: str | None = None) -> Sent:
        """Show ``letter``, in place of the message ``edit_ref`` if possible.

        Raises NotSent, Unknown, Blocked or Refused; anything else counts as Unknown.
        """
        ...


@dataclass(frozen=True, slots=True)
class Load:
    """A letter in a carrier's hands. ``edit_ref`` is the message whose place it takes."""

    letter: Letter
    person: Person | None
    edit_ref: str | None = None


Fate = Sent | CarrierError
