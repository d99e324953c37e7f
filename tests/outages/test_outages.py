"""The outages, shortened: nothing is lost, and nothing doubled but what is marked.

At their whole size: python -m tests.outages
"""

from pathlib import Path

from tests.outages.outage import Size, failed_sends, killed, met
from tests.outages.tally import Tally


def whole(letters: dict[str, Tally]) -> bool:
    return not any(one.lost or one.unmarked for one in letters.values())


async def test_neither_kills_nor_failed_sends_lose_or_double_anything(tmp_path: Path) -> None:
    """One after the other on one bot: to meet it takes as long as either."""
    async with met(tmp_path, Size.small()) as bot:
        told = await killed(bot)
        assert told.kills == Size.small().kills
        assert told.said > told.kills, "nobody wrote, so nothing was tried"
        assert (told.lost_words, told.doubled_words) == (0, 0)
        assert told.updates.keys() == {"done"}
        assert sum(one.arrived for one in told.letters.values()) > told.said
        assert whole(told.letters), told.letters

        for failed in await failed_sends(bot):
            assert whole(failed.letters), failed
            assert failed.letters["danger"].arrived >= 1, failed
            assert failed.letters["answer"].arrived >= 1, failed
