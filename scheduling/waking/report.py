"""News of a delivery, kept in the inbox like anything else that comes in.

It is stored in the same unit of work that settles the letter, so a crash between sending and
telling the oven of it loses nothing, and the inbox key lets it have one effect.
"""

from datetime import datetime
from typing import Final

from pydantic import BaseModel, ConfigDict

from scheduling.happening import Delivery
from scheduling.ports import InboxRow, UnitOfWork

HOUSE: Final = "house"
"""The inbox channel of what the house tells itself."""


class Report(BaseModel):
    """What became of a letter to ``person`` about ``oven``."""

    model_config = ConfigDict(frozen=True)

    oven: str
    person: str
    reached: bool
    why: str

    def happening(self) -> Delivery:
        """The same, as it happens to the oven."""
        return Delivery(self.person, self.reached, self.why)


async def file_report(unit: UnitOfWork, report: Report, key: str, now: datetime) -> None:
    """Keep ``report`` for the engine. ``key`` makes a second filing have no effect."""
    full_key = f"{key}/{report.oven}"
    row = InboxRow(HOUSE, full_key, report.oven, report.model_dump_json(), now)
    await unit.inbox.store(row)
