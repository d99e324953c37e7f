"""Sentences from the evening before a fire to the match."""

from bot.wording import buttons
from bot.wording.measures import Measures, hours, sentence, wood
from bot.wording.speech import Sentences, bold, joined, lines, own_words, parcel, says
from bot.wording.stands import to_clear, when_laying
from bot.wording.terms import (
    FIRE_RULES,
    aim_sentence,
    all_wood,
    no_fire_because,
    weather_reasons,
    wind,
)
from scheduling.firing.aim import Aim, Laying
from scheduling.firing.wood import LAID_MM
from scheduling.meaning import (
    Eve,
    HowToLay,
    LitTooEarly,
    MorningAsk,
    NotToday,
    StillAsked,
    StillOn,
    StillWaiting,
)
from scheduling.ports import Parcel

DOUBTFUL_DAY = 0.35
"""From this chance of a poor day on it is worth a word (own choice)."""

CAUTIONS = (
    "Door off, gloves on, water at hand, children and pets well back. No petrol or spirit. Stay "
    "with it, but out of its smoke, which carries carbon monoxide: open air only, no closed shed "
    "or tent."
)
"""Told before every fire is laid; the record quotes it."""


def name_of(aim: Aim) -> str:
    """A firing by its number, or as the warm-up that it is."""
    return "the warm-up fire" if aim.warm_up else f"fire {aim.number}"


def eve(said: Eve, m: Measures) -> Parcel:
    """The evening before."""
    doubt = None
    if said.poor >= DOUBTFUL_DAY:
        reasons = weather_reasons(said.reasons, m)
        doubt = joined(
            f"The forecast is doubtful: {reasons}." if reasons else "The forecast is doubtful.",
            "I’ll look again in the morning.",
        )
    clear = to_clear(said.stands)
    first = (
        "The first one is small on purpose: it only begins to warm the wall."
        if said.first
        else None
    )
    return parcel(
        f"Are you still on for {name_of(said.aim)}, {m.day(said.day)} at {m.hour(said.start)}?",
        joined(first, aim_sentence(said.aim, m), f"It takes about {hours(said.aim.session_h)}."),
        "Have ready:\n"
        + lines(
            (
                f"{all_wood(said.aim)}, kept dry and well away from the mouth",
                "heat-proof gloves, a long rake, a bucket of water"
                + (", the thermometer and the door" if said.read else " and the door"),
                "a word with the neighbours about a little smoke",
                "your local fire rules for that day: with a fire ban nothing is lit",
                *([clear] if clear else []),
            )
        ),
        doubt,
        own_words(said.own),
        buttons=[
            [
                buttons.confirm("Yes, still on", said.proposal, yes=True),
                buttons.confirm("No, another day", said.proposal, yes=False),
            ],
            [buttons.fire_ban(said.day)],
        ],
    )


_OPEN: dict[str, tuple[str, str, str]] = {
    "eve": ("Is the next fire on, as I told you?", "Yes, still on", "No, another day"),
    "days": ("Shall I move the days as I proposed?", "Yes, move them", "No, leave them"),
    "stopped": ("Shall we go on with the fires?", "Go on", "Not yet"),
}


def still_asked(said: StillAsked, _: Measures) -> Parcel:
    """A question that waits for a yes or no."""
    question, yes, no = _OPEN[said.what]
    return parcel(
        f"One question of mine is still open. {bold(question)}",
        buttons=[
            [
                buttons.confirm(yes, said.proposal, yes=True),
                buttons.confirm(no, said.proposal, yes=False),
            ],
            [buttons.show_plan(), buttons.show_days()],
        ],
    )


def still_on(said: StillOn, m: Measures) -> Parcel:
    """The day was confirmed."""
    return parcel(
        f"Good: {name_of(said.aim)}, {m.day(said.day)} at {bold(m.hour(said.start))}. I’ll write "
        "before you start, and nothing is lit until then."
    )


def morning(said: MorningAsk, m: Measures) -> Parcel:
    """The starting reading, with no fire."""
    expected = (
        f"It should lie around {m.degrees_range(*said.expected_c)}."
        if said.expected_c is not None
        else None
    )
    rules = (
        "Please look up today’s local fire rules too. If there is a ban, tap it and we wait."
        if said.restrictions
        else None
    )
    return parcel(
        f"Good morning. Before {name_of(said.aim)}: what does the top of the dome read now, "
        "with no fire in it?",
        joined(
            "From the mouth, aim up at the middle of the dome, and send the number.",
            expected,
        ),
        rules,
        buttons=[[buttons.fire_ban(m.today), buttons.not_today(m.today)]],
    )


