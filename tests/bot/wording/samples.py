"""Every meaning with realistic values: what the sentences are tried and read aloud with."""

from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from typing import get_args

from scheduling import meaning as said
from scheduling.choice import About
from scheduling.firing.aim import Action, Aim, Laying, WhyGentler
from scheduling.meaning import Meaning, Said
from scheduling.oven.preset import shipped
from scheduling.oven.reading import ASKS, Suspicion
from scheduling.record import Need, Phase
from scheduling.remark import Available, CrackSize, Doubt, Reading, Sky, Topic

NOW = datetime(2026, 6, 6, 9, 30, tzinfo=UTC)
TODAY = date(2026, 6, 6)
TOMORROW = TODAY + timedelta(days=1)
SOON = NOW + timedelta(minutes=30)

KINDS: tuple[type[Said], ...] = get_args(get_args(Meaning)[0])
"""All members of the union."""


def aim(number: int = 2, plateau_c: float = 150.0, **known: object) -> Aim:
    """A firing to come."""
    small = plateau_c < 200
    values: dict[str, object] = {
        "number": number,
        "plateau_c": plateau_c,
        "low_c": plateau_c - 10,
        "high_c": plateau_c + 12,
        "climb_c_per_h": 50.0,
        "hold_h": 1.5,
        "session_h": 4.5,
        "stoke_minutes": 35.0,
        "wood_kg": 6.4 if small else 17.0,
        "lay_kg": 0.9 if small else 2.2,
        "charge_kg": 0.42 if small else 1.6,
        "charge_pieces": 3,
        "piece_mm": 30.0 if small else 60.0,
        "laying": Laying.SMALL_AT_MOUTH if small else Laying.TOP_LIT,
        "limited_by": "steam",
        "left": 5,
    }
    return Aim.model_validate(values | known)


EARLY = aim()
MIDDLE = aim(4, 260.0, piece_mm=45.0)
LAST = aim(6, 400.0, last=True, left=1)
WARM_UP = aim(4, 120.0, warm_up=True)


def plan_lines(count: int = 5) -> tuple[said.PlanLine, ...]:
    """A plan, one day after another."""
    return tuple(
        said.PlanLine(
            **aim(number, 90.0 + 60.0 * number).model_dump(),
            day=TOMORROW + timedelta(days=number),
            start=NOW + timedelta(days=number, hours=-2),
            poor=0.5 if number == 3 else 0.1,
        )
        for number in range(1, count + 1)
    )


def shown(ended: bool = True, of: Aim = EARLY, readings: int = 4) -> said.FiringShown:
    """A firing as it went."""
    return said.FiringShown(
        aim=of,
        lit_at=NOW - timedelta(hours=3),
        ended_at=NOW if ended else None,
        readings=tuple(
            said.ReadingShown(
                at=NOW - timedelta(minutes=150 - 40 * index),
                top_c=60.0 + 30 * index,
                believed=index != 1,
            )
            for index in range(readings)
        ),
        stokes=(
            said.StokeShown(at=NOW - timedelta(hours=2), pieces=3, kg=0.4),
            said.StokeShown(at=NOW - timedelta(hours=1), pieces=2),
        ),
        hold=(NOW - timedelta(hours=1), NOW) if readings else None,
        held_h=1.1 if readings else 0.0,
        peak_c=156.0 if readings else None,
    )


def everything() -> Iterator[Meaning]:
    """All of them."""
    yield from _setting_up()
    yield from _before()
    yield from _fire()
    yield from _danger()
    yield from _after()
    yield from _days()
    yield from _answers()
    yield from _builder()


_ANSWERS: dict[About, tuple[str, ...]] = {
    About.UNITS: ("C", "F"),
    About.PLACE: ("51.4500,-2.5900,Europe/London,Bristol", "51.4500,-2.5900,Europe/London"),
    About.CONSTRUCTION: ("brick-mortar",),
    About.WET_WORK: ("2026-05-12",),
    About.SIZE: ("700", "800", "900", "1000", "unknown"),
    About.THICKNESS: ("75", "unknown"),
    About.COVER: ("open", "sheet", "roof"),
    About.DOOR: ("none", "plain", "insulated"),
    About.SHELTER: ("exposed", "part", "sheltered"),
    About.INSTRUMENT: ("330", "400", "550", "800", "none", "unknown"),
    About.DAYS: ("0123456", "56", "01234", "4"),
    About.HOURS: ("7-22", "9-18", "8.5-14"),
    About.SECOND: ("none", "invite"),
}


