"""Answers to what owners ask, from the state of their own oven."""

from bot.wording import buttons
from bot.wording.measures import Measures, water
from bot.wording.speech import bold, joined, parcel
from bot.wording.terms import FIRE_RULES, aim_sentence
from scheduling.firing.aim import Action
from scheduling.meaning import Answer
from scheduling.ports import Parcel
from scheduling.remark import Topic

NEAR_LIMIT = 0.85
"""Share of the allowed climb, or of the steam limit, from which it is called near (as advice)."""


def answer(said: Answer, m: Measures) -> Parcel:
    """One short answer."""
    row = [buttons.what_now()] if said.lit else [buttons.show_plan(), buttons.what_now()]
    return parcel(_answer(said, m), buttons=[row])


def _answer(said: Answer, m: Measures) -> str:
    match said.topic:
        case Topic.FIRE_SIZE:
            return _fire_size(said, m)
        case Topic.CRACK:
            return _crack(said)
        case Topic.COOKING:
            return _cooking(said)
        case Topic.LEAVING:
            return _leaving(said)
        case Topic.WHY_SLOW:
            return _why_slow(said)
        case Topic.SKIP_DAY:
            return _skip_day(said, m)
        case Topic.WOOD:
            return _wood(said)
        case Topic.SMOKE:
            return _smoke(said)
        case Topic.DOOR:
            return _door(said)
        case Topic.READING:
            return _reading(said, m)
        case Topic.LIGHTING:
            return _lighting(said, m)
        case Topic.WEATHER:
            return _weather(said)
        case Topic.PUT_OUT:
            return _put_out(said)
        case Topic.STEAM:
            return _steam(said)
        case Topic.RESTRICTIONS:
            return (
                "Ask your fire service or council: only they know today’s rules, and I never "
                "guess them. If there is a ban, tell me, and nothing is lit until it is over."
            )
        case Topic.NEXT | Topic.PLAN | Topic.OTHER:
            return _next(said, m)


def _last_reading(said: Answer, m: Measures) -> str | None:
    if said.top_c is None:
        return None
    at = f" {m.at_clock(said.top_at)}" if said.top_at is not None else ""
    return f"Your last reading was {bold(m.degrees(said.top_c))}{at}."


def _fire_size(said: Answer, m: Measures) -> str:
    if not said.lit:
        return (
            "Smaller than you think: flames that stay well below the dome, and never "
            f"{'out of the mouth' if said.flue is False else 'into the flue'}. I’ll tell you the "
            "wood before each fire."
        )
    if _climbs_too_fast(said):
        return joined(
            "Yes, a little: add nothing for now.",
            f"It climbs by {m.rate(said.climb_c_per_h or 0.0)}, and "
            f"{m.rate(said.limit_c_per_h or 0.0)} is enough.",
        )
    if said.aim is not None and said.top_c is not None and said.top_c > said.aim.high_c:
        return joined(
            "Yes: add nothing and rake it flat.",
            f"The top was at {m.degrees(said.top_c)}, and {m.degrees(said.aim.high_c)} is the most "
            "for today.",
        )
    return joined(
        "Add nothing that I have not asked for. If flames lick along the dome it is too big: rake "
        "it flat.",
        "If they reach far out of the mouth, step back and tell me at once."
        if said.flue is False
        else "If they reach into the flue, step back and write “flames in the flue” at once.",
        "For the rest the thermometer decides: read the top and send me the number.",
    )


def _climbs_too_fast(said: Answer) -> bool:
    climb, limit = said.climb_c_per_h, said.limit_c_per_h
    return climb is not None and limit is not None and climb > limit


def _crack(said: Answer) -> str:
    if said.crack == "open":
        return (
            "No fire, and nothing added to one, until somebody who builds ovens has looked: an "
            "open crack is not part of drying."
        )
    touch = " (by eye: a hot wall burns)" if said.lit else ""
    nail = (
        f"If one is wide enough for a fingernail{touch}, or grows while you watch, add nothing and "
        "tell me at once."
    )
    if said.crack == "unsaid":
        return f"Tell me its size first, and add nothing until then. {nail}"
    return f"Hairlines are to be expected while an oven dries. {nail}"


def _cooking(said: Answer) -> str:
    if said.allowed:
        return (
            "Yes, it is through. Start each time with a small fire for half an hour, then let it "
            "grow."
        )
    left = "" if said.left is None else f" There are {said.left} fires still to come."
    small = (
        " A potato in its last embers does no harm; nothing that needs more fire."
        if said.lit
        else ""
    )
    if said.left == 1:
        left = " There is one fire still to come."
    return f"Not yet: cooking wants a heat that a wet wall cannot take.{left}{small}"


def _leaving(said: Answer) -> str:
    if said.allowed:
        return (
            "Yes, if you see no flame: as far as I know none is left. Keep everything that burns "
            "away from the mouth."
        )
    return (
        "Not while there are flames. If you must go, tell me “I have to go”: rake the fire flat, "
        "add nothing, stay until only embers are left, and only then put the door on."
    )


def _why_slow(said: Answer) -> str:
    left = (
        f"By my reckoning the wall still holds {water(*said.water_left_l)}."
        if said.water_left_l is not None
        else None
    )
    return joined(
        "Let it be slow. Each litre of water takes a great deal of heat to leave as steam, and "
        "steam that is hurried cracks the wall.",
        left,
    )


def _skip_day(said: Answer, m: Measures) -> str:
    if not said.allowed:
        return "Not with a fire lit: see this one through, then take the time you want."
    following = (
        f"The next fire is planned {m.on_day(said.next_day)}."
        if said.next_day is not None
        else None
    )
    return joined(
        "Yes. Tell me which day, like “can’t Saturday”, and I move the rest.",
        following,
        "A day off costs a little warmth, no more.",
    )


