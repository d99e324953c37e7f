"""Sentences while a fire burns."""

from bot.wording import buttons
from bot.wording.advising import advice, ready
from bot.wording.buttons import Button
from bot.wording.measures import (
    Measures,
    counted,
    degree_figure,
    held,
    hours,
    minutes,
    times,
    wood,
)
from bot.wording.speech import Sentences, bold, joined, parcel, says
from bot.wording.stands import flames_out
from bot.wording.terms import aim_sentence
from scheduling.firing.aim import Action
from scheduling.meaning import (
    Advice,
    BackAsked,
    Doubtful,
    FiringStatus,
    LeavingFire,
    LitNoted,
    Nudge,
    StokeNoted,
    Unattended,
    WelcomeBack,
)
from scheduling.oven.reading import Ask, Suspicion
from scheduling.ports import Parcel
from scheduling.remark import Reading

CO_HINT = (
    "Headache, dizziness or feeling sick by a fire can be carbon monoxide: walk away into fresh "
    "air first, then tap “Unwell or burnt”."
)


def lit_noted(said: LitNoted, m: Measures) -> Parcel:
    """The fire is lit."""
    look = (
        f"First reading {bold(m.at_clock(said.next_at))}."
        if said.read
        else f"I’ll write {bold(m.at_clock(said.next_at))} with what to do."
    )
    return parcel(
        f"Lit {m.at_clock(said.lit_at)}. Leave it alone to burn, door off, and stay close.",
        joined(look, aim_sentence(said.aim, m)),
        joined(
            "The first smoke and a little steam are normal. Popping, a crack or "
            f"{flames_out(said.flue)} are not: tell me at once.",
            CO_HINT,
        ),
        buttons=[[buttons.fire_out(), buttons.something_wrong()]],
    )


def nudge(said: Nudge, m: Measures) -> Parcel:
    """Time to read; without a thermometer, time to look and perhaps to feed."""
    late = (
        f"Sorry, this comes {minutes(said.late_minutes)} late."
        if said.late_minutes >= 5.0
        else None
    )
    if said.read:
        return _read_nudge(said, m, late)
    if said.kg is None:
        return parcel(
            joined(
                "I have not heard from you." if said.repeat else late,
                "Look at the fire, please, and tell me: flames, embers or out? "
                "Add nothing meanwhile.",
            ),
            buttons=[
                [buttons.back_calm(), buttons.fire_out()],
                [buttons.too_big(), buttons.something_wrong()],
            ],
        )
    amount = wood(said.kg, said.piece_mm or said.aim.piece_mm, said.pieces)
    return parcel(
        "Look first. Popping, a crack, thick steam or a roaring fire? Then leave the wood where it "
        "is and tell me.",
        f"Put on {bold(amount)} now, gently, on the embers, if it burns calmly.",
        buttons=[
            [buttons.fed(said.pieces), buttons.wood_out()],
            [buttons.too_big(), buttons.leaving()],
        ],
    )


def _read_nudge(said: Nudge, m: Measures, late: str | None) -> Parcel:
    opening = "Are you there?" if said.repeat else late
    expected = (
        f"I expect about {m.degrees_range(*said.expect_c)}." if said.expect_c is not None else None
    )
    return parcel(
        joined(opening, "What does the top of the dome read now?", expected),
        f"And the coldest spot low on the sides? Both in one line: {m.example_top_and_sides}."
        if said.side
        else None,
        ready(said.ready_kg, said.ready_pieces, said.piece_mm or said.aim.piece_mm)
        if not said.repeat and said.late_minutes < 5.0
        else "Nothing goes on before I have seen the number.",
        buttons=[[buttons.ten_minutes(), buttons.fire_out()], [buttons.leaving()]],
    )


_DOING = {
    Action.WAIT: "leave it as it is",
    Action.ADD: "wood, as just told",
    Action.ADD_NOTHING: "no wood for now",
    Action.SPREAD: "fire to be raked flat, no wood",
    Action.LET_FALL: "no wood, let it fall",
    Action.READ_AGAIN: "waiting for a fresh number",
    Action.LOOK_FOR_SOOT: "look whether the soot is gone",
    Action.HOLD_DONE: "no more wood, burning down",
    Action.SHUT_DOOR: "embers; the door once no flame is left",
    Action.STOP: "no more wood, letting it die",
}