def _setting_up() -> Iterator[Meaning]:
    yield said.Welcome(name="Garden oven", builder=True, to_ask=11)
    yield said.Welcome()
    for about, values in _ANSWERS.items():
        options = tuple(said.Option(value=value) for value in values)
        if about is About.CONSTRUCTION:
            options = tuple(
                said.Option(value=key, title=preset.title, told=preset.told)
                for key, preset in shipped().presets.items()
            )
        if about in (About.PLACE, About.WET_WORK):
            options = ()
        yield said.SetUpQuestion(about=about, options=options, step=3, steps=11)
        yield said.SetUpQuestion(
            about=about, options=options, step=3, steps=11, known=values[0], reminder=True
        )
        yield said.SetUpNoted(about=about, value=values[0])
        yield said.SetUpRefused(about=about, value="banana", why="not_understood")
        yield said.SetUpRefused(about=about, value="12", why="out_of_range", low=300, high=2500)
    yield said.SetUpRefused(about=About.WET_WORK, value="3 December 2031", why="in_future")
    yield said.SetUpRefused(about=About.WET_WORK, value="1066-10-14", why="too_old")
    yield said.SetUpRefused(about=About.PLACE, value="99, 200", why="out_of_range")
    yield said.SetUpRefused(about=About.COVER, value="<b>hat</b>", why="unknown_choice")
    yield said.SetUpRefused(about=About.DAYS, value="", why="no_days")
    yield said.SetUpRefused(about=About.HOURS, value="9-11", why="too_few_hours", low=5.0)
    yield said.SetUpRefused(
        about=About.SIZE, value="", why="does_not_fit", sentences=("The shell is too thick.",)
    )
    yield said.SettingsShown(answers=tuple((about, one[0]) for about, one in _ANSWERS.items()))
    yield said.InstrumentShort(max_c=330, needed_c=425, firing=5, needed_on=date(2026, 6, 14))
    yield said.InstrumentShort(max_c=330, needed_c=425, firing=5)
    yield said.NoInstrument(firings=8)
    yield said.SecondPersonAsked()
    yield said.PersonJoined(person="p-2")
    yield said.PersonJoined(person="p-2", left=True)
    for why in (
        "first", "asked", "reading", "soaked", "gap", "order", "repair", "set_up", "moved",
        "short", "hot", "unattended", "idle",
    ):  # fmt: skip
        yield said.PlanTold(lines=plan_lines(), why=why, done_by=date(2026, 6, 12))
    yield said.PlanTold(
        lines=plan_lines(), why="first", ready_on=date(2026, 6, 20), done_by=date(2026, 7, 1)
    )
    yield said.PlanTold(lines=())
    for held_by in ("strength", "floor", "frost", "cold"):
        yield said.CureCountdown.model_validate(
            {
                "ready_on": None if held_by == "cold" else date(2026, 6, 20),
                "days_left": None if held_by == "cold" else 14,
                "strength": 0.62,
                "held_by": held_by,
                "frost_c": -4.2 if held_by == "frost" else None,
                "frost_on": date(2026, 5, 14) if held_by == "frost" else None,
            }
        )
    yield said.CureCountdown(ready_on=TOMORROW, days_left=1, strength=0.7, held_by="floor")
    yield said.CureDone(first=TOMORROW)
    yield said.CureDone(first=None)
    yield said.MortarInDoubt(frost_c=-6.0, frost_on=date(2026, 5, 13))


_REASONS = (
    ("rain", 0.6), ("wind", 9.0), ("too_windy", 16.0), ("gusts", 20.0), ("hard_frost", -7.0),
    ("heat", 35.0), ("fire_weather", 34.0), ("owners_word", 1.0), ("short_daylight", 2.0),
    ("unknown", 0.8),
)  # fmt: skip


