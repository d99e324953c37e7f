"""What is exported comes back the same."""

from hypothesis import given
from hypothesis import strategies as st

from bot.ways.reading import read_ways
from bot.ways.shape import Checklist, OwnWays, OwnWords
from bot.ways.writing import written
from scheduling.journal import OwnLimits
from tests.bot.ways.files import FULL

LINES = st.lists(st.text(max_size=160).map(str.strip).filter(bool), max_size=6).map(tuple)

LIMITS = st.builds(
    OwnLimits,
    step_k=st.none() | st.floats(20, 100),
    climb_low_k_h=st.none() | st.floats(20, 100),
    climb_high_k_h=st.none() | st.floats(20, 170),
    stoke_min_minutes=st.none() | st.floats(30, 40),
    stoke_max_minutes=st.none() | st.floats(40, 60),
    cure_floor_d=st.none() | st.integers(7, 120),
    session_h=st.none() | st.floats(1.5, 8),
    final_c=st.none() | st.floats(150, 400),
)

WAYS = st.builds(
    OwnWays,
    reason=st.text(max_size=200).map(str.strip),
    limits=LIMITS,
    words=st.builds(
        OwnWords, greeting=st.text(max_size=300).map(str.strip), cautions=LINES
    ),
    checklist=st.builds(Checklist, before=LINES, after=LINES),
)  # fmt: skip


def test_a_whole_file_comes_back_the_same() -> None:
    ways = read_ways(FULL)
    assert read_ways(written(ways)) == ways


def test_written_twice_it_is_the_same_text() -> None:
    once = written(read_ways(FULL))
    assert written(read_ways(once)) == once


@given(WAYS)
def test_whatever_is_kept_comes_back_the_same(ways: OwnWays) -> None:
    assert read_ways(written(ways)) == ways


def test_limits_that_were_said_twice_are_written_twice() -> None:
    told = 'reason = "liner"\n[limits]\nfinal_c = 450\n[less_gentle]\nfinal_c = 450\n'
    ways = read_ways(told)
    assert written(ways).count("final_c = 450") == 2
    assert read_ways(written(ways)) == ways


def test_a_file_of_nothing_shows_what_could_be_set() -> None:
    text = written(OwnWays())
    assert "# cure_floor_d = 7  # least days" in text
    assert read_ways(text) == OwnWays()
