"""One transaction over everything that is kept."""

from types import TracebackType
from typing import Protocol, Self

from scheduling.ports.alarms import Alarms
from scheduling.ports.builders import Builders, Ways
from scheduling.ports.calendars import Calendars
from scheduling.ports.erasures import Erasures
from scheduling.ports.hands import Hands
from scheduling.ports.inbox import Inbox
from scheduling.ports.invitations import Invitations
from scheduling.ports.outbox import Outbox
from scheduling.ports.ovens import Ovens, Promises
from scheduling.ports.people import People


class UnitOfWork(Protocol):
    """One transaction. Leaving the block without ``commit`` rolls everything back."""

    people: People
    ovens: Ovens
    alarms: Alarms
    inbox: Inbox
    outbox: Outbox
    promises: Promises
    builders: Builders
    ways: Ways
    invitations: Invitations
    erasures: Erasures
    hands: Hands
    calendars: Calendars

    async def __aenter__(self) -> Self: ...
    async def __aexit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None: ...
    async def commit(self) -> None:
        """Keep what was done; the unit is over."""
        ...


class Store(Protocol):
    """Opens units of work. ``write`` takes the write lock at once; ``read`` never blocks."""

    def write(self) -> UnitOfWork:
        """A unit that may change things."""
        ...

    def read(self) -> UnitOfWork:
        """A unit for looking only."""
        ...

    async def tidy(self) -> None:
        """Give back the room of what was deleted, so that nothing of it is left in any file.
        Raises a fault of storage when somebody else is at work."""
        ...

    async def try_writing(self) -> None:
        """Change nothing, but see that it could be kept. Raises a fault of storage, also where
        something else could not be kept a moment ago."""
        ...

    async def close(self) -> None:
        """Let go of everything."""
        ...
