"""What is known of the crown beside a fire's readings: where it stands, how it answers wood."""

import math
from dataclasses import replace
from datetime import datetime, timedelta

from scheduling.firing import response
from scheduling.firing.response import Known, first_guess_k_kg
from scheduling.firing.session import START_COUNTS
from scheduling.firing.wood import AIR_C
from scheduling.journal import Measured
from scheduling.record.facts import Facts

COOLS = timedelta(hours=24)
"""A shut dome has lost so much of its heat that 1/e is left: the slow end (own choice)."""


def start_c(record: Facts, lit_at: datetime) -> float:
    """Where the crown stands, or stood, at the match, °C: as read, else what may be left of the
    fire before."""
    read = record.last_believed if record.session is None else record.session.start
    if read is not None and read.top_c is not None and lit_at - read.at < START_COUNTS:
        return read.top_c
    before = record.ended_sessions[-1:]
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
    known = replace(known_of(record, fires[-1].lit_at), past=tuple(fires[:-1]))
    return response.peak_before(fires[-1], read, known)


def known_of(record: Facts, lit_at: datetime) -> Known:
    """What is known of a dome when a fire is lit in it."""
    guess_k_kg = first_guess_k_kg(record.makeup) * (record.learnt.gain if record.learnt else 1.0)
    return Known(guess_k_kg, record.ended_sessions, start_c(record, lit_at))
