"""What many ovens add up to: fires to finish, peaks, slips, cracks against climb.

Each oven is first counted by itself, so that no more than one journal is held at a time. Fires of
one oven are not independent of each other; the intervals are told as if they were, and say so.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from bot.papers.firing_log import FiringLog, firing_logs
from bot.papers.interval import share, spread
from scheduling.breakin.walltime import local_day
from scheduling.journal import CrackSeen, Finished, Promised
from scheduling.meaning.tallies import ClimbBand, Tally
from scheduling.record import Record
from scheduling.remark import CrackSize

EDGES_K_H: Final = (0.0, 50.0, 100.0, 150.0)
"""Where one band of climbs begins and the one before ends (own choice)."""


@dataclass(frozen=True, slots=True)
class FireCounted:
    """A fire in figures; ``above`` is None where there was no range or no reading."""

    climb_k_h: float | None
    above: bool | None
    cracked: bool
    opened: bool


@dataclass(frozen=True, slots=True)
class OvenCounted:
    """An oven in figures; ``slip_d`` and what only an end tells are None while it is not done."""

    fires: tuple[FireCounted, ...] = ()
    finished: bool = False
    fires_to_finish: int | None = None
    peak_c: float | None = None
    slip_d: int | None = None
    between: int = 0


def counted(record: Record) -> OvenCounted:
    """One oven, from its record."""
    logs = firing_logs(record)
    fires = tuple(_fire(log) for log in logs)
    in_fires = sum(_cracks(log) for log in logs)
    between = len(record.all_of(CrackSeen)) - in_fires
    ended = record.last_of(Finished) if record.finished else None
    if ended is None:
        return OvenCounted(fires=fires, between=between)
    peaks = [log.peak_c for log in logs if log.peak_c is not None]
    first = next((told for told in record.all_of(Promised) if told.firings), None)
    slip = None
    if first is not None:
        slip = (local_day(ended.at, record.zoneinfo) - first.firings[-1].day).days
    return OvenCounted(
        fires=fires,
        finished=True,
        fires_to_finish=len(record.sessions),
        peak_c=max(peaks, default=None),
        slip_d=slip,
        between=between,
    )


def tally(ovens: Iterable[OvenCounted]) -> Tally:
    """Many ovens together."""
    all_of = tuple(ovens)
    done = [oven for oven in all_of if oven.finished]
    fires = [fire for oven in all_of for fire in oven.fires]
    ranged = [fire.above for fire in fires if fire.above is not None]
    return Tally(
        ovens=len(all_of),
        finished=len(done),
        fires=len(fires),
        fires_to_finish=spread([o.fires_to_finish for o in done if o.fires_to_finish is not None]),
        peak_c=spread([oven.peak_c for oven in done if oven.peak_c is not None]),
        slip_d=spread([oven.slip_d for oven in done if oven.slip_d is not None]),
        above_range=share(sum(ranged), len(ranged)),
        bands=_bands(fires),
        unread=sum(fire.climb_k_h is None for fire in fires),
        between=sum(oven.between for oven in all_of),
    )


def _bands(fires: Sequence[FireCounted]) -> tuple[ClimbBand, ...]:
    found: list[ClimbBand] = []
    for index, low in enumerate(EDGES_K_H):
        high = EDGES_K_H[index + 1] if index + 1 < len(EDGES_K_H) else None
        inside = [fire for fire in fires if _lies(fire.climb_k_h, low, high)]
        found.append(
            ClimbBand(
                from_k_h=low,
                below_k_h=high,
                cracked=share(sum(fire.cracked for fire in inside), len(inside)),
                opened=sum(fire.opened for fire in inside),
            )
        )
    return tuple(found)


def _lies(climb_k_h: float | None, low: float, high: float | None) -> bool:
    """A fire that only fell counts with the slowest climbs."""
    if climb_k_h is None:
        return False
    climb = max(0.0, climb_k_h)
    return climb >= low and (high is None or climb < high)


def _fire(log: FiringLog) -> FireCounted:
    cracks = [told for row in log.rows for told in row.told if isinstance(told, CrackSeen)]
    above = None
    if log.aim is not None and log.peak_c is not None:
        above = log.peak_c > log.aim.high_c
    return FireCounted(
        climb_k_h=None if log.climb is None else log.climb.k_h,
        above=above,
        cracked=bool(cracks),
        opened=any(one.size is CrackSize.OPEN for one in cracks),
    )


def _cracks(log: FiringLog) -> int:
    return sum(isinstance(told, CrackSeen) for row in log.rows for told in row.told)
