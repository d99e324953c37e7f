"""Sample meanings of danger, of what comes after, of days, answers and the builder."""

from collections.abc import Iterator
from datetime import date, timedelta

from bot.wording.hazard_texts import TEXTS
from scheduling import meaning as said
from scheduling.firing.aim import Action
from scheduling.hazard import TOLD, Hazard
from scheduling.meaning import Meaning
from scheduling.oven.stands import Stands
from scheduling.record import Phase
from scheduling.record.standing import NEEDS
from scheduling.remark import Available, CrackSize, Doubt, Reading, Sky, Topic
from tests.bot.wording.sample_values import (
    EARLY,
    LAST,
    NOW,
    SOON,
    TOMORROW,
    WARM_UP,
    aim,
    plan_lines,
    shown,
)


def danger() -> Iterator[Meaning]:
    yield from hazards()
    yield from without_flue()
    for size in CrackSize:
        for lit in (True, False):
            yield said.CrackTold(size=size, lit=lit, builder_told=lit, photo=not lit)
    yield said.CrackTold(size=CrackSize.OPEN, lit=True, misread_as=Hazard.CRACK, since=NOW)
    for lit in (True, False):
        yield said.InstrumentMissing(lit=lit)
    for what in ("steam", "damp", "smoke", "too_big", "wood_out", "soot_clear", "soot_black"):
        for lit in (True, False):
            for much in (True, False):
                yield said.SignTold.model_validate(
                    {"what": what, "lit": lit, "much": much, "early": much}
                )
    yield said.TooHot(top_c=212.0, limit_c=162.0)
    yield said.TooHot(top_c=212.0, limit_c=162.0, steam_share=1.2)
    for sky in Sky:
        for covered in (True, False):
            yield said.SkyNow(what=sky, lit=True, wind_ms=16.0, covered=covered)
        yield said.SkyNow(what=sky, lit=True, stands=Stands.read("roof+beside"))
    yield said.InstrumentBlind(max_c=330.0)


def hazards() -> Iterator[Meaning]:
    for hazard in TOLD:
        for lit in (True, False):
            for number in ("999", None):
                yield said.HazardTold(
                    hazard=hazard, emergency=number, lit=lit, since=NOW, builder_told=lit,
                    from_words=lit, also=(Hazard.CRACK,) if lit and hazard is not Hazard.CRACK
                    else (),
                )  # fmt: skip
            for ask in (True, False):
                yield said.HazardAsked(hazard=hazard, since=NOW, lit=lit, ask=ask)
            for why in ("undo", "over", "not_sound", "builder", "hot"):
                yield said.HazardStays(hazard=hazard, why=why, lit=lit, since=NOW)
            for misheard in (True, False):
                yield said.HazardClosedTold(
                    hazard=hazard, lit=lit, ending=not lit, misheard=misheard
                )
            yield said.HazardClosedTold(hazard=hazard, misheard=True, safe_since=NOW)
        yield said.MustNotBurn(why="trouble", hazard=hazard, top_c=88.0, next_at=SOON)
    unsaid = Hazard.CRACK_UNSAID
    for lit in (True, False):
        yield said.HazardAsked(hazard=unsaid, since=NOW, lit=lit, ask=True)
    yield said.HazardClosedTold(hazard=Hazard.CHILD_NEAR, others=(unsaid,))
    yield said.HazardClosedTold(hazard=unsaid, misheard=True, lit=True)
    yield said.HazardClosedTold(hazard=unsaid, lit=True)
    yield said.MustNotBurn(why="trouble", hazard=unsaid, top_c=88.0, next_at=SOON)
    for why in ("held", "cure", "restricted", "weather", "mortar", "lit_early", "set_up"):
        yield said.MustNotBurn(why=why, top_c=131.0, ready_on=date(2026, 6, 20))
        yield said.MustNotBurn(why=why)
    yield said.HazardStays(hazard=None, why="none_open")
    yield said.HazardStays(hazard=None, why="all_well")
    yield said.WhichHazard(hazards=((Hazard.POPPING, NOW), (Hazard.FLUE_FLAMES, NOW)))
    for lit in (True, False):
        yield said.WhatIsWrong(lit=lit, emergency="999" if lit else None)
        yield said.NotHeard(words="the <b>thingy</b> goes wibble", top_c=152.0, lit=lit)
        yield said.NotHeard(words="", lit=lit)
        for words in ("burning nicely over here", ""):
            yield said.NotHeard(words=words, lit=lit, since=NOW, misread=True)


