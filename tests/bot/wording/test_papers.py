"""Words of the record: each entry of a journal has its clause."""

from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

import pytest

from bot.wording.measures import Measures
from bot.wording.papers import (
    ADVICE,
    DOUBTS,
    ENDED,
    SIGNS,
    advised,
    limit_value,
    order,
    told,
)
from scheduling.firing.aim import Action
from scheduling.journal import (
    Advised,
    Capped,
    CrackSeen,
    DaysSaid,
    FiringEnded,
    Forbidden,
    Held,
    LimitsSet,
    Measured,
    Moved,
    Noted,
    Order,
    Released,
    RepeatOrdered,
    RestrictionSaid,
    Seen,
    TakenBack,
    Worded,
    Written,
)
from scheduling.oven.reading import Suspicion
from scheduling.remark import CrackSize

AT = datetime(2026, 6, 1, 9, tzinfo=UTC)
DAY, LATER = date(2026, 6, 6), date(2026, 6, 8)
CELSIUS, FAHRENHEIT = (Measures(unit, ZoneInfo("Europe/London"), AT) for unit in ("C", "F"))


@pytest.mark.parametrize(
    ("entry", "words"),
    [
        (Measured(at=AT, top_c=152.0, sides_c=(140.0,)), "reading: crown 152 °C, sides 140 °C"),
        (Capped(at=AT, cap_c=250.0), "order: no fire above 250 °C"),
        (Capped(at=AT, cap_c=None), "order: cap lifted"),
        (Forbidden(at=AT, first=DAY, last=DAY), "order: no fire on Sat 6 Jun"),
        (Forbidden(at=AT, first=DAY, last=LATER), "order: no fire Sat 6 Jun to Mon 8 Jun"),
        (
            LimitsSet(at=AT, cure_floor_d=28, step_k=50.0),
            "order: limits: step above the heat reached before, at most 50 °C; "
            "from the last wet work to the first fire, at least 28 days",
        ),
        (DaysSaid(at=AT, first=DAY, last=DAY, free=False), "days told as not free: Sat 6 Jun"),
        (RestrictionSaid(at=AT, first=DAY, last=DAY, over=True), "local fire restriction: over"),
        (
            CrackSeen(
                at=AT, size=CrackSize.HAIRLINE, photo="p", from_words=True, words="hair crack, left"
            ),
            "hairline crack, photo: “hair crack, left”",
        ),
    ],
)
def test_an_entry_is_told_in_a_clause(entry: Written, words: str) -> None:
    assert told(entry, CELSIUS) == words


ORDERS = (
    Held(at=AT), Released(at=AT), Capped(at=AT, cap_c=250.0), LimitsSet(at=AT, step_k=50.0),
    RepeatOrdered(at=AT, cap_c=250.0), Moved(at=AT, not_before=DAY),
    Forbidden(at=AT, first=DAY, last=DAY), TakenBack(at=AT, seq=1), Worded(at=AT, version=2),
)  # fmt: skip


def test_every_order_has_words_and_none_the_name_of_its_kind() -> None:
    kinds = {kind for kind in _below(Order) if kind.__module__.startswith("scheduling.journal")}
    assert {type(one) for one in ORDERS} == kinds
    for one in ORDERS:
        words = order(one, CELSIUS)
        assert words
        assert type(one).__name__.lower() not in words.lower()


def _below(kind: type) -> set[type]:
    below: set[type] = set(kind.__subclasses__())
    return below.union(*(_below(one) for one in below))


def test_a_hold_that_was_cut_for_the_day_is_not_told_as_long_enough() -> None:
    cut = Advised(at=AT, action=Action.HOLD_DONE, minutes=60.0, why="session")
    assert advised(cut) == "burnt long enough for one day, let it burn down; look in 60 min"
    done = Advised(at=AT, action=Action.HOLD_DONE, minutes=60.0, why="hold_done")
    assert advised(done).startswith("held long enough")


def test_words_of_people_are_quoted_to_the_last() -> None:
    long = "a " * 400 + "<end>"
    assert told(Noted(at=AT, by="p", text=long), CELSIUS).endswith("a ‹end›”")


def test_limits_follow_the_readers_degrees() -> None:
    assert limit_value("step_k", 50.0, FAHRENHEIT) == "90 °F"
    assert limit_value("climb_low_k_h", 100.0, FAHRENHEIT) == "180 °F/h"
    assert limit_value("final_c", 400.0, FAHRENHEIT) == "752 °F"
    assert limit_value("stoke_min_minutes", 40.0, FAHRENHEIT) == "40 min"


def test_no_name_of_the_core_is_without_its_word() -> None:
    assert set(ADVICE) == set(Action)
    assert set(DOUBTS) == {one.value for one in Suspicion}
    assert set(ENDED) == set(FiringEnded.model_fields["why"].annotation.__args__)  # type: ignore[union-attr]
    assert set(SIGNS) == set(Seen.model_fields["what"].annotation.__args__)  # type: ignore[union-attr]
