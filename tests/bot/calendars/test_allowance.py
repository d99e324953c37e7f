"""So many at once, and so many an hour after that."""

from bot.calendars.allowance import MOST_KEYS, Allowance


class Seconds:
    """A clock moved by hand."""

    def __init__(self) -> None:
        self.now = 0.0

    def __call__(self) -> float:
        return self.now


def test_a_key_has_so_many_at_once_and_then_waits() -> None:
    seconds = Seconds()
    allowance = Allowance(3, 60, seconds)
    assert [allowance.take("a") for _ in range(4)] == [True, True, True, False]
    assert 55 <= allowance.wait_s("a") <= 61
    seconds.now += 61
    assert allowance.take("a")
    assert not allowance.take("a")


def test_one_key_takes_nothing_from_another() -> None:
    allowance = Allowance(1, 60, Seconds())
    assert allowance.take("a")
    assert not allowance.take("a")
    assert allowance.take("b")


def test_nobody_saves_up_more_than_so_many_at_once() -> None:
    seconds = Seconds()
    allowance = Allowance(2, 3600, seconds)
    seconds.now += 86400
    assert [allowance.take("a") for _ in range(3)] == [True, True, False]


def test_looking_does_not_count() -> None:
    allowance = Allowance(1, 60, Seconds())
    assert all(allowance.has("a") for _ in range(9))
    assert allowance.take("a")
    assert not allowance.has("a")


def test_however_many_ask_only_so_many_are_remembered() -> None:
    allowance = Allowance(1, 60, Seconds())
    for number in range(MOST_KEYS + 500):
        allowance.take(str(number))
    assert len(allowance._left) <= MOST_KEYS