def without_flue() -> Iterator[Meaning]:
    """What is said of hazards at an oven that has none."""
    for meaning in hazards():
        hazard = getattr(meaning, "hazard", None)
        if hazard is None or TEXTS[hazard].without_flue:
            yield meaning.model_copy(update={"flue": False})
    yield said.HazardTold(
        hazard=Hazard.CRY_FOR_HELP, also=(Hazard.FLUE_FLAMES,), lit=True, since=NOW, flue=False
    )
    yield said.HazardClosedTold(
        hazard=Hazard.CHILD_NEAR, others=(Hazard.FLUE_FLAMES, Hazard.FLUE_BLOCKED), flue=False
    )
    yield said.NotHeard(words="odd", likely=(Hazard.FLUE_FLAMES, Hazard.FLUE_BLOCKED), flue=False)
    yield said.NowTold(phase="held", hazard=Hazard.FLUE_FLAMES, flue=False)


def after() -> Iterator[Meaning]:
    following = aim(3, 200.0)
    for why in ("held", "stopped", "short", "unattended", "weather", "time", "too_early"):
        yield said.FiringDone.model_validate(
            {
                "shown": shown(),
                "why": why,
                "next_aim": following,
                "next_day": TOMORROW,
                "water_left_l": (12.0, 21.0),
                "door_on": why == "held",
            }
        )
    for change in (
        "as_planned", "short", "hot", "unattended", "weather", "steam", "repeat", "doubt",
    ):  # fmt: skip
        yield said.FiringDone(
            shown=shown(), why="held", next_aim=following, next_day=date(2026, 6, 9), change=change
        )
        yield said.MorningNoted(
            top_c=42.0, next_aim=following, next_day=TOMORROW, before_c=220.0, change=change
        )
    yield said.FiringDone(shown=shown(readings=0), why="held", next_aim=WARM_UP)
    yield said.FiringDone(shown=shown(of=LAST), why="held", embers=True)
    yield said.FiringDone(
        shown=shown(of=LAST), why="held", embers=True, soot_clear=True, change="done"
    )
    yield said.FiringDone(
        shown=shown(of=LAST), why="held", embers=True, soot_clear=True, change="done", door_on=True
    )
    yield said.DoorNoted(on=True)
    yield said.DoorNoted(on=False)
    yield said.DoorNoted(on=True, early=True)
    yield said.MorningAfterAsk()
    yield said.MorningAfterAsk(expected_c=(38.0, 55.0))
    yield said.MorningNoted(top_c=42.0, next_aim=following, next_day=TOMORROW)
    yield said.MorningNoted(top_c=42.0, next_aim=following)
    yield said.MorningNoted(top_c=42.0)
    yield said.ReadingKept(top_c=21.0)
    yield said.ReadingKept()
    yield said.UnitSetRight(readings=1)
    yield said.UnitSetRight(readings=3)
    yield said.BreakInDone(firings=6, days=9, peak_c=421.0)
    yield said.BreakInDone(firings=8, days=14, soot_clear=False)
    yield said.StoppedForNow(firings=6, proposal="stopped:2026-06-12")
    yield said.StoppedForNow(firings=6, attended=True, proposal="stopped:2026-06-12")
    yield said.StoppedForNow(days=4, proposal="stopped:2026-06-12")
    yield said.IdleAsked(days=75, firings=2)
    yield said.IdleAsked(days=3, why="soaked", firings=1, first=TOMORROW)
    yield said.IdleAsked(days=3, why="repaired", firings=3)


