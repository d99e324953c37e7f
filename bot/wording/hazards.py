"""Sentences about hazards: what to do first, how it stands, how it ends.

The texts themselves are data, in ``hazards.toml``.
"""

from typing import Final

from bot.wording import buttons
from bot.wording.buttons import Button
from bot.wording.hazard_texts import text_of
from bot.wording.measures import Measures, listed
from bot.wording.speech import Sentences, bold, joined, lines, parcel, quoted, says
from bot.wording.terms import no_fire_because
from scheduling.hazard import HAZARDS, Closer, Hazard, Stops
from scheduling.meaning import (
    HazardAsked,
    HazardClosedTold,
    HazardStays,
    HazardTold,
    MustNotBurn,
    NotHeard,
    WhatIsWrong,
    WhichHazard,
)
from scheduling.ports import Parcel

EVERYBODY_SAFE: Final = "Is everybody safe, and does nothing burn that should not?"
"""Asked where a danger to people was misread, before wood goes on again."""


def _with_number(text: str, emergency: str | None) -> str:
    """The text with the number to ring; where it is not known for sure, the one to try."""
    number = bold(emergency) if emergency else f"your emergency number ({bold('112')} if unsure)"
    called = text.replace("{call}", f"call {number}")
    sentences = called.split(". ")
    return ". ".join(one[:1].upper() + one[1:] for one in sentences)


def hazard_told(said: HazardTold, _: Measures) -> Parcel:
    """What to do first, then the rest; of others told with it only what to do first."""
    text, described = text_of(said.hazard, said.flue), HAZARDS[said.hazard]
    others = [text_of(one, said.flue).opening(lit=said.lit) for one in said.also]
    told = "Your builder has been told." if said.builder_told else None
    steps = text.following(lit=said.lit)
    last = None if described.people else told
    return parcel(
        _with_number(text.opening(lit=said.lit), said.emergency),
        *(_with_number(step, said.emergency) for step in steps),
        lines(_with_number(one, said.emergency) for one in others) if others else None,
        last,
        buttons=_told_buttons(said),
    )


def _told_buttons(said: HazardTold) -> list[list[Button]]:
    described, text = HAZARDS[said.hazard], text_of(said.hazard, said.flue)
    rows: list[list[Button]] = []
    if said.hazard in (Hazard.UNNAMED, Hazard.CRY_FOR_HELP):
        rows += _short_list(said.flue)
    cold = described.stops is Stops.FIRING and not described.people
    if described.closer is Closer.OWNER and not (cold and said.lit):
        rows.append([buttons.looked(text.good, said.hazard, said.since, sound=True)])
    if said.lit and not described.people:
        rows.append([buttons.fire_out(), buttons.something_wrong()])
    if said.from_words and described.stops > Stops.WOOD:
        rows.append([buttons.misheard(said.hazard, said.since)])
    return rows


def _short_list(flue: bool | None) -> list[list[Button]]:
    listed_ = [one.hazard for one in HAZARDS.values() if one.listed]
    named = [_named(one, flue) for one in listed_ if text_of(one, flue).button]
    return [named[i : i + 2] for i in range(0, len(named), 2)]


def _named(hazard: Hazard, flue: bool | None) -> Button:
    """A button that tells of it."""
    text = text_of(hazard, flue)
    return buttons.hazard(text.button or _capital(text.name), hazard)


def what_is_wrong(said: WhatIsWrong, _: Measures) -> Parcel:
    """Something is wrong: what?"""
    text = text_of(Hazard.UNNAMED, said.flue)
    return parcel(
        text.opening(lit=said.lit),
        _with_number(text.steps[0], said.emergency),
        "What is it? Press what fits best, or write it in your own words.",
        buttons=_short_list(said.flue),
    )


def hazard_asked(said: HazardAsked, _: Measures) -> Parcel:
    """A hazard still stands open."""
    text, described = text_of(said.hazard, said.flue), HAZARDS[said.hazard]
    fire = None
    if not described.people:
        fire = "Add nothing for now." if said.lit else "No fire for now."
    if said.safe:
        return parcel(
            _with_number(f"{text.opening(lit=said.lit)} Is everybody safe?", said.emergency),
            _with_number("If anything burns that should not: {call}.", said.emergency),
            buttons=[[buttons.fire_out(), buttons.something_wrong()], _closing(said)],
        )
    if not said.ask:
        looks = f"Somebody has to look at {text.look_at} first, and your builder says when."
        return parcel(joined(fire, looks), buttons=[[buttons.what_now()]])
    words = None
    if not described.people:
        words = "Press one, or write that you have looked at it and how it is."
    return parcel(joined(fire, text.ask), words, buttons=[_closing(said)])


def _closing(said: HazardAsked | HazardStays) -> list[Button]:
    if said.hazard is None or said.since is None:
        return []
    if said.hazard is Hazard.CRACK_UNSAID:
        return list(buttons.crack_sizes())
    text = text_of(said.hazard, said.flue)
    return [
        buttons.looked(text.good, said.hazard, said.since, sound=True),
        buttons.looked(text.bad, said.hazard, said.since, sound=False),
    ]


def hazard_stays(said: HazardStays, _: Measures) -> Parcel:
    """Not closed by that, or nothing to close."""
    if said.hazard is None or said.why in ("none_open", "all_well", "over"):
        book = "A danger stays in the book, even once it is over. Nothing changes by that."
        told = {
            "none_open": "Good. Nothing of that kind stands open with me.",
            "all_well": "Good. Then all is as planned.",
        }.get(said.why, book)
        return parcel(told, buttons=[[buttons.what_now()]])
    text, described = text_of(said.hazard, said.flue), HAZARDS[said.hazard]
    first = "Add nothing, and let the fire die by itself." if said.lit else "No fire for now."
    if described.keep_away:
        first = _with_number(text.opening(lit=said.lit), said.emergency)
    why = {
        "undo": "I don’t take that back, to be on the safe side: it is looked at. If it was a "
        "slip, good: that look is soon done.",
        "not_sound": "Tell me when that has changed.",
        "builder": "Thank you for looking. I have passed it on to your builder, who says when "
        "fires may go on.",
        "hot": f"{_capital(text.look_at)} can only be judged cold and by daylight. Tell me then.",
    }[said.why]
    offered = said.why in ("undo", "not_sound")
    return parcel(first, why, buttons=[_closing(said)] if offered else [])


