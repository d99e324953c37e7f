"""No order on a wrong oven, however alike the names and however old the message."""

import pytest

from tests.bot.conversation.office.tries import Tries

COUNT = 200


@pytest.mark.timeout(600)
async def test_of_two_hundred_tries_no_order_falls_on_an_oven_that_was_not_meant() -> None:
    tries = Tries()
    await tries.settle_in()
    for seed in range(COUNT):
        await tries.play(seed)
    print(f"\n{COUNT} tries: {tries.given} orders, {tries.asked} times nobody was to have one")
    assert not tries.wrong
    assert not tries.missed, "an order that was clear was not done"
    assert tries.given > COUNT / 3
    assert tries.asked > COUNT / 3