def status(said: FiringStatus, m: Measures) -> Parcel:
    """The one status message of a firing. It reports, and asks for nothing."""
    shown = said.shown
    believed = [one for one in shown.readings if one.believed and one.top_c is not None]
    told = [
        f"Fire {shown.aim.number}, lit {m.at_clock(shown.lit_at)}",
        f"Aim: {m.about_degrees(shown.aim.plateau_c)} for {hours(shown.aim.hold_h)}",
    ]
    if believed and believed[-1].top_c is not None:
        told.append(f"Top: {bold(m.degrees(believed[-1].top_c))} at {m.hour(believed[-1].at)}")
    if shown.held_h > 0:
        so_far = "Held" if shown.ended_at is not None else "Held so far"
        told.append(f"{so_far}: {held(shown.held_h)}")
    if shown.stokes:
        told.append(f"Stoked: {times(len(shown.stokes))}")
    if shown.ended_at is not None:
        if shown.peak_c is not None:
            told.append(f"Hottest: {m.degrees(shown.peak_c)}")
        told.append(f"Over {m.at_clock(shown.ended_at)}")
        return parcel("\n".join(told))
    if said.action is not None:
        told.append(f"Now: {_DOING[said.action]}")
    if said.next_at is not None and said.next_at > m.now:
        told.append(f"Next look: {m.clock(said.next_at)}")
    return parcel(
        "\n".join(told),
        buttons=[[buttons.what_now(), buttons.leaving()], [buttons.something_wrong()]],
        pin=True,
    )


# ---------------------------------------------------------------- a number that is not believed


def doubtful(said: Doubtful, m: Measures) -> Parcel:
    """A reading that is not believed. Nothing is ever added on it."""
    meanwhile = None
    if said.lit:
        meanwhile = (
            "Until we know, take it as too hot: add nothing and let the fire fall."
            if said.at_least
            else "Add nothing meanwhile."
        )
    return parcel(
        joined(_ask(said, m), meanwhile),
        joined(_against(said, m), "I have not used it."),
        buttons=_doubt_buttons(said),
    )


def _ask(said: Doubtful, m: Measures) -> str:
    match said.ask:
        case Ask.READ_AGAIN:
            return "Read the same spot once more, please, and send what it shows."
        case Ask.AIM_BESIDE_THE_FLAME:
            return (
                "Read it again, please, with the spot on bare wall beside the flames: through a "
                "flame the thermometer reads the flame."
            )
        case Ask.WHICH_UNIT:
            if said.shown_c is None:
                return "Was that in °C or in °F? Send it once more with its unit."
            return f"Was that in °C or in °F? I took it as {bold(m.degrees(said.shown_c))}."
        case Ask.WHICH_TIME:
            return "When was that read? If it was just now, send it once more."
        case Ask.WHICH_SPOT:
            return (
                "Which number is the top of the dome? Please read the top once more, then one "
                f"side, and send them like “{m.example_top_and_sides}”."
            )
        case Ask.IS_IT_LIT:
            return "Is a fire burning? Or did the sun shine into the mouth?"


def _against(said: Doubtful, m: Measures) -> str | None:
    shown = "It" if said.shown_c is None else f"{m.degrees(said.shown_c)}"
    possible = (
        f"; {m.degrees_range(*said.possible_c)} would be possible there"
        if said.possible_c is not None
        else ""
    )
    match said.suspicion:
        case Suspicion.NOT_A_NUMBER | Suspicion.NOTHING_READ:
            return "I could not find a temperature in it."
        case Suspicion.IN_THE_FUTURE:
            return "Its time is still to come."
        case Suspicion.OUT_OF_ORDER:
            return "It is older than one I have already."
        case Suspicion.ABOVE_RANGE:
            return f"{shown} is the end of what your thermometer can show; the wall may be hotter."
        case Suspicion.BELOW_RANGE:
            return f"{shown} is below what your thermometer can show."
        case Suspicion.BELOW_AIR:
            return f"{shown} is colder than the air around it."
        case Suspicion.TOO_HOT | Suspicion.OTHER_UNIT:
            return f"{shown} does not fit what the dome can be now{possible}."
        case Suspicion.FLAME_IN_SPOT:
            return f"{shown} is more than a wall can gain in that time{possible}."
        case Suspicion.ROSE_UNLIT:
            return f"{shown} is warmer than a dome gets without a fire{possible}."
        case Suspicion.FELL_TOO_FAST:
            return f"{shown} is a faster fall than a wall can cool{possible}."
        case Suspicion.TWO_AT_ONCE:
            return "I have two different numbers for the same moment."
        case Suspicion.CROWN_AGAINST_SIDES:
            return "The top and the sides do not fit together."


def _doubt_buttons(said: Doubtful) -> list[list[Button]]:
    if said.ask is Ask.IS_IT_LIT:
        return [[buttons.fire_burning(), buttons.no_fire()]]
    if said.ask is Ask.WHICH_UNIT and said.likely_c is not None and said.shown_c is not None:
        likely = buttons.say(
            f"It was {_as_typed(said.shown_c, said.likely_c)}",
            Reading(top_c=said.likely_c, at=said.at, unit_named=True),
        )
        as_taken = buttons.say(
            f"It was {_as_typed(said.likely_c, said.shown_c)}",
            Reading(top_c=said.shown_c, at=said.at, unit_named=True),
        )
        return [[likely, as_taken], [buttons.take_back()]]
    return [[buttons.take_back()]]


