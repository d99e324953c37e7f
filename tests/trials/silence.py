"""Everything that tries to silence the bot, one after the other, as a report.

    python -m tests.trials.silence [small]

Poisoned messages and floods (``tests/floods``), then kills, every kind of failed send and a full
disk (``tests/outages``). About an hour; ``small`` about three minutes.
"""

import asyncio
import sys

from tests.floods.__main__ import main as floods
from tests.floods.flood import Size as FloodSize
from tests.outages.__main__ import main as outages
from tests.outages.outage import Size as OutageSize


async def main(*, small: bool) -> None:
    """Print both reports."""
    await floods(FloodSize.small() if small else FloodSize(), [])
    await outages(OutageSize.small() if small else OutageSize())


if __name__ == "__main__":
    asyncio.run(main(small="small" in sys.argv[1:]))
