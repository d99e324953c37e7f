"""The ways a dome may answer wood, against its equations integrated by hand and made domes."""

import math

import numpy as np
import pytest

from scheduling.firing.dome import MODES, Course, Run, Samples
from scheduling.firing.wood import AIR_C

NOTHING = np.zeros((0, 2))


LASTS_H = (0.05, 0.2, 0.8, 3.2, 12.8)
CHAR, OUTLASTS = 0.25, 3.0


def samples_of(way: tuple[float, ...]) -> Samples:
    """That one way alone, and no bounds to it."""
    free = np.array([[-np.inf], [np.inf]]) * np.ones(len(way))
    return Samples(np.array([way]), free)


def crown_c(run: Run) -> float:
    """Where the only sample's crown stands."""
    return AIR_C + float(run.ends[0, :MODES].sum())


def by_hand(
    way: tuple[float, ...], start_c: float, wood: list[tuple[float, float, float]], until_h: float
) -> float:
    """The crown after so many hours, in steps of a second."""
    gain, loss, shape, per_mm, catches = way
    weights = [last**-shape for last in LASTS_H]
    hour = sum(w * h * (1.0 - math.exp(-1.0 / h)) for w, h in zip(weights, LASTS_H, strict=True))
    modes = [0.0, 0.0, 0.0, 0.3 * (start_c - AIR_C), 0.7 * (start_c - AIR_C)]
    unlit, glows = [0.0] * len(wood), [0.0] * len(wood)
    flames = [[0.0] * 3 for _ in wood]
    second_h = 1.0 / 3600.0
    for second in range(round(until_h * 3600)):
        at_h = second * second_h
        heat = 0.0
        for one, (put_h, kg, mm) in enumerate(wood):
            if abs(at_h - put_h) < 0.5 * second_h:
                unlit[one] = kg
            stage_h = per_mm * mm / 3.0
            goes = unlit[one] / catches * second_h
            unlit[one] -= goes
            for stage in range(3):
                comes, goes = goes, flames[one][stage] / stage_h * second_h
                flames[one][stage] += comes - goes
            fades = glows[one] / (OUTLASTS * per_mm * mm) * second_h
            glows[one] += CHAR * goes - fades
            heat += (1.0 - CHAR) * goes + fades
        for one, last_h in enumerate(LASTS_H):
            modes[one] *= 1.0 - second_h * (1.0 / last_h + loss)
            modes[one] += gain * weights[one] / hour * heat
    return AIR_C + sum(modes)


@pytest.mark.parametrize(
    "way",
    [
        (80.0, 0.12, 0.5, 0.0058, 0.06),
        (40.0, 0.3, 0.3, 0.01, 0.1),
        (200.0, 0.05, 0.9, 0.004, 0.05),
    ],
)
def test_a_course_follows_its_equations(way: tuple[float, ...]) -> None:
    wood = [(0.0, 0.8, 40.0), (0.5, 1.0, 40.0), (1.25, 0.7, 60.0)]
    run = samples_of(way).run(Course(25.0, np.array(wood), NOTHING, 2.0))
    hand_c = by_hand(way, 25.0, wood, 2.0)
    assert crown_c(run) == pytest.approx(hand_c, abs=0.08 * (hand_c - AIR_C))


def test_a_pulse_of_heat_is_answered_as_a_thick_wall_answers_it() -> None:
    """1/√t (Carslaw & Jaeger §2.4), from five minutes to two hours, of p = ½ and no loss; a sum of
    five exponentials follows it within a fifth."""
    at_h = np.linspace(0.08, 2.0, 60)
    modes = sum(last**-0.5 * np.exp(-at_h / last) for last in LASTS_H)
    ratio = np.asarray(modes) * np.sqrt(at_h)
    assert ratio.max() / ratio.min() < 1.2 * 1.2


def test_what_lies_ahead_goes_on_where_the_course_ended() -> None:
    one = samples_of((80.0, 0.12, 0.5, 0.0058, 0.06))
    wood = np.array([(0.0, 0.8, 40.0), (0.5, 1.0, 40.0)])
    short = one.run(Course(25.0, wood, NOTHING, 1.0))
    longer = one.run(Course(25.0, wood, NOTHING, 2.0))
    unfed, bare, lift = short.ahead(None, 40.0, 24)
    assert unfed[0, -1] == pytest.approx(crown_c(longer), abs=1.0)
    assert bare[0, 3] < unfed[0, 3]
    assert lift.min() >= 0.0


def test_no_sample_leaves_its_bounds_however_odd_the_fire() -> None:
    """Redrawn and widened again and again, some used to run away without end."""
    course = looked_at((90.0, 0.12, 0.5, 0.0058, 0.08), 0.5, 0.6)
    odd = Course(course.start_c, course.wood, course.read * np.array([1.0, 1.9]), course.now_h)
    samples = Samples.guessed(60.0)
    for _ in range(12):
        samples = samples.fitted(odd).widened(1.3)
    logs = np.log(samples.ways)
    low, high = samples.bounds
    assert (logs >= low - 1e-9).all()
    assert (logs <= high + 1e-9).all()
    unfed, _, _ = samples.run(odd).ahead(None, 40.0, 48)
    assert np.abs(unfed).max() < 3000.0


def looked_at(way: tuple[float, ...], every_h: float, kg: float) -> Course:
    """A dome made by the same equations, read and fed at the same times."""
    wood = [(0.0, kg, 40.0)] + [(every_h * n + 0.05, kg, 40.0) for n in range(1, 7)]
    read = []
    for n in range(1, 8):
        ended = samples_of(way).run(Course(20.0, np.array(wood), NOTHING, every_h * n))
        read.append((every_h * n, crown_c(ended)))
    return Course(20.0, np.array(wood), np.array(read), every_h * 7)


@pytest.mark.parametrize(("gain", "per_mm"), [(35.0, 0.009), (130.0, 0.006), (90.0, 0.004)])
def test_what_was_watched_outweighs_the_first_guess(gain: float, per_mm: float) -> None:
    """Of the next half hour, whatever the make-up promised."""
    way = (gain, 0.12, 0.5, per_mm, 0.08)
    course = looked_at(way, 0.5, 0.6)
    guessed = Samples.guessed(60.0)
    learnt = guessed.fitted(course)
    _, _, true_lift = samples_of(way).run(course).ahead(None, 40.0, 12)
    top_c = float(course.read[-1, 1])
    _, _, before = guessed.run(course).ahead(top_c, 40.0, 12)
    _, _, after = learnt.run(course).ahead(top_c, 40.0, 12)
    off_before = abs(before[:, -1].mean() - true_lift[0, -1])
    off_after = abs(after[:, -1].mean() - true_lift[0, -1])
    assert off_after < max(0.5 * off_before, 0.25 * true_lift[0, -1])
    assert np.log(after[:, -1]).std() < 0.7 * np.log(before[:, -1]).std()


def test_one_odd_reading_does_not_rule() -> None:
    way = (90.0, 0.12, 0.5, 0.0058, 0.08)
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
    np.testing.assert_allclose(logs.mean(axis=0), before.mean(axis=0), atol=0.03)
    np.testing.assert_allclose(logs.std(axis=0), 1.3 * before.std(axis=0), rtol=0.05)


def test_the_same_readings_are_believed_the_same() -> None:
    course = looked_at((90.0, 0.12, 0.5, 0.0058, 0.08), 0.5, 0.6)
    one, other = (Samples.guessed(60.0).fitted(course).ways for _ in range(2))
    assert np.array_equal(one, other)
    assert math.isfinite(float(one.sum()))