def _as_typed(shown_c: float, likely_c: float) -> str:
    """The figure that was typed, with the other unit. A number taken for °C that was °F comes
    out lower, one taken for °F that was °C comes out higher."""
    if likely_c < shown_c:
        return f"{degree_figure(shown_c)} °F"
    return f"{degree_figure(shown_c * 1.8 + 32.0)} °C"


# ---------------------------------------------------------------- wood, silence, leaving


def stoked(said: StokeNoted, m: Measures) -> Parcel:
    """Wood put on is noted."""
    amount = "Wood on" if said.pieces is None else f"{counted(said.pieces, 'piece')} on"
    if said.next_at is None:
        if said.too_much:
            return parcel(
                f"Noted: {amount.lower()}. No more wood now, please: this fire is to burn down. "
                "If it flares up, rake it flat.",
                buttons=[[buttons.take_back(), buttons.fire_out()]],
            )
        return parcel(
            "I know of no fire today. If one burns, let it be, add nothing more, and tell me.",
            buttons=[[buttons.fire_burning(), buttons.take_back()]],
        )
    at = bold(m.at_clock(said.next_at))
    look = f"Next reading {at}." if said.read else f"I’ll write again {at}."
    if said.too_much:
        told = "That is more than I asked for: no more now, and if it flares, rake it flat."
    elif said.unasked:
        told = "I had not asked for it, so no more until we have seen what it does."
    else:
        told = None
    return parcel(
        joined(f"Noted: {amount.lower()}.", told, look),
        buttons=[[buttons.take_back(), buttons.leaving()]],
    )


def unattended(said: Unattended, _: Measures) -> Parcel:
    """The fire counts as unattended."""
    first = "read the top" if said.read else "looked at the fire"
    return parcel(
        f"Add nothing before you have {first} and told me.",
        f"I have heard nothing for {bold(minutes(said.minutes))}, so I take it that nobody "
        "is with the fire, and ask only once an hour. Write at any time; whatever you see helps.",
        buttons=[[buttons.back(), buttons.fire_out()], [buttons.something_wrong()]],
    )


def welcome_back(said: WelcomeBack, _: Measures) -> Parcel:
    """Somebody is back."""
    away = (
        f"Welcome back, after {minutes(said.away_minutes)}."
        if said.away_minutes is not None and said.away_minutes >= 10.0
        else "Welcome back."
    )
    if said.read:
        return parcel(
            joined(away, "Add nothing yet: what does the top of the dome read now?"),
            buttons=[[buttons.only_embers()]],
        )
    return parcel(joined(away, "No fire burns as far as I know."), buttons=[[buttons.what_now()]])


def leaving(said: LeavingFire, m: Measures) -> Parcel:
    """Somebody leaves the fire."""
    if not said.lit:
        return parcel("Go ahead, if you see no flame: as far as I know no fire burns.")
    looked_for = f"I’ll look for you {m.at_clock(said.back_at)}." if said.back_at else None
    if said.short:
        return parcel(
            "Put nothing on before you go. See that nothing burns at the edge of the mouth, and "
            "that no child or animal stays near it.",
            joined("I ask for nothing while you are away.", looked_for),
            buttons=[[buttons.back()]],
        )
    second = (
        "Ask the other person who tends it to stand in for you, and wait until they are there."
        if said.second
        else "If another grown-up can stand by it, ask them."
    )
    return parcel(
        "Do not leave it while there are flames. Rake the fire flat, add nothing, and wait until "
        "only embers are left.",
        "That takes about half an hour. Then put the door on, if you have one, and clear what can "
        "burn from the mouth.",
        joined(second, looked_for),
        buttons=[[buttons.only_embers(), buttons.door_on()], [buttons.back()]],
    )


def back_asked(said: BackAsked, _: Measures) -> Parcel:
    """Are they back?"""
    again = "I have had no answer. " if said.repeat else ""
    return parcel(
        f"{again}Are you back at the fire? Put nothing on before I know how it stands.",
        "Look first that nothing burns outside the oven; then send me the top as a number.",
        buttons=[[buttons.back(), buttons.fire_out()], [buttons.something_wrong()]],
    )


SENTENCES: Sentences = dict(
    (
        says(LitNoted, lit_noted),
        says(Advice, advice),
        says(Nudge, nudge),
        says(FiringStatus, status),
        says(Doubtful, doubtful),
        says(StokeNoted, stoked),
        says(Unattended, unattended),
        says(WelcomeBack, welcome_back),
        says(LeavingFire, leaving),
        says(BackAsked, back_asked),
    )
)
