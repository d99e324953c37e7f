"""Strangers and floods rest while somebody else is about, and only then."""

from bot.channels.shares import ABOUT_S, BURST, Shares


class Now:
    def __init__(self) -> None:
        self.s = 100.0

    def __call__(self) -> float:
        return self.s


def test_strangers_rest_longer_while_somebody_known_is_about() -> None:
    now = Now()
    shares = Shares(now)
    alone = shares.stranger(0.02, answered=True)
    shares.worked("ana")
    assert shares.stranger(0.02, answered=True) > alone > 0
    assert shares.stranger(1.0, answered=False) >= 3.0, "a slow row is paid for"
    now.s += ABOUT_S
    assert shares.stranger(0.02, answered=True) == alone
    assert shares.stranger(1.0, answered=False) == 0.0


def test_a_chat_that_floods_rests_for_others_and_never_for_itself() -> None:
    now = Now()
    shares = Shares(now)
    for _ in range(3):
        shares.worked("flood")
    assert shares.known("flood", 100, 0.1) == 0.0
    shares.worked("ana")
    shares.worked("flood")
    assert shares.known("flood", 100, 0.1) > 0.1
    assert shares.known("flood", BURST, 0.1) == 0.0, "so fast somebody may type"
    assert shares.known("ana", 1, 0.1) == 0.0
    now.s += ABOUT_S
    shares.worked("flood")
    assert shares.known("flood", 100, 0.1) == 0.0


def test_no_more_is_remembered_than_is_needed() -> None:
    shares = Shares(Now())
    for number in range(1000):
        shares.worked(f"chat {number}")
    assert len(shares._last) == 2
