"""Every meaning with realistic values: what the sentences are tried and read aloud with."""

from collections.abc import Iterator
from typing import get_args

from scheduling.meaning import Meaning, Said
from tests.bot.wording import (
    samples_of_beginnings,
    samples_of_days,
    samples_of_fires,
    samples_of_offices,
    samples_of_people,
    samples_of_tallies,
    samples_of_ways,
)
from tests.bot.wording.sample_values import LAST, NOW, plan_lines, shown

KINDS: tuple[type[Said], ...] = get_args(get_args(Meaning)[0])
"""All members of the union."""


def everything() -> Iterator[Meaning]:
    """All of them."""
    yield from samples_of_fires.setting_up()
    yield from samples_of_fires.before()
    yield from samples_of_fires.fire()
    yield from samples_of_days.danger()
    yield from samples_of_days.after()
    yield from samples_of_days.days()
    yield from samples_of_days.answers()
    yield from samples_of_days.builder()
    yield from samples_of_people.inviting()
    yield from samples_of_people.phones()
    yield from samples_of_people.finished()
    yield from samples_of_people.parting()
    yield from samples_of_offices.lists()
    yield from samples_of_offices.card()
    yield from samples_of_offices.for_many()
    yield from samples_of_offices.stepping_in()
    yield from samples_of_tallies.tallies()
    yield from samples_of_ways.ways()
    yield from samples_of_beginnings.introducing()
    yield from samples_of_beginnings.preparing()
    yield from samples_of_beginnings.importing()
    yield from samples_of_beginnings.week()


__all__ = ["KINDS", "LAST", "NOW", "everything", "plan_lines", "shown"]