def _before() -> Iterator[Meaning]:
    start = NOW + timedelta(days=1, hours=-1)
    for of in (EARLY, MIDDLE, LAST, WARM_UP):
        yield said.Eve(aim=of, day=TOMORROW, start=start, proposal="eve:1", first=of is EARLY)
        yield said.StillOn(aim=of, day=TOMORROW, start=start)
        yield said.MorningAsk(aim=of)
        yield said.HowToLay(aim=of, start_c=18.0)
        yield said.StillWaiting(aim=of, latest=NOW + timedelta(hours=4))
    for reason in _REASONS:
        yield said.Eve(
            aim=EARLY, day=TODAY, start=start, proposal="eve:1", poor=0.5, reasons=(reason,)
        )
        yield said.NotToday(why="weather", reasons=(reason,), next_day=date(2026, 6, 9))
    yield said.MorningAsk(aim=EARLY, expected_c=(15.0, 31.0), restrictions=False)
    yield said.HowToLay(aim=MIDDLE, start_c=61.0, changed_from_c=280.0, wind_ms=8.0)
    for why in (
        "cure", "held", "weather", "restricted", "soaked", "trouble", "away", "warm", "mortar",
    ):  # fmt: skip
        yield said.NotToday.model_validate({"why": why})
        if why != "warm":
            yield said.LitTooEarly.model_validate({"why": why, "builder_told": True})
    yield said.LitTooEarly(why="cure", ready_on=date(2026, 6, 20))
    yield said.LitTooEarly(why="set_up")


_WHYS: tuple[tuple[Action, str, float | None], ...] = (
    (Action.WAIT, "climbing", 42.0),
    (Action.ADD_NOTHING, "too_fast", 71.0),
    (Action.SPREAD, "too_fast", 110.0),
    (Action.ADD, "too_slow", 8.0),
    (Action.ADD, "too_slow", 0.5),
    (Action.ADD, "below_band", 34.0),
    (Action.ADD, "in_band", 0.6),
    (Action.WAIT, "in_band", 0.0),
    (Action.LET_FALL, "above_band", 14.0),
    (Action.SPREAD, "above_band", 44.0),
    (Action.SPREAD, "steam", 1.1),
    (Action.ADD_NOTHING, "steam", 0.9),
    (Action.HOLD_DONE, "hold_done", 1.6),
    (Action.HOLD_DONE, "session", 6.5),
    (Action.SPREAD, "hot_side", 38.0),
    (Action.SPREAD, "hot_crown", 75.0),
    (Action.WAIT, "cooling", 12.0),
    (Action.READ_AGAIN, "stale", 41.0),
    (Action.READ_AGAIN, "missing", None),
    (Action.READ_AGAIN, "doubtful", None),
    (Action.LET_FALL, "doubtful", None),
    (Action.ADD_NOTHING, "just_fed", 5.0),
    (Action.ADD_NOTHING, "approximate", None),
    (Action.ADD_NOTHING, "wind", 11.0),
    (Action.ADD_NOTHING, "wood_out", None),
    (Action.ADD_NOTHING, "silent", None),
    (Action.ADD_NOTHING, "away", None),
    (Action.ADD_NOTHING, "weather", None),
    (Action.ADD_NOTHING, "crack", None),
    (Action.SHUT_DOOR, "finishing", None),
    (Action.WAIT, "finishing", None),
    (Action.ADD, "plan", None),
    (Action.STOP, "held", None),
    (Action.STOP, "trouble", None),
    (Action.STOP, "cure", None),
    (Action.STOP, "restricted", None),
)


