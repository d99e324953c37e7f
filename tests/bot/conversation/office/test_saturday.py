"""A Saturday: every danger reaches the team in time and once, and Sunday's digest is right."""

import re
from collections import Counter
from datetime import timedelta

import pytest

from scheduling.journal import Alerted
from scheduling.record.need import needs_of
from scheduling.record.standing import DANGERS as AT_ONCE
from scheduling.record.standing import is_danger, need
from tests.bot.conversation.office.saturday import DANGERS, LATER, TEAM, Saturday

NUDGE = timedelta(minutes=30)
"""The shortest time between two nudges."""


async def played(count: int) -> Saturday:
    saturday = Saturday(count)
    await saturday.play()
    return saturday


async def check(saturday: Saturday) -> None:
    """Everything the house knew to be a danger was heard by all of the team, once, in time; but by
    who has the case alone, where somebody has it."""
    for kind in DANGERS:
        for name in saturday.of(kind):
            assert any(heard_of == name for _, heard_of, _ in saturday.told), name
    for name in saturday.names:
        record = await saturday.van.record(name)
        for alert in record.all_of(Alerted):
            if need(alert.needs) not in AT_ONCE and name not in saturday.of("lost"):
                continue
            told = {who: saturday.told[who, name, alert.needs] for who in TEAM}
            first = min((at for times in told.values() for at in times), default=None)
            assert first is not None, f"nobody heard that {name} is {alert.needs}"
            assert first - alert.at <= NUDGE, f"{name} {alert.needs} after {first - alert.at}"
            since = [one.at for one in record.all_of(Alerted) if one.needs == alert.needs]
            for who, times in told.items():
                assert len(times) <= len(since), f"{who} heard {name} {alert.needs} {times}"
    quiet = {name for kind in (*LATER, "calm") for name in saturday.of(kind)}
    assert not quiet & {name for _, name, _ in saturday.told}, "told at once of what is no danger"
    assert not saturday.again, "a case that was taken was told again"


async def check_digest(saturday: Saturday) -> None:
    needs: Counter[str] = Counter()
    for name in saturday.names:
        record = await saturday.van.record(name)
        found = needs_of(record, saturday.van.now)
        if found:
            lit = record.session is not None
            needs["danger" if is_danger(found[0].what, lit=lit) else "look"] += 1
    for member in TEAM:
        (digest,) = [one for one in saturday.digests[member] if one.at == saturday.van.now]
        assert _number(digest.text, "in danger") == needs["danger"]
        assert _number(digest.text, "to look at") == needs["look"]
        assert len(digest.text) < 1500
    for kind in LATER:
        for name in saturday.of(kind):
            assert (await saturday.van.card(name)).needs is not None, name


def _number(text: str, words: str) -> int:
    found = re.search(rf"(\d+) {words}", text)
    return int(found.group(1)) if found else 0


async def check_no_flood(saturday: Saturday) -> None:
    """However many clients: no more messages in a quarter of an hour than one can read."""
    for member in TEAM:
        moments = sorted({at for (who, _, _), told in saturday.told.items() if who == member
                          for at in told})  # fmt: skip
        for first in moments:
            within = sum(first <= at < first + timedelta(minutes=15) for at in moments)
            assert within <= 20


async def test_a_small_saturday() -> None:
    saturday = await played(12)
    await check(saturday)
    await check_digest(saturday)


@pytest.mark.slow
@pytest.mark.timeout(1800)
async def test_a_saturday_of_three_hundred_clients() -> None:
    saturday = await played(300)
    await check(saturday)
    await check_digest(saturday)
    await check_no_flood(saturday)
