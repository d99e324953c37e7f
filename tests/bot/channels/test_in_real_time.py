"""A channel counts in its own seconds, however fast the house's clock runs."""

import asyncio
from datetime import timedelta

import pytest

from bot.channels.in_real_time import AGAIN, InRealTime
from scheduling.ports import Letter, Person
from scheduling.waking.carrying import CarrierError, NotSent, Sent, Unknown
from tests.contract.samples import ANA, letter

APART_S = 0.05


class Noting:
    """Notes when it was called; meets ``fate`` if there is one."""

    def __init__(self, fate: CarrierError | None = None) -> None:
        self.fate = fate
        self.at: list[float] = []

    async def send(self, letter: Letter, person: Person, edit_ref: str | None = None) -> Sent:
        self.at.append(asyncio.get_running_loop().time())
        if self.fate is not None:
            raise self.fate
        return Sent("1")


async def test_one_chat_is_written_to_once_in_a_while_and_others_do_not_wait() -> None:
    noting = Noting()
    carrier = InRealTime(noting, 60.0, APART_S)
    ben = ANA.model_copy(update={"id": "ben"})
    await asyncio.gather(*(carrier.send(letter(), who) for who in (ANA, ANA, ben, ANA)))
    first, other, second, third = sorted(noting.at)
    assert other - first < APART_S
    assert second - first >= 0.9 * APART_S
    assert third - second >= 0.9 * APART_S


@pytest.mark.parametrize(
    ("asked", "told"),
    [(timedelta(seconds=5), timedelta(minutes=5)), (None, 60 * AGAIN)],
)
async def test_a_wait_is_told_in_the_hours_of_the_house(
    asked: timedelta | None, told: timedelta
) -> None:
    carrier = InRealTime(Noting(NotSent("429", asked)), 60.0, APART_S)
    with pytest.raises(NotSent) as raised:
        await carrier.send(letter(), ANA)
    assert raised.value.retry_after == told


async def test_any_other_fate_is_handed_on() -> None:
    with pytest.raises(Unknown):
        await InRealTime(Noting(Unknown("cut")), 60.0, APART_S).send(letter(), ANA)