def hazard_closed(said: HazardClosedTold, _: Measures) -> Parcel:
    """It is over."""
    if said.misheard:
        opening = "Sorry: I read something into your words that was not there."
        if said.safe_since is not None:
            return parcel(
                joined("Put nothing on for now.", opening),
                _others(said),
                EVERYBODY_SAFE,
                buttons=[[buttons.all_well(said.safe_since), buttons.something_wrong()]],
            )
        after = "The fire goes on. Send me the top as a number." if said.lit else None
        return parcel(joined(opening, after), _others(said), buttons=[[buttons.what_now()]])
    how = None if HAZARDS[said.hazard].people else "Are you all right yourself?"
    fire = None
    if said.ending:
        fire = "This fire gets no more wood: let it burn down."
    elif not said.lit and not said.others:
        fire = "I’ll write before the next one."
    return parcel(
        joined(how, text_of(said.hazard, said.flue).over),
        joined(fire, _others(said)),
        buttons=[[buttons.what_now(), buttons.something_wrong()]],
    )


def _others(said: HazardClosedTold) -> str | None:
    if not said.others:
        return None
    named = listed([text_of(one, said.flue).name for one in said.others])
    return f"Still open: {named}. Nothing goes on before that is settled too."


def which_hazard(said: WhichHazard, _: Measures) -> Parcel:
    """Several stand open: which was looked at?"""
    return parcel(
        "Several things stand open. Which of them did you look at, and found it well?",
        buttons=[
            [buttons.looked(_capital(text_of(hazard, said.flue).name), hazard, since, sound=True)]
            for hazard, since in said.hazards
        ],
    )


def not_heard(said: NotHeard, m: Measures) -> Parcel:
    """Words beside a fire that nobody understood."""
    if not said.words:
        return _not_worked_on(said)
    number = f"{bold(m.degrees(said.top_c))} is kept. " if said.top_c is not None else ""
    wood = "Put nothing on for now" if said.lit else "Light nothing yet"
    return parcel(
        f"{number}{wood}: I don’t understand {quoted(said.words)}.",
        EVERYBODY_SAFE if said.misread else "Is all well at the oven?",
        buttons=[
            [buttons.all_well(said.since), buttons.something_wrong()],
            *([_named(one, said.flue)] for one in said.likely),
        ],
    )


NOT_WORKED_ON: Final = (
    "I kept your message, but could not work on it: a fault of mine. Please say it once more, in "
    "other words. If a fire burns, put nothing on it until I have answered; in any danger leave it "
    "and call your emergency number."
)
"""Needs nothing to be known, and nothing to be rendered."""


def _not_worked_on(said: NotHeard) -> Parcel:
    """A message that a fault of ours kept from being worked on."""
    if not said.lit:
        return parcel(NOT_WORKED_ON)
    asked = "Is all well at the oven? Then send me the number at the top, digits alone."
    return parcel(
        "I kept your message, but could not work on it: a fault of mine. Put nothing on the fire "
        "until I know more.",
        f"{EVERYBODY_SAFE if said.misread else asked} If you wrote of something wrong, tap that, "
        "or say it in other words.",
        buttons=[[buttons.all_well(said.since), buttons.something_wrong()]],
    )


def must_not_burn(said: MustNotBurn, m: Measures) -> Parcel:
    """A fire that must not be: let it die, why, and the way out."""
    number = f"{bold(m.degrees(said.top_c))} is kept." if said.top_c is not None else None
    why = "it was lit against the advice"
    if said.hazard is not None:
        why = f"first “{text_of(said.hazard, said.flue).name}” has to be settled"
    elif said.why not in ("lit_early", "trouble"):
        why = no_fire_because(said.why)
    return parcel(
        "Add nothing, and let this fire die with the mouth open. Stay with it until it is out.",
        joined(number, f"It must not burn: {why}. {_way_out(said, m)}"),
        buttons=[[buttons.fire_out(), buttons.something_wrong()]],
    )


def _way_out(said: MustNotBurn, m: Measures) -> str:
    if said.hazard is not None:
        return "Tell me how that stands; then fires go on."
    match said.why:
        case "held":
            return "Your builder lifts the hold: ask them when."
        case "cure" if said.ready_on is not None:
            return f"The mortar is ready on {m.dated(said.ready_on)}, and I’ll write before."
        case "cure":
            return "I’ll write when the mortar is ready."
        case "forbidden":
            return "Your builder opens the day again: ask them."
        case "restricted":
            return "Tell me when fires are allowed again."
        case "weather":
            return "I’ll write when the weather allows the next one."
        case "mortar":
            return "Ask whoever built it to look at the mortar."
        case _:
            return "Once it is out, tell me so: the next fire is planned from there."


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


SENTENCES: Sentences = dict(
    (
        says(HazardTold, hazard_told),
        says(HazardAsked, hazard_asked),
        says(HazardStays, hazard_stays),
        says(HazardClosedTold, hazard_closed),
        says(WhichHazard, which_hazard),
        says(WhatIsWrong, what_is_wrong),
        says(NotHeard, not_heard),
        says(MustNotBurn, must_not_burn),
    )
)