def days() -> Iterator[Meaning]:
    changes = (
        said.DayChange(
            number=3, before=TOMORROW, after=date(2026, 6, 9), aim_before_c=200, aim_after_c=190
        ),
        said.DayChange(number=4, before=date(2026, 6, 8), after=date(2026, 6, 10)),
        said.DayChange(number=5, before=None, after=date(2026, 6, 12)),
        said.DayChange(number=6, before=date(2026, 6, 12), after=None),
    )
    weekend = (TOMORROW, date(2026, 6, 8))
    proposed = said.DaysProposed(
        proposal="forecast:1", why="forecast", changes=changes, lines=plan_lines(),
        done_by_before=date(2026, 6, 11), done_by_after=date(2026, 6, 12),
    )  # fmt: skip
    yield proposed
    for why, of_days in (
        ("unavailable", {"off": (weekend, (date(2026, 6, 10), date(2026, 6, 10)))}),
        ("unavailable", {"off": (weekend,), "wanted": ((date(2026, 6, 9), date(2026, 6, 9)),)}),
        ("wanted", {"wanted": (weekend,)}),
        ("gale", {"gales": weekend}),
        ("weather", {"poor": weekend}),
    ):
        yield proposed.model_copy(update={"proposal": f"{why}:1", "why": why, **of_days})
    for why in (
        "unavailable", "available", "weather", "gale", "soaked", "wood_out", "restricted",
        "forecast", "slipped", "order", "wanted",
    ):  # fmt: skip
        yield said.DaysMoved(why=why, lines=plan_lines(), changes=changes, undo=why != "slipped")
        yield said.DaysKept(why=why)
    yield said.DaysProposed(
        proposal="gap:1", why="unavailable", off=((TOMORROW, TOMORROW),), changes=changes[:1],
        lines=(said.PlanLine(**WARM_UP.model_dump(), day=None, start=None),),
        done_by_before=TOMORROW, done_by_after=TOMORROW,
    )  # fmt: skip
    yield said.DaysKept(why="left")
    for why in (
        "in_the_past", "backwards", "too_long", "too_far", "no_hours", "away", "restricted",
        "tending_another", "usually_busy", "too_short", "curing", "nothing_free",
    ):  # fmt: skip
        yield said.DaysRefused(why=why, first=TOMORROW, last=date(2026, 6, 8))
    yield said.DaysRefused(why="curing", first=TOMORROW, next_day=date(2026, 6, 20))
    yield said.WhichDay(near=(TOMORROW, date(2026, 6, 9), date(2026, 6, 10)))
    yield said.WhichDay()
    yield said.DaysShown(lines=plan_lines(), ready_on=date(2026, 6, 20))
    yield said.DaysShown(lines=())
    yield said.NoDayFound(needed_h=5.0)
    yield said.NoDayFound()
    yield said.SoakedNoted(aim_before_c=200.0, aim_after_c=150.0)
    yield said.SoakedNoted(lit=True, aim_before_c=150.0, aim_after_c=150.0)
    yield said.SoakedNoted(finished=True)
    yield said.ForecastAgainst(
        day=TOMORROW, poor=0.7, reasons=(("rain", 0.7), ("wind", 9.0)),
        attribution="Forecast: an <i>open</i> service",
    )  # fmt: skip
    yield said.ForecastAgainst(day=TOMORROW, poor=0.7)


def answers() -> Iterator[Meaning]:
    for why in (
        "which_unit",
        "which_number",
        "out_of_range",
        "which_place",
        "unclear",
        "which_day",
    ):
        for choices in ((), (Reading(top_c=152.0), Reading(top_c=52.0))):
            yield said.NotClear(
                doubt=Doubt.model_validate({"why": why, "choices": choices, "heard": "1 60 <b>now"})
            )
    yield said.NotClear(doubt=Doubt(why="which_day", choices=(Available(first=TOMORROW),)))
    yield said.NothingHere()
    for topic in Topic:
        for lit, phase in ((True, "lit"), (False, "waiting")):
            for allowed in (True, False):
                yield said.Answer(
                    topic=topic, phase=phase, lit=lit, allowed=allowed, aim=EARLY,
                    next_day=None if lit else TOMORROW, next_start=None if lit else SOON,
                    top_c=131.0, top_at=NOW, climb_c_per_h=72.0 if allowed else 20.0,
                    limit_c_per_h=50.0, water_left_l=(9.0, 16.0),
                    steam_share=0.95 if allowed else 0.4,
                    crack=("open" if allowed else "hairline") if lit else None,
                    action=Action.ADD if lit else None, next_at=SOON if lit else None, left=4,
                )  # fmt: skip
        yield said.Answer(topic=topic, phase="curing", lit=False, ready_on=date(2026, 6, 20))
        yield said.Answer(topic=topic, phase="lit", lit=True, flue=False)
        yield said.Answer(topic=topic, phase="waiting", lit=False, flue=False)
    for phase in Phase:
        lit = phase in (Phase.LIT, Phase.EMBERS)
        for hazard in (None, Hazard.CRACK):
            yield said.NowTold(
                phase=phase.value, aim=EARLY, next_day=TOMORROW,
                next_start=SOON + timedelta(days=1), ready_on=date(2026, 6, 20),
                action=Action.WAIT if lit else None, next_at=SOON if lit else None,
                top_c=131.0 if lit else None, top_at=NOW if lit else None, hazard=hazard,
            )  # fmt: skip
        yield said.NowTold(phase=phase.value)
        yield said.HelpShown(phase=phase.value, lit=lit)
        yield said.NotUnderstood(phase=phase.value, lit=lit)
    for what in ("eve", "days", "stopped"):
        yield said.StillAsked(what=what, proposal=f"{what}:1")
    for phase in Phase:
        lit = phase in (Phase.LIT, Phase.EMBERS)
        yield said.Greeted(thanks=lit, phase=phase.value, next_day=TOMORROW)
        yield said.Greeted(thanks=False, phase=phase.value)
    for action in Action:
        yield said.NowTold(phase="lit", action=action, next_at=SOON)
    yield said.PictureShown(shown=shown(ended=False))
    yield said.PictureShown()
    yield said.RecordShown(firings=3)
    for what in ("measured", "wood_put_on", "fire_lit", "days_said", "seen", "held"):
        yield said.UndoneTold(
            what=what, at=NOW, top_c=152.0 if what == "measured" else None,
            pieces=2 if what == "wood_put_on" else None,
        )  # fmt: skip
    yield said.NothingToUndo()
    for lit in (True, False):
        yield said.FireStays(lit=lit)
    yield said.StaleTap()
    yield said.StaleTap(newer=True)
    yield said.LaterNoted(next_at=SOON)
    yield said.LaterNoted(next_at=SOON, shortened=True)
    yield said.NudgesStopped(lit=True)
    yield said.NudgesStopped(lit=False)
    for what in (
        "photo", "note", "not_lit", "yes", "no", "weather", "back", "fire_out", "lit",
    ):  # fmt: skip
        yield said.Noted(what=what)
    yield said.Noted(what="note", next_day=TOMORROW)


