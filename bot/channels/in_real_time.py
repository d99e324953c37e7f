"""A carrier under a clock that runs faster than the channel's own."""

import asyncio
from collections import defaultdict
from datetime import timedelta

from scheduling.ports import Letter, Person
from scheduling.waking.carrying import Carrier, NotSent, Sent

APART_S = 1.0
"""Between two messages to one chat: core.telegram.org/bots/faq, "My bot is hitting limits"."""

AGAIN = timedelta(seconds=3)
"""After what was not sent, and named no wait."""


class InRealTime:
    """Keeps a chat's messages a second apart, and tells a wait that the channel asks for in the
    hours of a clock that runs ``pace`` times as fast."""

    def __init__(self, carrier: Carrier, pace: float, apart_s: float | None = None) -> None:
        self._carrier, self._pace = carrier, pace
        self._apart_s = APART_S if apart_s is None else apart_s
        self._turns: dict[str, asyncio.Lock] = defaultdict(asyncio.Lock)
        self._free_at: dict[str, float] = {}

    async def send(self, letter: Letter, person: Person, edit_ref: str | None = None) -> Sent:
        """As the carrier does, when it is this chat's turn. Raises what the carrier raises."""
        loop = asyncio.get_running_loop()
        async with self._turns[person.id]:
            await asyncio.sleep(max(0.0, self._free_at.get(person.id, 0.0) - loop.time()))
            try:
                return await self._carrier.send(letter, person, edit_ref)
            except NotSent as error:
                wait = error.retry_after or AGAIN
                raise NotSent(str(error), retry_after=wait * self._pace) from error
            finally:
                self._free_at[person.id] = loop.time() + self._apart_s
