"""What was planned of a fire beside what was done; what cannot be told is left out.

A line is marked only where somebody did otherwise than asked: a peak or a climb on the wood that
was asked for is told, and marked for nobody.
"""

from datetime import timedelta
from typing import NamedTuple

from bot.papers.departures import departures, followed, more_than_asked, too_fast, unasked
from bot.papers.firing_log import FiringLog
from bot.papers.told import Telling
from bot.wording.departures import KINDS, figure
from bot.wording.measures import counted, held, kilogram, times
from bot.wording.papers import SKIES, SOURCES, charge, doubt, ended


class Compared(NamedTuple):
    """What, as planned, as it went, and whether somebody did otherwise than asked."""

    what: str
    planned: str
    went: str
    marked: bool = False


def comparison(t: Telling, log: FiringLog) -> list[Compared]:
    """Every line of a fire."""
    return [*_day(t, log), *_heat(t, log), *_work(t, log), *_answers(t, log), *_weather(t, log)]


def _day(t: Telling, log: FiringLog) -> list[Compared]:
    early = log.session.too_early
    lit = f"{t.day(log.lit_on)}, lit at {t.m.hour(log.session.lit_at)}"
    if early:
        lit += ", though it was told to wait"
    if log.aim is None:
        return [Compared("Day", "none was planned", lit, True)]
    planned = t.day(log.promised) if log.promised is not None else "no day told"
    off = early or (log.promised is not None and log.promised != log.lit_on)
    return [Compared("Day", planned, lit, off)]


def _heat(t: Telling, log: FiringLog) -> list[Compared]:
    aim, peak_c, m = log.aim, log.peak_c, t.m
    peak = "not read" if peak_c is None else m.degrees(peak_c)
    found: list[Compared] = []
    if aim is None:
        found.append(Compared("Peak of the crown", "", peak))
    else:
        marked = False
        if peak_c is not None and peak_c > aim.high_c:
            peak += f", {m.beyond(peak_c, aim.low_c, aim.high_c)} above the range"
            marked = log.peak_at is not None and not followed(log, log.peak_at, log.peak_at)
            peak += "" if marked else ", on the wood asked for"
        elif peak_c is not None and peak_c < aim.low_c:
            peak += f", {m.beyond(peak_c, aim.low_c, aim.high_c)} below the range"
        planned = (
            f"{m.about_degrees(aim.plateau_c)}, range {m.degrees_range(aim.low_c, aim.high_c)}"
        )
        found.append(Compared("Peak of the crown", planned, peak, marked))
        by_clock = "" if log.is_read else ", by the clock alone"
        found.append(Compared("In range or above", held(aim.hold_h), held(log.held_h) + by_clock))
    return found + _climb(t, log)


def _climb(t: Telling, log: FiringLog) -> list[Compared]:
    judged = too_fast(log)
    climb = judged or log.climb
    if climb is None:
        return []
    went = f"{t.rate(climb.k_h)}, {t.m.hour(climb.start)} to {t.m.hour(climb.end)}"
    if judged is None and climb.k_h > climb.limit_k_h + 0.5:
        went += ", on the wood asked for"
    limit = f"{t.rate(climb.limit_k_h)} at most at that heat"
    return [Compared("Steepest climb", limit, went, judged is not None)]


def _work(t: Telling, log: FiringLog) -> list[Compared]:
    aim, session = log.aim, log.session
    laid = f"{log.laid_kg:.2f} kg laid as asked, " if log.laid_kg else ""
    burnt = f"{charge(log.pieces, log.wood_kg)} put on in {counted(len(session.stokes), 'charge')}"
    parts = [laid + (burnt if session.stokes else "no more wood told of")]
    parts += [
        f"{KINDS[one.what].lower()}: {figure(one, t.m)}"
        for one in departures(log)
        if one.what.value in ("unasked_wood", "more_wood")
    ]
    planned = "" if aim is None else f"{kilogram(aim.wood_kg)}, {kilogram(aim.lay_kg)} of it laid"
    freely = bool(unasked(log) or more_than_asked(log))
    found = [Compared("Wood", planned, "; ".join(parts), freely)]
    if log.ended is not None:
        hours = (log.ended.at - session.lit_at) / timedelta(hours=1)
        window = "" if aim is None else f"about {held(aim.session_h)} to the end of the hold"
        how = ended(log.ended.why, let_die=session.ending)
        found.append(Compared("Length", window, f"{held(hours)}: {how}"))
    if log.door_on_at is not None:
        found.append(Compared("Door on", "", t.at(log.door_on_at)))
    return found


def _answers(t: Telling, log: FiringLog) -> list[Compared]:
    """Readings that were asked for, those that came, and those that could not be used."""
    session, found = log.session, list[Compared]()
    came = len(session.readings)
    silences = [f"none from {t.m.hour(begin)} to {t.m.hour(end)}" for begin, end in log.silences]
    if t.paper.has_thermometer and (log.asked or came):
        went = "; ".join([f"{came} came" if came else "none came", *silences])
        found.append(Compared("Readings", f"{log.asked} asked for", went, bool(silences)))
    elif silences:
        asked = f"asked {times(log.asked)} how it goes" if log.asked else ""
        found.append(Compared("Answers", asked, "; ".join(silences), True))
    doubtful = [one for one in session.readings if not one.believed]
    if doubtful:
        why = "; ".join(dict.fromkeys(doubt(one) for one in doubtful))
        found.append(Compared("Not used", "", f"{len(doubtful)} of {came} readings: {why}"))
    return found


def _weather(t: Telling, log: FiringLog) -> list[Compared]:
    one, m = log.weather, t.m
    parts: list[str] = []
    if one.air_low_c is not None and one.air_high_c is not None:
        parts.append(f"air {t.figure(one.air_low_c)} to {m.degrees(one.air_high_c)}")
    if one.wind_ms is not None:
        gust = "" if one.gust_ms is None else f", gusts {one.gust_ms:.0f}"
        parts.append(f"wind to {one.wind_ms:.0f} m/s{gust}")
    if one.rain_mm is not None:
        parts.append(f"rain {one.rain_mm:.1f} mm")
    said = ", ".join(SKIES[sky] for sky in one.said)
    if not parts and not said:
        return []
    foretold = ""
    if one.source is not None and one.issued_at is not None:
        credit = one.attribution or SOURCES[one.source]
        foretold = f"{'; '.join(parts)} ({credit}, {t.at(one.issued_at)})"
    went = f"somebody there told of: {said}" if said else ""
    return [Compared("Weather, as forecast", foretold, went)]