def how_to_lay(said: HowToLay, m: Measures) -> Parcel:
    """How to lay and light this fire, with the cautions."""
    aim = said.aim
    amount = bold(wood(aim.lay_kg, LAID_MM))
    if aim.laying is Laying.SMALL_AT_MOUTH:
        laying = (
            f"Lay {amount} loosely just inside the mouth, with a twist of paper or a natural "
            "firelighter. There the heat reaches the wet dome gently."
        )
        side = "from the front"
    else:
        laying = (
            f"Lay {amount} criss-cross in the middle of the floor, the thinnest uppermost. Lit "
            "from above it burns down slowly and smokes little."
        )
        side = "from above"
    start = None if said.start_c is None else f"Noted: {m.degrees(said.start_c)} before the fire."
    changed = None
    if said.changed_from_c is not None:
        changed = (
            f"The aim is now about {m.about_degrees(aim.plateau_c)} instead of "
            f"{m.about_degrees(said.changed_from_c)}."
        )
    climb = f"Let it climb no faster than {m.rate(aim.climb_c_per_h)}."
    breeze = (
        f"With this wind ({wind(said.wind_ms)}) watch where the sparks go."
        if said.wind_ms is not None and said.wind_ms >= 5.0
        else None
    )
    return parcel(
        laying,
        joined(
            CAUTIONS,
            breeze,
            FIRE_RULES,
        ),
        when_laying(said.stands, said.flue),
        joined(start, changed or aim_sentence(aim, m), climb),
        own_words(said.own),
        f"All so? Then light it {side}, and tell me when it burns.",
        buttons=[
            [buttons.lit(), buttons.not_yet()],
            [buttons.not_today(m.today), buttons.fire_ban(m.today)],
        ],
    )


def not_today(said: NotToday, m: Measures) -> Parcel:
    """No fire, and why."""
    reasons = weather_reasons(said.reasons, m)
    why = reasons if said.why == "weather" and reasons else no_fire_because(said.why)
    following = (
        f"The next one is planned {m.on_day(said.next_day)}; I’ll write the evening before."
        if said.next_day is not None
        else "I’ll write when there is a day for it."
    )
    return parcel(f"No fire yet, please: {why}.", following, buttons=[[buttons.what_now()]])


def lit_too_early(said: LitTooEarly, m: Measures) -> Parcel:
    """A fire was lit before it may be."""
    ready = (
        f"The first fire can come {bold(m.on_day(said.ready_on))}."
        if said.ready_on is not None
        else None
    )
    told = "Your builder has been told of this fire." if said.builder_told else None
    ban = {
        "restricted": "What your fire service says comes before anything I say: ask them now. If "
        "the fire throws sparks or spreads, call them at once.",
        "weather": "If it throws sparks or spreads, call the fire service at once.",
    }.get(said.why)
    return parcel(
        "Add nothing, and let this fire die by itself. Keep the door off, leave the embers where "
        "they are, and no water: a sudden chill cracks a hot wall.",
        joined(f"{sentence(no_fire_because(said.why))}.", ban, ready, told),
        "Stay beside it, and tell me when it is out.",
        buttons=[[buttons.fire_out(), buttons.something_wrong()]],
    )


def still_waiting(said: StillWaiting, m: Measures) -> Parcel:
    """A firing day runs on and nothing is lit."""
    return parcel(
        f"Have you lit {name_of(said.aim)}?",
        f"If you mean to start today, do it by {bold(m.hour(said.latest))}; after that I find "
        "another day, and nothing is lost.",
        buttons=[[buttons.lit(), buttons.not_yet()], [buttons.not_today(m.today)]],
    )


SENTENCES: Sentences = dict(
    (
        says(Eve, eve),
        says(StillOn, still_on),
        says(MorningAsk, morning),
        says(HowToLay, how_to_lay),
        says(NotToday, not_today),
        says(LitTooEarly, lit_too_early),
        says(StillWaiting, still_waiting),
        says(StillAsked, still_asked),
    )
)
