"""Tallies: of nobody, of a few, of many."""

from collections.abc import Iterator

from bot.papers.interval import share, spread
from bot.papers.tally import OvenCounted, tally
from scheduling.meaning import Meaning, Tally
from scheduling.meaning.tallies import ClimbBand


def tallies() -> Iterator[Meaning]:
    yield tally(())
    yield tally((OvenCounted(),))
    yield few()
    yield many()


def few() -> Tally:
    return many().model_copy(
        update={
            "fires_to_finish": spread([6.0, 6.0]),
            "peak_c": spread([]),
            "above_range": share(1, 4),
            "unread": 1,
            "between": 1,
        }
    )


def many() -> Tally:
    return Tally(
        ovens=212,
        finished=180,
        fires=1204,
        fires_to_finish=spread([4.0, 5.0, 6.0, 6.0, 7.0, 11.0]),
        peak_c=spread([388.0, 395.0, 401.0, 404.0, 410.0, 432.0]),
        slip_d=spread([-1.0, 0.0, 0.0, 2.0, 4.0, 15.0]),
        above_range=share(81, 1204),
        bands=(
            ClimbBand(from_k_h=0.0, below_k_h=50.0, cracked=share(0, 20)),
            ClimbBand(from_k_h=50.0, below_k_h=100.0, cracked=share(15, 148), opened=2),
            ClimbBand(from_k_h=100.0, below_k_h=150.0, cracked=share(81, 263), opened=11),
            ClimbBand(from_k_h=150.0, below_k_h=None, cracked=share(1, 3)),
        ),
        unread=14,
        between=3,
    )