CONTACTS = (
    said.Contact(name="Rosa <b>Mill", phone="+44 7700 900123", chat="4711"),
    said.Contact(name="", chat="4712"),
    said.Contact(name="Ben", phone="+44 7700 900456"),
)


def builder() -> Iterator[Meaning]:
    for need in NEEDS:
        yield said.Alert(
            needs=need.value, since=NOW - timedelta(minutes=20), oven="Meadow oven", firing=2,
            lit=True, top_c=231.0, aim_c=150.0, minutes=45.0, words="kept <b>back</b>",
            place="Kew <i>Green</i>", contacts=CONTACTS, again=1, held_by="Jo <b>Elm",
        )  # fmt: skip
        yield said.Alert(needs=need.value, since=NOW - timedelta(days=2))
    yield said.Alert(needs="crack", since=NOW, oven="Rosa", photos=("telegram:abc", "telegram:d"))
    for alone in (True, False):
        yield said.Alert(
            needs="crack", since=NOW, oven="Rosa", held_by="Jo", mine=True, alone=alone, again=1
        )
    for why in ("cure", "mortar", "held", "trouble", "restricted", "weather", "warm", "indoors",
                "set_up", "something_new"):  # fmt: skip
        yield said.Alert(needs="lit_early", since=NOW, oven="Rosa", detail=why, lit=True)
    for why in ("blocked", "late", "given_up", "unknown", "refused"):
        yield said.Alert(needs="undelivered", since=NOW, oven="Rosa", detail=why)
    yield said.Alert(needs="crack", since=NOW, oven="Rosa", looked=True)
    yield said.Alert(needs="crack", since=NOW, oven="Rosa", misheard=True)
    yield said.PhotoCame(oven="Rosa", needs="crack", photo="telegram:abc", words="see <b>here")
    yield said.SecondTold(minutes=25.0, top_c=131.0)
    yield said.SecondTold(minutes=25.0)
    for what in (
        "held", "released", "capped", "limits", "repeat", "moved", "forbidden", "taken_back",
        "closed",
    ):  # fmt: skip
        yield said.OrderTold(
            what=what, by="p-9", why="The arch joint looks <i>young</i>",
            cap_c=200.0 if what == "capped" else None, first=TOMORROW, last=date(2026, 6, 9),
        )  # fmt: skip
    yield said.OrderTold(what="capped", by="p-9")
    for what in (
        "hold", "release", "cap", "limit", "repeat", "move", "forbid", "take_back", "close",
    ):  # fmt: skip
        yield said.OrderTaken(what=what)
        yield said.OrderLessGentle(what=what, from_value=200.0, to_value=250.0)
        yield said.OrderLessGentle(what=what)
    for why in ("no_such_order", "in_the_past", "out_of_range", "nothing_fired", "not_yours"):
        yield said.OrderRefused(what="cap", why=why)
