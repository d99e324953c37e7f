"""A finished oven teaches the builder's next ones, once its owner has agreed that it may."""

from scheduling.advance.turn import Turn
from scheduling.record.lesson import lesson_of


def teach(turn: Turn) -> None:
    """Write down what it taught, once. It says nothing to anybody."""
    taught = lesson_of(turn.record, turn.now)
    if taught is not None:
        turn.write(taught)
