"""Sentences when something is wrong: the action always before the reason."""

from bot.wording import buttons
from bot.wording.buttons import Button
from bot.wording.measures import Measures, minutes
from bot.wording.speech import Sentences, bold, joined, parcel, says
from bot.wording.stands import in_wind
from bot.wording.terms import FIRE_RULES, wind
from scheduling.meaning import (
    CrackTold,
    InstrumentBlind,
    InstrumentMissing,
    SignTold,
    SkyNow,
    TooHot,
)
from scheduling.ports import Parcel
from scheduling.remark import CrackSize, Sky


def crack(said: CrackTold, _: Measures) -> Parcel:
    """A crack, by its size."""
    photo = None
    if not said.photo:
        photo = (
            "Send me a photo from where you stand; nearer only once all is cold."
            if said.lit
            else "Send me a photo, with a coin beside it."
        )
    wide = "is it wide enough for a fingernail" if said.lit else "does a fingernail go into it"
    match said.size:
        case CrackSize.HAIRLINE:
            pace = "Carry on as planned, no faster." if said.lit else "Nothing to do but note it."
            return parcel(
                joined(pace, "A hairline is to be expected while an oven dries."),
                joined(
                    "Watch it, and do not touch: the wall is hot." if said.lit else "Watch it.",
                    "If it gets wide enough for a fingernail, or grows, add nothing and tell me.",
                    photo,
                ),
                buttons=[[buttons.crack_sizes()[1]]],
            )
        case CrackSize.OPEN:
            first = (
                "Add nothing, and let the fire fall by itself. No water, no raking."
                if said.lit
                else "No fire for now."
            )
            told = (
                "Your builder has been told."
                if said.lit
                else "I am telling your builder; at night it waits for the morning."
            )
            return parcel(
                first,
                joined(
                    "An open crack has to be looked at before the next fire.",
                    told if said.builder_told else "Show it to somebody who builds ovens.",
                ),
                photo,
                buttons=_no_crack(said),
            )
        case CrackSize.UNSAID:
            meanwhile = (
                "Add nothing for now. Judge it by eye, without touching: the wall is hot."
                if said.lit
                else None
            )
            return parcel(
                joined(meanwhile, f"The crack: {wide}, or is it growing?"),
                photo,
                buttons=[list(buttons.crack_sizes()), *_no_crack(said)],
            )


def _no_crack(said: CrackTold) -> list[list[Button]]:
    """The way out for whoever told of none."""
    if said.misread_as is None or said.since is None:
        return []
    return [[buttons.misheard(said.misread_as, said.since)]]


_SIGNS_LIT = {
    "steam": "Carry on as you are, no faster. Steam is water leaving the wall, just what small "
    "fires are for.",
    "damp": "Carry on as you are, no faster. Damp patches are water on its way out.",
    "smoke": "Give it air: door off, nothing blocking the mouth, and keep out of the smoke "
    "yourself. If any drifts into a house or a shed, get everybody out of there: it carries carbon "
    "monoxide. When wood is next asked for, choose the driest and thinnest.",
    "too_big": "Rake the fire apart, flat over the floor, and add nothing. I’ll ask for a reading "
    "in ten minutes.",
    "wood_out": "Let it burn down with what it has: nothing is spoilt. Never burn treated, "
    "painted or green wood instead.",
    "soot_clear": "Good: the soot burns off, and the bare wall shows. Nothing more is needed; keep "
    "to what I ask.",
    "soot_black": "Nothing to do: soot stays until the last and hottest fire. Keep to what I ask.",
}

_SIGNS_UNLIT = {
    "steam": "Nothing to do: with no fire that is only the last warmth driving water out.",
    "damp": "Nothing to do but keep rain off it. Damp patches are water on its way out.",
    "smoke": "Make sure that nothing is burning in there. If something is, tell me.",
    "too_big": "No fire burns as far as I know. If one does, add nothing and tell me.",
    "wood_out": "Get dry wood in before the next fire, split and kept under cover.",
    "soot_clear": "Noted: the soot is gone.",
    "soot_black": "Noted. The last and hottest fire takes it, or later ones do.",
}


