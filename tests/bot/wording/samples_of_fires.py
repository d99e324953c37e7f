"""Sample meanings from the first meeting to the lit fire."""

from collections.abc import Iterator
from datetime import date, timedelta

from scheduling import meaning as said
from scheduling.choice import About
from scheduling.firing.aim import Action, WhyGentler
from scheduling.firing.answers import REPLACED
from scheduling.meaning import Meaning
from scheduling.oven.preset import shipped
from scheduling.oven.reading import ASKS, Suspicion
from scheduling.oven.stands import Stands
from tests.bot.wording.sample_values import (
    EARLY,
    LAST,
    MIDDLE,
    NOW,
    SOON,
    TODAY,
    TOMORROW,
    WARM_UP,
    plan_lines,
    shown,
)

_ANSWERS: dict[About, tuple[str, ...]] = {
    About.UNITS: ("C", "F"),
    About.PLACE: ("51.4500,-2.5900,Europe/London,Bristol", "51.4500,-2.5900,Europe/London"),
    About.CONSTRUCTION: ("brick-mortar",),
    About.WET_WORK: ("2026-05-12",),
    About.SIZE: ("700", "800", "900", "1000", "unknown"),
    About.THICKNESS: ("75", "unknown"),
    About.STANDS: ("sky", "sky+sheet", "sky+beside", "slats", "roof", "roof+beside", "indoors"),
    About.COVER: ("open", "sheet", "roof"),
    About.OPENINGS: ("plain+flue", "plain+no_flue", "insulated+flue", "none+no_flue"),
    About.DOOR: ("none", "plain", "insulated"),
    About.SHELTER: ("exposed", "part", "sheltered"),
    About.INSTRUMENT: ("330", "400", "550", "800", "none", "unknown"),
    About.DAYS: ("0123456", "56", "01234", "4"),
    About.HOURS: ("7-22", "9-18", "8.5-14"),
    About.SECOND: ("none", "invite"),
}


STANDS = tuple(Stands.read(one) for one in ("sky", "sky+beside", "slats", "roof+beside"))


def setting_up() -> Iterator[Meaning]:
    yield said.Welcome(name="Garden oven", builder=True, to_ask=11)
    yield said.Welcome(builder=True, by="Alder & Sons", to_ask=11)
    yield said.Welcome()
    yield said.Welcome(
        builder=True,
        by="Alder & Sons",
        to_ask=4,
        given=((About.CONSTRUCTION, "cast-dense"), (About.SIZE, "800"), (About.STANDS, "roof")),
    )
    for about, values in _ANSWERS.items():
        if about in REPLACED:  # still answered in old journals, and never asked again
            yield said.SetUpNoted(about=about, value=values[0])
            continue
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
    yield said.StandsIndoors()
    yield said.StandsIndoors(builder_told=True)
    yield said.FireIndoors(emergency="999", builder_told=True)
    yield said.FireIndoors()
    yield said.SetUpRefused(about=About.STANDS, value="<b>hat</b>", why="unknown_choice")
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


def before() -> Iterator[Meaning]:
    start = NOW + timedelta(days=1, hours=-1)
    for of in (EARLY, MIDDLE, LAST, WARM_UP):
        yield said.Eve(aim=of, day=TOMORROW, start=start, proposal="eve:1", first=of is EARLY)
        yield said.StillOn(aim=of, day=TOMORROW, start=start)
        yield said.MorningAsk(aim=of)
        yield said.HowToLay(aim=of, start_c=18.0)
        for stands in STANDS:
            yield said.HowToLay(aim=of, stands=stands, flue=True)
            yield said.Eve(
                aim=of, day=TOMORROW, start=start, proposal="eve:1", stands=stands, first=True
            )
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
    (Action.LOOK_FOR_SOOT, "soot", 1.5),
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


def fire() -> Iterator[Meaning]:
    yield said.LitNoted(aim=EARLY, lit_at=NOW, next_at=SOON)
    yield said.LitNoted(aim=MIDDLE, lit_at=NOW, next_at=SOON, read=False, flue=False)
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
    for pieces in (1, 4):
        yield said.Advice(
            action=Action.ADD, why=said.Why(what="burnt_down"), aim=EARLY, top_c=92.0,
            kg=0.3 * pieces, pieces=pieces, piece_mm=45.0, next_at=SOON,
        )  # fmt: skip
    yield said.Advice(
        action=Action.ADD, why=said.Why(what="not_burning"), aim=EARLY, top_c=70.0,
        kg=0.25, pieces=4, piece_mm=20.0, next_at=SOON,
    )  # fmt: skip
    yield said.Advice(
        action=Action.ADD_NOTHING, why=said.Why(what="not_burning"), aim=EARLY, top_c=70.0,
        next_at=SOON,
    )  # fmt: skip
    yield said.Nudge(aim=EARLY, ready_kg=0.42, ready_pieces=3, piece_mm=30.0)
    yield said.Nudge(
        aim=MIDDLE, ready_kg=0.5, ready_pieces=1, piece_mm=60.0, expect_c=(240.0, 255.0)
    )
    yield said.Nudge(aim=EARLY, side=True, ready_kg=0.42, ready_pieces=3, piece_mm=30.0)
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
    yield said.Unattended(minutes=47.0, read=False)
    yield said.WelcomeBack(away_minutes=55.0)
    yield said.WelcomeBack(away_minutes=2.0)
    yield said.WelcomeBack(read=False)
    for short in (True, False):
        yield said.LeavingFire(lit=True, short=short, back_at=SOON)
        yield said.LeavingFire(lit=True, short=short, second=True)
        yield said.BackAsked(repeat=short)
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
