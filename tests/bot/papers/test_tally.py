"""What many ovens add up to, against small cases counted by hand."""

import pytest

from bot.papers.interval import share, spread, wilson
from bot.papers.tally import FireCounted, OvenCounted, counted, tally
from bot.wording.tallies import TOO_FEW
from bot.wording.tallies import share as share_words
from bot.wording.tallies import spread as spread_words
from scheduling.journal import CrackSeen, Finished, Measured
from tests.bot.papers.five_fires import journal, record


def fire(climb_k_h: float | None, *, cracked: bool = False, opened: bool = False) -> FireCounted:
    return FireCounted(climb_k_h, above=False, cracked=cracked or opened, opened=opened)


def test_one_oven_counted_by_hand() -> None:
    one = counted(record())
    assert one.fires_to_finish == 5
    assert one.peak_c == 400.0
    assert one.slip_d == 7  # told to end on 31 May, ended on 7 June
    assert [fire.above for fire in one.fires] == [False, False, True, False, False]
    assert [fire.cracked for fire in one.fires] == [False, False, False, True, True]
    assert [fire.opened for fire in one.fires] == [False, False, False, False, True]
    assert one.fires[0].climb_k_h == pytest.approx(92.0)
    assert one.between == 0


def test_an_oven_that_is_not_done_counts_with_its_fires_alone() -> None:
    entries = tuple(entry for entry in journal() if not isinstance(entry, Finished))
    one = counted(record(entries))
    assert (one.finished, one.fires_to_finish, one.peak_c, one.slip_d) == (False, None, None, None)
    assert len(one.fires) == 5


def test_without_readings_there_is_no_climb_and_no_peak() -> None:
    entries = tuple(entry for entry in journal() if not isinstance(entry, Measured))
    one = counted(record(entries))
    assert {fire.climb_k_h for fire in one.fires} == {None}
    assert {fire.above for fire in one.fires} == {None}
    assert one.peak_c is None


def test_a_crack_between_fires_belongs_to_no_climb() -> None:
    crack = next(entry for entry in journal() if isinstance(entry, CrackSeen))
    before = crack.model_copy(update={"at": journal()[0].at})
    assert counted(record((*journal()[:7], before))).between == 1


def test_fires_fall_into_bands_and_a_fire_on_an_edge_into_the_upper_one() -> None:
    oven = OvenCounted(
        fires=(
            fire(-5.0),
            fire(49.9),
            fire(50.0, cracked=True),
            fire(150.0, opened=True),
            fire(None),
        )
    )
    told = tally([oven, OvenCounted()])
    assert [(band.cracked.count, band.cracked.of) for band in told.bands] == [
        (0, 2), (1, 1), (0, 0), (1, 1),
    ]  # fmt: skip
    assert [band.opened for band in told.bands] == [0, 0, 0, 1]
    assert (told.fires, told.unread, told.ovens, told.finished) == (5, 1, 2, 0)


def test_finished_ovens_are_spread_by_their_middle() -> None:
    ovens = [
        OvenCounted(finished=True, fires_to_finish=n, peak_c=390.0 + n, slip_d=n - 6)
        for n in (4, 5, 6, 6, 7, 11)
    ]
    told = tally(ovens)
    assert (told.fires_to_finish.low, told.fires_to_finish.middle) == (4, 6.0)
    assert (told.slip_d.low, told.slip_d.high) == (-2, 5)
    assert told.peak_c.high == 401.0
    assert told.fires_to_finish.tells


def test_six_values_tell_of_their_middle_and_five_do_not() -> None:
    """All of n values lie on one side of the median with the chance 2^(1-n): 6.3 %, then 3.1 %."""
    assert not spread([1.0] * 5).tells
    assert spread([1.0] * 6).tells


def test_none_of_eight_says_nothing_yet_and_none_of_nine_does() -> None:
    """By hand for none of n: from 0 to z²/(n+z²) with z² = 3.8415, so 0.324 for 8, 0.299 for 9."""
    assert share(0, 8).high == pytest.approx(3.8415 / 11.8415, abs=1e-4)
    assert not share(0, 8).tells
    assert share(0, 9).tells
    assert share_words(share(0, 8)) == f"0 of 8, {TOO_FEW}"
    assert share_words(share(0, 9)) == "0 of 9 (0% to 30%)"


def test_half_of_four_by_hand() -> None:
    """p = 1/2, n = 4: the middle is 1/2, the reach z√(1/16 + z²/64)/(1 + z²/4) = 0.350."""
    assert wilson(2, 4) == pytest.approx((0.150, 0.850), abs=0.0005)


def test_nothing_is_known_of_a_share_of_nothing() -> None:
    assert wilson(0, 0) == (0.0, 1.0)
    assert share_words(share(0, 0)) == "none to count"


def test_a_count_that_cannot_be_is_refused() -> None:
    with pytest.raises(ValueError, match="3 of 2"):
        wilson(3, 2)


def test_too_few_ovens_are_told_as_too_few() -> None:
    assert spread_words(spread([6.0, 8.0]), lambda v: f"{v:g}") == f"6 to 8 in two ovens, {TOO_FEW}"
    assert spread_words(spread([]), str) == "no oven is done yet"
