"""The one action after a reading or a sign: what to do, why, and what to expect."""

from bot.wording import buttons
from bot.wording.buttons import Button
from bot.wording.measures import Measures, held, hours, minutes, wood
from bot.wording.speech import bold, joined, parcel
from bot.wording.terms import band
from scheduling.firing.aim import Action, WhyGentler
from scheduling.firing.wood import piece_kg
from scheduling.meaning import Advice
from scheduling.ports import Parcel

JUST_NOW_MINUTES = 3.0
"""So soon after wood was asked for it may still be in somebody's hands."""


def advice(said: Advice, m: Measures) -> Parcel:
    """One action, its reason, and the next look."""
    late = "Good to hear from you." if said.late else None
    return parcel(
        joined(late, _action(said, m)),
        joined(_read(said, m), _why(said, m), _gentler(said)),
        _next(said, m),
        buttons=_buttons(said),
    )


def _action(said: Advice, m: Measures) -> str:
    match said.action:
        case Action.ADD:
            return _add(said)
        case Action.WAIT:
            return "Leave the fire as it is."
        case Action.ADD_NOTHING:
            return "Add nothing for now."
        case Action.SPREAD:
            return _spread(said)
        case Action.LET_FALL:
            return f"Add nothing, and let it fall to about {m.about_degrees(said.aim.plateau_c)}."
        case Action.READ_AGAIN:
            return (
                "Read the top once more, please: bare wall, beside the flames and not through "
                "them. Nothing goes on before that."
            )
        case Action.LOOK_FOR_SOOT:
            return (
                "Look in from the side, out of the heat: has the soot burnt off everywhere, low on "
                "the sides too, so that you see bare wall?"
            )
        case Action.HOLD_DONE:
            return "This fire has done its work: no more wood, let it burn down to embers."
        case Action.SHUT_DOOR:
            return _shut_door(said)
        case Action.STOP:
            return "Stop here: add nothing, and let the fire die with the mouth open."


def _add(said: Advice) -> str:
    """The only place where wood is asked for after a reading."""
    piece_mm = said.piece_mm or said.aim.piece_mm
    kilograms = said.kg if said.kg is not None else (said.pieces or 1) * piece_kg(piece_mm)
    amount = bold(wood(kilograms, piece_mm, said.pieces))
    if said.why.what == "not_burning":
        return (
            "First look in from the side: smoke that hangs in there can catch all at once, so let "
            "it clear. Then pull together what lies there, with the rake.\n\n"
            f"Put on {amount} and a twist of paper. Light the paper at arm’s length, gloves on, "
            "face to the side, and see that it flames. No petrol or spirit."
        )
    if said.why.what == "burnt_down":
        thin = "split thin, and see that it flames"
        if said.pieces != 1:
            thin = "a few of them split thin and laid first, and see that they flame"
        return (
            f"Put on {amount} now, gently, on the embers, {thin}. Keep your face out "
            "of the mouth: what smokes can catch all at once. No petrol or spirit."
        )
    return f"Put on {amount} now, gently, on the embers."


def _spread(said: Advice) -> str:
    match said.why.what:
        case "hot_side":
            return "Rake the fire away from the hot side, to the middle, and add nothing."
        case "hot_crown":
            return "Rake the fire apart, flat towards the colder side, and add nothing."
        case _:
            return "Rake the fire apart, flat over the floor, and add nothing."


def _shut_door(said: Advice) -> str:
    embers = "Spread the embers evenly over the floor. " if said.aim.last else ""
    look = (
        "\n\nBefore the door goes on, look in from the side, out of the heat: is the soot burnt "
        "off, so that you see bare wall?"
    )
    return (
        f"{embers}When no flame is left, shut the door if you have one, and leave it overnight. "
        "With flames still in, wait: it would smoke and make carbon monoxide."
        f"{look if said.look else ''}"
    )


def _read(said: Advice, m: Measures) -> str | None:
    if said.top_c is None or said.why.what in ("doubtful", "missing", "stale"):
        return None
    return f"The top stands at {m.degrees(said.top_c)}."


def _why(said: Advice, m: Measures) -> str | None:
    amount = said.why.amount
    told = _why_by_number(said, m, amount) if amount is not None else None
    return told or _why_by_name(said, m)


def _why_by_number(said: Advice, m: Measures, amount: float) -> str | None:
    match said.why.what:
        case "climbing":
            return f"It climbs by about {m.rate(amount)} on its own."
        case "too_fast":
            return f"It climbs by {m.rate(amount)}, faster than a wet wall likes."
        case "too_slow":
            return f"It climbs by only {m.rate(amount)}." if amount >= 2.5 else None
        case "below_band":
            return f"It is {m.difference(amount)} short of its range ({band(said.aim, m)})."
        case "in_band" | "hold_done" | "soot":
            keep = " A little keeps it there." if said.action is Action.ADD else ""
            return f"It has been in the range ({band(said.aim, m)}) for {_held(said)}.{keep}"
        case "above_band":
            return f"That is {m.difference(amount)} more than this wall should have."
        case "hot_side":
            return f"One side is {m.difference(amount)} hotter than the top."
        case "hot_crown":
            return f"The top is {m.difference(amount)} hotter than the coldest side."
        case "cooling":
            return f"It cools by {m.rate(amount)}."
        case "stale":
            return f"Your last reading is {minutes(amount)} old."
        case "just_fed" if amount < JUST_NOW_MINUTES:
            return (
                "The wood I just asked for has not shown yet what it does; if it is not on yet, "
                "leave it off until the next reading."
            )
        case "session":
            return f"It has burnt for {hours(amount)}, and that is enough for one day."
        case _:
            return None