def _wood(said: Answer) -> str:
    kind = (
        "Dry hardwood such as beech, ash, oak or fruit wood, split and under cover for a year or "
        "more. Nothing painted, treated, glued or green, and no coal."
    )
    if said.aim is None:
        return kind
    return f"{kind} For this fire split it no thicker than {said.aim.piece_mm / 10:.0f} cm."


def _smoke(said: Answer) -> str:
    if not said.lit:
        return (
            "Dry, thin wood lit from above smokes least, and only for the first quarter of an "
            "hour. A word with the neighbours beforehand helps."
        )
    rest = "damp wood" if said.flue is False else "damp wood or a cold flue"
    return (
        f"Give it air: door off, mouth clear, the pieces not packed tight. The rest is {rest}, and "
        "it should clear within ten minutes. Keep out of the smoke."
    )


def _door(said: Answer) -> str:
    if said.lit and not said.allowed:
        return (
            "Off, as long as there are flames. A closed oven with a fire in it smokes, makes "
            "carbon monoxide and can flare at you."
        )
    if said.lit:
        return "On, once no flame is left and only embers glow. Then leave it until morning."
    return (
        "On, to keep warmth in and rain out, once no flame is left. While the mortar is still "
        "gaining strength leave the mouth open to the air, with rain kept off."
    )


def _reading(said: Answer, m: Measures) -> str:
    return joined(
        "From the mouth, at arm’s length, aim up at the middle of the dome: bare wall beside the "
        "flames, never through them. Keep the same distance each time, and send the number, "
        f"like “{m.example_top}” or “{m.example_top_and_sides}”.",
        _last_reading(said, m),
    )


def _lighting(said: Answer, m: Measures) -> str:
    if said.allowed:
        day = (
            f" The next fire is planned {m.on_day(said.next_day)}."
            if said.next_day is not None
            else ""
        )
        return (
            f"Wait until I write on the morning of the fire: I first ask for a reading.{day} "
            f"{FIRE_RULES}"
        )
    if said.lit:
        return "One fire at a time: this one still counts."
    if said.ready_on is not None:
        return f"Not before {bold(m.dated(said.ready_on))}: the mortar needs until then."
    return "Not yet, please. Something has to be settled first; “What now?” tells you what."


def _weather(said: Answer) -> str:
    if said.lit:
        return (
            "Tell me what you see, like “raining” or “gale”. In rain on an open oven, or in a "
            "gale, no more wood goes on."
        )
    return (
        "Dry days with little wind are best. I look at the forecast and propose other days when it "
        "is poor; you can also just tell me, like “wet all day tomorrow”."
    )


def _put_out(said: Answer) -> str:
    first = "No water into the oven or on its wall: hot masonry cracks, and the steam scalds."
    if not said.lit:
        return f"{first} A fire in it is left to die with the mouth open."
    return (
        f"{first} Add nothing, leave the mouth open, and let it die; from the side you may rake it "
        "flat. Water is for what burns outside the oven: then call the fire service."
    )


def _steam(said: Answer) -> str:
    if not said.lit:
        return "Steam is water leaving the wall. It is just what small fires are for."
    if said.steam_share is not None and said.steam_share >= NEAR_LIMIT:
        return (
            "Add nothing for now: water is turning to steam about as fast as it can get out. "
            "Stand clear of the mouth."
        )
    return (
        "Steam is normal and wanted: carry on, no faster. If it hisses out of a crack or you hear "
        "popping, add nothing and tell me."
    )


_DOING = {
    Action.WAIT: "Leave the fire as it is.",
    Action.ADD: "Put on, once, the wood that I asked for, if it is not on yet. Then leave the fire "
    "as it is.",
    Action.ADD_NOTHING: "Add nothing for now.",
    Action.SPREAD: "Rake the fire apart, flat over the floor, and add nothing.",
    Action.LET_FALL: "Add nothing, and let it fall.",
    Action.LOOK_FOR_SOOT: "Look in from the side whether the soot has burnt off, and tell me.",
    Action.READ_AGAIN: "Read the top, and send me the number. Nothing goes on before that.",
    Action.HOLD_DONE: "No more wood: let it burn down to embers.",
    Action.SHUT_DOOR: "When no flame is left, shut the door if you have one, and leave it "
    "overnight.",
    Action.STOP: "Add nothing, and let the fire die with the mouth open.",
}


def doing(action: Action | None) -> str:
    """The one thing to do, told again. No amount of wood is told twice: it would go on twice."""
    return _DOING[action if action is not None else Action.READ_AGAIN]


def _next(said: Answer, m: Measures) -> str:
    if said.lit:
        at = f"I’ll ask again {m.at_clock(said.next_at)}." if said.next_at is not None else None
        return joined(doing(said.action), at)
    if said.phase == "done":
        return "Nothing more to do: the break-in is behind you."
    if said.phase == "set_up":
        return "Answer the open question, please, as well as you can: then I can plan."
    if said.next_day is not None:
        start = f" at {m.hour(said.next_start)}" if said.next_start is not None else ""
        aim = aim_sentence(said.aim, m) if said.aim is not None else None
        return joined(
            f"The next fire is planned {bold(m.on_day(said.next_day) + start)}.",
            aim,
            "I’ll write the evening before.",
        )
    if said.ready_on is not None:
        return f"Wait for the mortar: no fire before {bold(m.dated(said.ready_on))}."
    return "Nothing to do just now. I’ll write when there is."
