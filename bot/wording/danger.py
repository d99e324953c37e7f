"""Sentences when something is wrong: the action always before the reason."""

from bot.wording import buttons
from bot.wording.measures import Measures, minutes
from bot.wording.speech import Sentences, bold, joined, parcel, quoted, says
from bot.wording.stands import in_wind
from bot.wording.terms import FIRE_RULES, to_look_at, wind
from scheduling.meaning import (
    CrackTold,
    DangerStays,
    FlueFlames,
    InstrumentBlind,
    InstrumentMissing,
    OnHold,
    Popping,
    SignTold,
    SkyNow,
    TooHot,
    TroubleOver,
    Unwell,
)
from scheduling.ports import Parcel
from scheduling.remark import CrackSize, Sky


def _number(emergency: str | None) -> str:
    return f"Call {bold(emergency)}" if emergency else bold("Call your emergency number")


def unwell(said: Unwell, _: Measures) -> Parcel:
    """Somebody is unwell or burnt: people first, the fire not at all."""
    fire = "Leave the fire: it can burn out by itself." if said.lit else None
    return parcel(
        "Get away from the fire into fresh air now, everybody with you.",
        f"{_number(said.emergency)} now, and say “carbon monoxide” or “burn”. Call even if it is "
        "getting better.",
        "A burn: hold it under cool running water for 20 minutes. No ice, no cream, and take "
        "rings off.",
        joined(fire, "Stay together, and do not go back to the oven. Write when you are safe."),
    )


def flue_flames(said: FlueFlames, _: Measures) -> Parcel:
    """Flames into the flue."""
    return parcel(
        "Stand the door in the mouth, if you have one and get to it safely: that starves the fire "
        "of air. Then step well back, out of the smoke.",
        f"{_number(said.emergency)} for the fire service at once if it roars, throws sparks or you "
        "are in doubt, and in any case if it has not died down within a minute.",
        "No water into the hot flue: it bursts. Nothing more goes on this fire. Keep people away "
        "from the chimney.",
        buttons=[[buttons.fire_out(), buttons.unwell()]],
    )


def popping(said: Popping, _: Measures) -> Parcel:
    """The wall sheds."""
    first = (
        "Stand back from the mouth and add nothing: let the fire die by itself."
        if said.lit
        else "Light nothing, and keep your face away from the mouth."
    )
    told = "Your builder has been told and will come back to you." if said.builder_told else None
    return parcel(
        first,
        "Popping or flaking means steam is pushing bits off the wall, and they fly. No water, no "
        "raking.",
        joined("No fire follows until somebody has looked at it cold.", told),
        "A photo helps, once it is cold and quiet.",
        buttons=[[buttons.fire_out(), buttons.unwell()]] if said.lit else [],
    )


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
            told = "Your builder has been told." if said.builder_told else None
            return parcel(
                first,
                joined(
                    "An open crack has to be looked at before the next fire.",
                    told or "Show it to somebody who builds ovens.",
                ),
                photo,
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
                buttons=[list(buttons.crack_sizes())],
            )


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
            buttons=[[buttons.unwell(), buttons.leaving()]],
        )
    if said.lit and said.early and said.what == "soot_clear":
        return parcel(
            "Add nothing, and send me a reading of the top.",
            "Soot burns off only when a dome is very hot, and that is too early for a wet wall.",
        )
    told = (_SIGNS_LIT if said.lit else _SIGNS_UNLIT)[said.what]
    return parcel(told, buttons=_sign_buttons(said))


def _sign_buttons(said: SignTold) -> list[list[buttons.Button]]:
    if not said.lit:
        return [[buttons.fire_burning()]] if said.what in ("smoke", "too_big") else []
    if said.what == "smoke":
        return [[buttons.unwell(), buttons.fire_out()]]
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
        buttons=[[buttons.fire_out(), buttons.unwell()]],
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


def on_hold(said: OnHold, _: Measures) -> Parcel:
    """No firing for now."""
    fire = "Add nothing, and let the fire die by itself." if said.lit else "No fire for now."
    if said.why == "held":
        words = f"Your builder says: {quoted(said.reason)}" if said.reason else None
        return parcel(joined(fire, "Your builder has put all fires on hold."), words)
    if said.why == "instrument":
        return parcel(
            fire,
            "Your thermometer cannot show what comes next. Get one that reads higher, and tell me.",
        )
    trouble = "mortar" if said.why == "mortar" else said.trouble
    asked, answers = _look(said, trouble)
    if trouble == "unwell" and asked:
        return parcel(asked, fire, buttons=answers)
    waits = (
        "First everybody has to be well and safe again."
        if trouble == "unwell"
        else f"Somebody has to look at {to_look_at(trouble)} first. Ask whoever built it."
    )
    return parcel(fire, asked or waits, buttons=answers)


def _look(said: OnHold, trouble: str | None) -> tuple[str, list[list[buttons.Button]]]:
    """The question to an owner alone, and its buttons; nothing where somebody else decides."""
    if not said.ask_look or said.proposal is None:
        return "", []
    asked = (
        f"Have you looked at {to_look_at(trouble)}, cold and by daylight, and is all sound? If "
        "you are not sure, ask somebody who builds ovens before you say yes."
    )
    good, bad = "Yes, all sound", "No, or not sure"
    if trouble == "unwell":
        asked = (
            "Is everybody well and safe again? If not, stay away from the oven and call your "
            "emergency number."
        )
        good, bad = "Yes, all well", "No, not yet"
    return asked, [
        [
            buttons.confirm(good, said.proposal, yes=True),
            buttons.confirm(bad, said.proposal, yes=False),
        ]
    ]


def danger_stays(said: DangerStays, _: Measures) -> Parcel:
    """A danger is looked at, not taken back."""
    if not said.stands:
        return parcel(
            "A danger stays in the book, even once it is over. Nothing changes by that.",
            buttons=[[buttons.what_now()]],
        )
    if said.trouble == "unwell":
        return parcel(
            "Stay in fresh air, and leave the fire alone until everybody is well and safe.",
            "I don’t take that one back, to be on the safe side. If it was a slip, good: say so "
            "when I ask whether everybody is well.",
        )
    fire = "Add nothing, and let the fire die by itself." if said.lit else "No fire for now."
    return parcel(
        fire,
        "A danger is not taken back, to be on the safe side: somebody looks at "
        f"{to_look_at(said.trouble)} first, once all is cold. If it was a slip, good: that look "
        "is soon done.",
        buttons=[[buttons.fire_out(), buttons.unwell()]] if said.lit else [],
    )


def trouble_over(said: TroubleOver, _: Measures) -> Parcel:
    """A trouble was closed."""
    opening = (
        "Good that everybody is well again."
        if said.what == "unwell"
        else f"Good: {to_look_at(said.what)} has been looked at."
    )
    return parcel(
        f"{opening} Fires may go on, and the next one goes no hotter than the last.",
        "If anything of it shows again, add nothing and tell me.",
        buttons=[[buttons.what_now()]],
    )


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
        says(Unwell, unwell),
        says(FlueFlames, flue_flames),
        says(Popping, popping),
        says(CrackTold, crack),
        says(InstrumentMissing, instrument_missing),
        says(SignTold, sign),
        says(TooHot, too_hot),
        says(SkyNow, sky),
        says(OnHold, on_hold),
        says(DangerStays, danger_stays),
        says(TroubleOver, trouble_over),
        says(InstrumentBlind, blind),
    )
)
