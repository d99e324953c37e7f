"""What makes sentences of meanings."""

from datetime import datetime
from typing import Protocol

from scheduling.meaning import Meaning
from scheduling.outcome import Urgency
from scheduling.ports.outbox import Parcel
from scheduling.ports.people import Person


class Voice(Protocol):
    """Turns a meaning into what one reader sees: sentences, units, dates, buttons."""

    def render(self, meaning: Meaning, reader: Person, zone: str, now: datetime) -> Parcel:
        """What ``reader`` sees at ``now``, for an oven in ``zone``."""
        ...

    def again(self, parcel: Parcel, urgency: Urgency) -> Parcel:
        """The same for a reader who may have it already: read twice it does no harm."""
        ...