def instrument_missing(said: InstrumentMissing, _: Measures) -> Parcel:
    """Nobody can read the dome."""
    return parcel(
        "Add nothing more: without a number neither of us knows how hot the dome is. Let the fire "
        "burn down, and stay with it."
        if said.lit
        else "Light nothing without it: this oven is led by what its dome reads.",
        "If it comes back, send me the top. If not, tell me so under “thermometer” in /settings: "
        "then I go by the clock, with smaller fires and more of them.",
        buttons=[[buttons.fire_out(), buttons.leaving()]] if said.lit else [],
    )


def sign(said: SignTold, _: Measures) -> Parcel:
    """A sign, and what to do with the fire."""
    if said.lit and said.much and said.what in ("steam", "damp"):
        return parcel(
            "Add nothing for now. Steam is welcome, but this much wants a slower fire.",
            "Send me the top of the dome, and stand clear of the mouth.",
            buttons=[[buttons.something_wrong(), buttons.leaving()]],
        )
    if said.lit and said.early and said.what == "soot_clear":
        return parcel(
            "Add nothing, and send me a reading of the top.",
            "Soot burns off only when a dome is very hot, and that is too early for a wet wall.",
        )
    told = (_SIGNS_LIT if said.lit else _SIGNS_UNLIT)[said.what]
    return parcel(told, buttons=_sign_buttons(said))


def _sign_buttons(said: SignTold) -> list[list[Button]]:
    if not said.lit:
        return [[buttons.fire_burning()]] if said.what in ("smoke", "too_big") else []
    if said.what == "smoke":
        return [[buttons.something_wrong(), buttons.fire_out()]]
    if said.what == "wood_out":
        return [[buttons.fire_out()]]
    return [[buttons.take_back(), buttons.leaving()]]


def too_hot(said: TooHot, m: Measures) -> Parcel:
    """Well above the band."""
    steam = (
        "The water in the wall is turning to steam faster than it can get out."
        if said.steam_share is not None and said.steam_share >= 1.0
        else None
    )
    return parcel(
        "From the side of the mouth, rake the fire apart, flat over the floor, and add nothing.",
        joined(
            f"The top stands at {bold(m.degrees(said.top_c))}, and "
            f"{m.about_degrees(said.limit_c)} is the most for today.",
            steam,
        ),
        f"Keep to the side: a wet wall can spit. Read again in {minutes(said.minutes)}.",
        buttons=[[buttons.fire_out(), buttons.something_wrong()]],
    )


def sky(said: SkyNow, _: Measures) -> Parcel:
    """Weather during a fire."""
    near = in_wind(said.stands) if said.what in (Sky.WIND, Sky.GALE) else None
    return parcel(_sky(said), near, buttons=[[buttons.fire_out(), buttons.leaving()]])


def _sky(said: SkyNow) -> str:
    blows = f" ({wind(said.wind_ms)})" if said.wind_ms is not None else ""
    match said.what:
        case Sky.RAIN | Sky.SOAKED | Sky.SNOW:
            if said.covered and said.what is not Sky.SOAKED:
                return "Carry on under the roof, no faster, and tell me if it blows in on the oven."
            return (
                "No more wood: let it burn down. Once only embers are left, put the door on, and "
                "cover the oven only when it is cold."
            )
        case Sky.WIND:
            return (
                f"Watch where the sparks fly{blows}, and keep the water close. When wood is next "
                "asked for, choose smaller, dry pieces."
            )
        case Sky.GALE:
            return (
                f"No more wood. Rake the fire flat and stay until it is out: in a gale{blows} "
                "sparks go far. If something catches, call the fire service at once."
            )
        case Sky.HEAT:
            return f"Keep water close, and check today’s fire rules again. {FIRE_RULES}"
        case Sky.FROST:
            return "Carry on, no faster. Once the fire is down to embers, the door keeps frost out."
        case Sky.DRY:
            return "Good: dry again. Carry on as before, no faster. I’ll ask for a reading shortly."


def blind(said: InstrumentBlind, m: Measures) -> Parcel:
    """The thermometer is at its end."""
    return parcel(
        "No more wood today: let it burn down.",
        f"Your thermometer ends at {bold(m.degrees(said.max_c))}, and beyond that neither of us "
        "can see what the wall does.",
        buttons=[[buttons.fire_out(), buttons.leaving()]],
    )


SENTENCES: Sentences = dict(
    (
        says(CrackTold, crack),
        says(InstrumentMissing, instrument_missing),
        says(SignTold, sign),
        says(TooHot, too_hot),
        says(SkyNow, sky),
        says(InstrumentBlind, blind),
    )
)
