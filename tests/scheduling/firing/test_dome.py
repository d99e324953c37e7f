"""The ways a dome may answer wood, against its equations integrated by hand and made domes."""

import math

import numpy as np
import pytest

from scheduling.firing.dome import Course, Samples
from scheduling.firing.wood import AIR_C

NOTHING = np.zeros((0, 2))


def by_hand(
    way: tuple[float, ...], start_c: float, wood: list[tuple[float, float, float]], until_h: float
) -> float:
    """Skin after so many hours, in steps of a second."""
    gain, loss, soak, depth, per_mm, catches = way
    skin = mass = start_c
    unlit, lit = [0.0] * len(wood), [0.0] * len(wood)
    second_h = 1.0 / 3600.0
    for second in range(round(until_h * 3600)):
        at_h = second * second_h
        heat = 0.0
        for one, (put_h, kg, mm) in enumerate(wood):
            if abs(at_h - put_h) < 0.5 * second_h:
                unlit[one] = kg
            takes = unlit[one] / catches * second_h
            goes = lit[one] / (per_mm * mm) * second_h
            unlit[one] -= takes
            lit[one] += takes - goes
            heat += goes
        soaks = soak * (skin - mass) * second_h
        skin += gain * heat - loss * (skin - AIR_C) * second_h - soaks
        mass += soaks / depth
    return skin


@pytest.mark.parametrize(
    "way",
    [
        (80.0, 0.3, 0.8, 5.0, 0.0085, 0.06),
        (40.0, 0.15, 2.5, 8.0, 0.012, 0.1),
        (200.0, 0.6, 0.2, 2.0, 0.004, 0.05),
    ],
)
def test_a_course_follows_its_equations(way: tuple[float, ...]) -> None:
    wood = [(0.0, 0.8, 40.0), (0.5, 1.0, 40.0), (1.25, 0.7, 60.0)]
    run = Samples(np.array([way])).run(Course(25.0, np.array(wood), NOTHING, 2.0))
    hand_c = by_hand(way, 25.0, wood, 2.0)
    assert run.ends[0, 0] == pytest.approx(hand_c, abs=0.06 * (hand_c - AIR_C))


def test_what_lies_ahead_goes_on_where_the_course_ended() -> None:
    way = np.array([(80.0, 0.3, 0.8, 5.0, 0.0085, 0.06)])
    wood = np.array([(0.0, 0.8, 40.0), (0.5, 1.0, 40.0)])
    short = Samples(way).run(Course(25.0, wood, NOTHING, 1.0))
    longer = Samples(way).run(Course(25.0, wood, NOTHING, 2.0))
    unfed, bare, lift = short.ahead(None, 40.0, 24)
    assert unfed[0, -1] == pytest.approx(longer.ends[0, 0], abs=1.0)
    assert bare[0, -1] < unfed[0, -1]
    assert lift.min() >= 0.0


def looked_at(way: tuple[float, ...], every_h: float, kg: float) -> Course:
    """A dome made by the same equations, read and fed at the same times."""
    wood = [(0.0, kg, 40.0)] + [(every_h * n + 0.05, kg, 40.0) for n in range(1, 7)]
    read = []
    for n in range(1, 8):
        ended = (
            Samples(np.array([way]))
            .run(Course(20.0, np.array(wood), NOTHING, every_h * n))
            .ends[0, 0]
        )
        read.append((every_h * n, float(ended)))
    return Course(20.0, np.array(wood), np.array(read), every_h * 7)


@pytest.mark.parametrize(("gain", "per_mm"), [(45.0, 0.012), (160.0, 0.009), (90.0, 0.004)])
def test_what_was_watched_outweighs_the_first_guess(gain: float, per_mm: float) -> None:
    """Of the next half hour, whatever the make-up promised."""
    way = (gain, 0.3, 0.9, 5.0, per_mm, 0.08)
    course = looked_at(way, 0.5, 0.6)
    guessed = Samples.guessed(60.0)
    learnt = guessed.fitted(course)
    _, _, true_lift = Samples(np.array([way])).run(course).ahead(None, 40.0, 12)
    top_c = float(course.read[-1, 1])
    _, _, before = guessed.run(course).ahead(top_c, 40.0, 12)
    _, _, after = learnt.run(course).ahead(top_c, 40.0, 12)
    off_before = abs(before[:, -1].mean() - true_lift[0, -1])
    off_after = abs(after[:, -1].mean() - true_lift[0, -1])
    assert off_after < max(0.5 * off_before, 0.25 * true_lift[0, -1])
    assert np.log(after[:, -1]).std() < 0.7 * np.log(before[:, -1]).std()


def test_one_odd_reading_does_not_rule() -> None:
    way = (90.0, 0.3, 0.9, 5.0, 0.0085, 0.08)
    course = looked_at(way, 0.5, 0.6)
    read = course.read.copy()
    read[3, 1] += 60.0
    odd = Course(course.start_c, course.wood, read, course.now_h)
    top_c = float(read[-1, 1])
    _, _, plain = Samples.guessed(60.0).fitted(course).run(course).ahead(top_c, 40.0, 12)
    _, _, moved = Samples.guessed(60.0).fitted(odd).run(odd).ahead(top_c, 40.0, 12)
    assert moved[:, -1].mean() == pytest.approx(plain[:, -1].mean(), rel=0.5)


def test_another_day_makes_less_sure_and_changes_no_middle() -> None:
    samples = Samples.guessed(60.0)
    wider = samples.widened(1.3)
    logs, before = np.log(wider.ways), np.log(samples.ways)
    np.testing.assert_allclose(logs.mean(axis=0), before.mean(axis=0))
    np.testing.assert_allclose(logs.std(axis=0), 1.3 * before.std(axis=0))


def test_the_same_readings_are_believed_the_same() -> None:
    course = looked_at((90.0, 0.3, 0.9, 5.0, 0.0085, 0.08), 0.5, 0.6)
    one, other = (Samples.guessed(60.0).fitted(course).ways for _ in range(2))
    assert np.array_equal(one, other)
    assert math.isfinite(float(one.sum()))
