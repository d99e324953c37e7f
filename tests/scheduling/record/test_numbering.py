"""Fires are numbered by the order of lighting, whatever became of each."""

from scheduling.journal import FireLit, FiringEnded, Promised, Undone
from scheduling.meaning import BreakInDone, FiringDone
from scheduling.record import Record
from tests.scheduling.road import Road, fired


def _short(road: Road) -> None:
    """A fire that is lit on its day and dies before it comes anywhere."""
    road.until(road.record.promise[0].start)
    road.reads(20)
    road.lights()
    for read_c in (60.0, 90.0, 95.0):
        road.wait(minutes=25)
        road.reads(read_c)
    road.fire_dies()


def test_a_fire_that_fell_short_keeps_its_number_and_the_next_has_one_of_its_own() -> None:
    road = Road().begin()
    fires = len(road.record.promise)
    _short(road)
    assert road.last(FiringDone).shown.aim.number == 1
    assert [one.number for one in road.record.promise] == list(range(2, fires + 2))


def test_the_count_at_the_end_is_that_of_the_fires_that_were_lit() -> None:
    road = Road().begin()
    _short(road)
    while not road.record.finished:
        fired(road)
    lit = len(road.record.sessions)
    assert road.last(BreakInDone).firings == lit
    assert road.record.sessions[-1].aim is not None
    assert road.record.sessions[-1].aim.number == lit


def test_a_journal_that_counted_only_full_fires_is_read_by_the_same_numbers() -> None:
    road = Road().begin()
    _short(road)
    _short(road)
    old = []
    for entry in road.record.entries:
        # As it used to be written: a fire that fell short was counted once with the next.
        match entry:
            case FireLit(aim=aim) if aim is not None:
                entry = entry.model_copy(update={"aim": aim.model_copy(update={"number": 1})})
            case Promised():
                shift = entry.firings[0].number - 1 if entry.firings else 0
                firings = tuple(
                    one.model_copy(update={"number": one.number - shift}) for one in entry.firings
                )
                entry = entry.model_copy(update={"firings": firings})
        old.append(entry)
    read = Record(tuple(old), "oven", members=0)
    assert [one.aim.number for one in read.sessions if one.aim] == [1, 2]
    assert read.promise == road.record.promise
    assert [one.firings[0].number for one in read.promises if one.firings][-1] == 3


def test_a_fire_that_was_taken_back_leaves_no_gap_in_the_numbers() -> None:
    road = Road().begin()
    _short(road)
    assert road.record.promise[0].number == 2
    entries = road.record.entries
    burnt = tuple(n for n, e in enumerate(entries, 1) if isinstance(e, FireLit | FiringEnded))
    undone = Undone(at=road.now, by="owner", seqs=burnt)
    assert Record((*entries, undone), "oven", members=0).promise[0].number == 1
