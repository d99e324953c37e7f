"""The outages, shortened: nothing is lost, and nothing doubled but what is marked.

At their whole size: python -m tests.outages
"""

from pathlib import Path

from tests.outages.outage import Size, failed_sends, killed
from tests.outages.tally import Tally


def whole(letters: dict[str, Tally]) -> bool:
    return not any(one.lost or one.unmarked for one in letters.values())


async def test_a_bot_that_is_killed_again_and_again_loses_and_doubles_nothing(
    tmp_path: Path,
) -> None:
    told = await killed(tmp_path, Size.small())
    assert told.kills == Size.small().kills
    assert told.said > told.kills, "nobody wrote, so nothing was tried"
    assert (told.lost_words, told.doubled_words) == (0, 0)
    assert told.updates.keys() == {"done"}
    assert sum(one.arrived for one in told.letters.values()) > told.said
    assert whole(told.letters), told.letters


async def test_no_kind_of_failed_send_loses_a_danger_or_an_answer(tmp_path: Path) -> None:
    for told in await failed_sends(tmp_path, Size.small()):
        assert whole(told.letters), told
        assert told.letters["danger"].arrived >= 1, told
        assert told.letters["answer"].arrived >= 1, told