def _held(said: Advice) -> str:
    if said.held_h < 0.05:
        return f"only a moment, of {hours(said.aim.hold_h)}"
    if said.held_h >= said.aim.hold_h:
        return f"its {hours(said.aim.hold_h)}"
    return f"{held(said.held_h)} of {held(said.aim.hold_h)}"


_BY_NAME = {
    "too_slow": "It hardly climbs.",
    "steam": "The water in the wall is turning to steam about as fast as it can get out.",
    "doubtful": "I am not sure of the last number, so I go by none.",
    "missing": "I have no reading of the top to go by.",
    "indoors": "No fire is led indoors: carbon monoxide, and walls that burn.",
    "held": "Your builder has put all fires on hold.",
    "trouble": "What you reported has to be settled first.",
    "hazard": "First tell me how what you reported stands.",
    "unheard": "First tell me whether all is well.",
    "cure": "The mortar is not ready for a fire.",
    "restricted": "A local fire restriction holds: follow your fire service.",
    "forbidden": "Your builder wants no fire today.",
    "weather": "The weather is against it.",
    "away": "You told me that you would be away.",
    "silent": "Nobody answered for a while, so I go carefully.",
    "wood_out": "What is in there has to do.",
    "wind": "The wind drives it.",
    "damp": "Water is coming out of the wall, and needs time.",
    "smoke": "It smokes: it wants air, and dry wood later.",
    "flue": "There were flames in the flue.",
    "too_big": "It is too big a fire for a wet wall.",
    "finishing": "This fire is on its way out.",
    "approximate": "The reading was only rough, so I go by the gentler side of it.",
    "just_fed": "The last wood has not shown yet what it does.",
    "just_lit": "It was only just lit, and has not shown yet what it does.",
    "plan": "Without a thermometer I go by the clock.",
    "not_burning": "What lies in there has hardly warmed the dome: it smoulders. Keep out of its "
    "smoke.",
    "lower": "That is lower than I expected, and wood would follow.",
    "burnt_down": "The fire has burnt low.",
    "in_band": "It is where it should be.",
    "hold_done": "It has had its time.",
    "session": "It has burnt long enough for one day.",
    "above_band": "It is hotter than this wall should have.",
    "stale": "Your last reading is too old to go by.",
}


def _why_by_name(said: Advice, m: Measures) -> str | None:
    if said.why.what == "below_band":
        return f"Its range is {band(said.aim, m)}."
    return _BY_NAME.get(said.why.what)


_GENTLER = {
    WhyGentler.MODEL: "The rule of thumb would allow more; I go by the water in your wall.",
    WhyGentler.RULE: "The rule of thumb is gentler than my sums, so I go by that.",
    WhyGentler.BUILDER: "Your builder’s own limit is the gentler, and counts.",
}


def _gentler(said: Advice) -> str | None:
    return None if said.gentler is None else _GENTLER.get(said.gentler)


def _next(said: Advice, m: Measures) -> str | None:
    if said.next_at is None:
        return None
    clock = m.at_clock(said.next_at)
    at = bold(clock) if said.action is not Action.ADD else clock
    match said.action:
        case Action.HOLD_DONE | Action.STOP:
            return f"I’ll ask about the embers {at}. Stay near until then."
        case Action.SHUT_DOOR:
            return None
        case Action.READ_AGAIN:
            return f"If I hear nothing I’ll ask again {at}."
        case _:
            if said.top_c is None:
                return f"I’ll write again {at}."
            return joined(f"Next reading {at}.", _expect(said, m))


def _expect(said: Advice, m: Measures) -> str | None:
    told = None
    if said.expect_c is not None:
        told = f"It should then show {m.degrees_range(*said.expect_c)}."
    reach = None
    if said.plateau_at is not None and said.action in (Action.ADD, Action.WAIT):
        reach = f"It may be at its aim by about {m.clock(said.plateau_at)}; there is no hurry."
    return joined(told, reach)


def _buttons(said: Advice) -> list[list[Button]]:
    match said.action:
        case Action.ADD if said.why.what == "not_burning":
            return [
                [buttons.fed(said.pieces), buttons.wood_out()],
                [buttons.only_embers_there()],
                [buttons.leaving()],
            ]
        case Action.ADD:
            return [[buttons.fed(said.pieces), buttons.wood_out()], [buttons.leaving()]]
        case Action.SHUT_DOOR:
            seen = [
                buttons.sign("Soot is gone", "soot_clear"),
                buttons.sign("Still black", "soot_black"),
            ]
            return [[buttons.door_on(), buttons.still_flames()], *([seen] if said.look else [])]
        case Action.STOP | Action.HOLD_DONE:
            return [[buttons.fire_out(), buttons.leaving()]]
        case Action.LOOK_FOR_SOOT:
            return [
                [buttons.sign("Soot is gone", "soot_clear")],
                [buttons.sign("Still black", "soot_black")],
                [buttons.leaving()],
            ]
        case Action.READ_AGAIN:
            return [[buttons.ten_minutes(), buttons.fire_out()]]
        case _:
            return [[buttons.take_back(), buttons.leaving()]]


def ready(kilograms: float | None, count: int | None, piece_mm: float | None) -> str | None:
    """Wood to be had ready, not to be put on."""
    if kilograms is None or piece_mm is None:
        return None
    return (
        f"Have {wood(kilograms, piece_mm, count)} within reach, and wait with "
        f"{'it' if count == 1 else 'them'} until I have seen the number."
    )
