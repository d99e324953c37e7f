"""``stokewatch run`` in a process of its own, beginning at an hour that it is told.

python -m tests.end_to_end.run_from 2026-06-10T18:00:00+01:00
"""

import sys
from contextlib import AbstractAsyncContextManager
from datetime import datetime

from bot import wiring
from bot.__main__ import app_for
from bot.channels.telegram.channel import TelegramChannel
from bot.settings import Settings
from bot.wiring import Parts
from scheduling.clock import PacedClock

HERE = "tests.end_to_end.run_from"


def main(hour: str) -> None:
    clock = PacedClock(datetime.fromisoformat(hour), 1.0)
    house = wiring.telegram_house

    def from_then(settings: Settings, parts: Parts) -> AbstractAsyncContextManager[TelegramChannel]:
        return house(settings, parts, clock)

    wiring.telegram_house = from_then  # type: ignore[assignment]
    app_for(["run"])(["run"])


if __name__ == "__main__":
    main(sys.argv[1])