def _fire() -> Iterator[Meaning]:
    yield said.LitNoted(aim=EARLY, lit_at=NOW, next_at=SOON)
    yield said.LitNoted(aim=MIDDLE, lit_at=NOW, next_at=SOON, read=False)
    for action, why, amount in _WHYS:
        adds = action is Action.ADD
        yield said.Advice(
            action=action,
            why=said.Why(what=why, amount=amount),
            top_c=131.0 if why not in ("missing", "plan") else None,
            aim=LAST if action is Action.SHUT_DOOR else EARLY,
            minutes=30.0,
            next_at=SOON,
            kg=0.42 if adds else None,
            pieces=3 if adds else None,
            piece_mm=30.0 if adds else None,
            expect_c=(140.0, 155.0) if adds or action is Action.WAIT else None,
            held_h=1.6 if why == "hold_done" else 0.6 if why == "in_band" and amount else 0.0,
            plateau_at=NOW + timedelta(hours=1) if why == "climbing" else None,
            gentler=WhyGentler.MODEL if why == "steam" else None,
            late=why == "below_band",
        )
    yield said.Advice(
        action=Action.SHUT_DOOR, why=said.Why(what="finishing"), top_c=120.0, aim=EARLY
    )
    for gentler in WhyGentler:
        yield said.Advice(
            action=Action.WAIT, why=said.Why(what="climbing", amount=30.0), aim=EARLY,
            gentler=gentler, next_at=SOON,
        )  # fmt: skip
    yield said.Advice(
        action=Action.ADD, why=said.Why(what="below_band", amount=20.0), aim=MIDDLE,
        kg=0.8, pieces=1, piece_mm=45.0, next_at=SOON,
    )  # fmt: skip
    yield said.Nudge(aim=EARLY, ready_kg=0.42, ready_pieces=3, piece_mm=30.0)
    yield said.Nudge(
        aim=MIDDLE, ready_kg=0.5, ready_pieces=1, piece_mm=60.0, expect_c=(240.0, 255.0)
    )
    yield said.Nudge(aim=EARLY, repeat=True, ready_kg=0.42, ready_pieces=3)
    yield said.Nudge(aim=EARLY, late_minutes=25.0)
    yield said.Nudge(aim=EARLY, read=False, kg=0.42, pieces=3, piece_mm=30.0)
    yield said.Nudge(aim=EARLY, read=False)
    yield said.Nudge(aim=EARLY, read=False, repeat=True)
    for action in (None, *Action):
        yield said.FiringStatus(shown=shown(ended=False), action=action, next_at=SOON)
    yield said.FiringStatus(shown=shown(ended=False, readings=0), next_at=NOW)
    yield said.FiringStatus(shown=shown())
    yield from _doubts()
    yield said.StokeNoted(pieces=2, next_at=SOON)
    yield said.StokeNoted(pieces=1, next_at=SOON, read=False)
    yield said.StokeNoted(unasked=True, next_at=SOON)
    yield said.StokeNoted(pieces=7, too_much=True, next_at=SOON)
    yield said.StokeNoted(pieces=2, unasked=True, too_much=True)
    yield said.StokeNoted(pieces=2, unasked=True)
    yield said.Unattended(minutes=47.0)
    yield said.WelcomeBack(away_minutes=55.0)
    yield said.WelcomeBack(away_minutes=2.0)
    yield said.WelcomeBack(read=False)
    yield said.LeavingFire(lit=True)
    yield said.LeavingFire(lit=True, minutes=20.0, second=True)
    yield said.LeavingFire(lit=False)


def _doubts() -> Iterator[Meaning]:
    for suspicion in Suspicion:
        for lit in (True, False):
            yield said.Doubtful(
                suspicion=suspicion,
                ask=ASKS[suspicion],
                spot="top",
                shown_c=300.0,
                likely_c=148.9 if suspicion is Suspicion.OTHER_UNIT else None,
                possible_c=(90.0, 190.0),
                at_least=suspicion in (Suspicion.TOO_HOT, Suspicion.ABOVE_RANGE),
                lit=lit,
            )
    yield said.Doubtful(
        suspicion=Suspicion.OTHER_UNIT, ask=ASKS[Suspicion.OTHER_UNIT], shown_c=65.6, likely_c=150.0
    )
    yield said.Doubtful(
        suspicion=Suspicion.BELOW_AIR, ask=ASKS[Suspicion.BELOW_AIR], shown_c=-12.0,
        possible_c=(5.0, float("inf")), lit=False,
    )  # fmt: skip
    yield said.Doubtful(suspicion=Suspicion.NOTHING_READ, ask=ASKS[Suspicion.NOTHING_READ])


