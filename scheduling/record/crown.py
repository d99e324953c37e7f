"""What is known of the crown beside a fire's readings: where it stands, how it answers wood."""

import math
from datetime import datetime, timedelta

from scheduling.firing import response
from scheduling.firing.response import Known, first_guess_k_kg
from scheduling.firing.session import START_COUNTS, Session
from scheduling.firing.wood import AIR_C
from scheduling.journal import Measured
from scheduling.record.facts import Facts

COOLS = timedelta(hours=24)
"""A shut dome has lost so much of its heat that 1/e is left: the slow end (own choice)."""


def start_c(record: Facts, lit_at: datetime) -> float:
    """Where the crown stands, or stood, at the match, °C: as read, else what may be left of the
    fire before."""
    fire = next((one for one in record.sessions if one.lit_at == lit_at), None)
    read = record.last_believed if fire is None else fire.start
    if read is not None and timedelta(0) <= lit_at - read.at < START_COUNTS and read.top_c:
        return read.top_c
    before = _ended_before(record, lit_at)[-1:]
    if not before or before[0].ended is None:
        return AIR_C
    aim = before[0].aim
    top_c = before[0].peak_c or (aim.high_c if aim is not None else AIR_C)
    return AIR_C + (top_c - AIR_C) * math.exp((before[0].ended.at - lit_at) / COOLS)


def peak_before(record: Facts, read: Measured) -> tuple[datetime, float] | None:
    """When and how high the crown is believed to have stood between a reading of a fire and the
    one before, where that is above both."""
    fires = [one for one in record.sessions if one.lit_at <= read.at]
    if not fires or read not in fires[-1].believed:
        return None
    return response.peak_before(fires[-1], read, known_of(record, fires[-1].lit_at))


def known_of(record: Facts, lit_at: datetime) -> Known:
    """What is known of a dome when a fire is lit in it, at ``lit_at``."""
    guess_k_kg = first_guess_k_kg(record.makeup) * (record.learnt.gain if record.learnt else 1.0)
    return Known(guess_k_kg, _ended_before(record, lit_at), start_c(record, lit_at))


def _ended_before(record: Facts, lit_at: datetime) -> tuple[Session, ...]:
    return tuple(one for one in record.ended_sessions if one.lit_at < lit_at)