def _danger() -> Iterator[Meaning]:
    for emergency in ("999", None):
        yield said.Unwell(emergency=emergency, lit=True)
        yield said.Unwell(emergency=emergency)
        yield said.FlueFlames(emergency=emergency)
    yield said.Popping(builder_told=True)
    yield said.Popping(lit=False)
    for size in CrackSize:
        for lit in (True, False):
            yield said.CrackTold(size=size, lit=lit, builder_told=lit, photo=not lit)
    for what in ("steam", "damp", "smoke", "too_big", "wood_out", "soot_clear"):
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
    yield said.OnHold(why="held", reason="I want to see the <b>arch</b> first.", lit=True)
    yield said.OnHold(why="held")
    yield said.OnHold(why="instrument")
    yield said.OnHold(why="mortar")
    for trouble in ("unwell", "popping", "flue_flames", "crack"):
        yield said.OnHold(why="trouble", trouble=trouble, lit=True)
        yield said.OnHold(why="trouble", trouble=trouble, ask_look=True, proposal="look:x")
        yield said.TroubleOver(what=trouble)
    yield said.InstrumentBlind(max_c=330.0)


def _after() -> Iterator[Meaning]:
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
    yield said.BreakInDone(firings=6, days=9, peak_c=421.0)
    yield said.BreakInDone(firings=8, days=14, soot_clear=False)
    yield said.IdleAsked(days=75, firings=2)
    yield said.IdleAsked(days=3, why="soaked", firings=1, first=TOMORROW)
    yield said.IdleAsked(days=3, why="repaired", firings=3)


def _days() -> Iterator[Meaning]:
    changes = (
        said.DayChange(
            number=3, before=TOMORROW, after=date(2026, 6, 9), aim_before_c=200, aim_after_c=190
        ),
        said.DayChange(number=4, before=date(2026, 6, 8), after=date(2026, 6, 10)),
        said.DayChange(number=5, before=None, after=date(2026, 6, 12)),
        said.DayChange(number=6, before=date(2026, 6, 12), after=None),
    )
    for why in (
        "unavailable", "available", "weather", "gale", "soaked", "wood_out", "restricted",
        "forecast", "slipped", "order", "wanted",
    ):  # fmt: skip
        yield said.DaysProposed(
            proposal=f"{why}:1", why=why, first=TOMORROW, last=date(2026, 6, 8), changes=changes,
            lines=plan_lines(), done_by_before=date(2026, 6, 11), done_by_after=date(2026, 6, 12),
        )  # fmt: skip
        yield said.DaysMoved(why=why, lines=plan_lines(), changes=changes, undo=why != "slipped")
        yield said.DaysKept(why=why)
    yield said.DaysProposed(
        proposal="gap:1", why="unavailable", first=TOMORROW, last=TOMORROW, changes=changes[:1],
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


def _answers() -> Iterator[Meaning]:
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
    for phase in Phase:
        lit = phase in (Phase.LIT, Phase.EMBERS)
        for trouble in (None, "crack"):
            yield said.NowTold(
                phase=phase.value, aim=EARLY, next_day=TOMORROW,
                next_start=SOON + timedelta(days=1), ready_on=date(2026, 6, 20),
                action=Action.WAIT if lit else None, next_at=SOON if lit else None,
                top_c=131.0 if lit else None, top_at=NOW if lit else None, trouble=trouble,
            )  # fmt: skip
        yield said.NowTold(phase=phase.value)
        yield said.HelpShown(phase=phase.value, lit=lit)
        yield said.NotUnderstood(phase=phase.value, lit=lit)
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
    yield said.StaleTap()
    yield said.LaterNoted(next_at=SOON)
    yield said.LaterNoted(next_at=SOON, shortened=True)
    yield said.NudgesStopped(lit=True)
    yield said.NudgesStopped(lit=False)
    for what in (
        "photo", "note", "not_lit", "yes", "no", "weather", "back", "fire_out", "lit",
    ):  # fmt: skip
        yield said.Noted(what=what)
    yield said.Noted(what="note", next_day=TOMORROW)


def _builder() -> Iterator[Meaning]:
    for need in Need:
        yield said.Alert(
            needs=need.value, since=NOW - timedelta(minutes=20), oven="Meadow oven", firing=2,
            lit=True, top_c=231.0, aim_c=150.0, minutes=45.0, detail="kept <b>back</b>",
        )  # fmt: skip
        yield said.Alert(needs=need.value, since=NOW - timedelta(days=2))
    yield said.Alert(needs="crack", since=NOW, photo="telegram:abc")
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
