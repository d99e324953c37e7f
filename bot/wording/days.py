"""Sentences about days: what would change, what has changed, and what cannot be."""

from collections.abc import Sequence
from datetime import date

from bot.wording import buttons
from bot.wording.attached import calendar_paper
from bot.wording.measures import Measures, hours, listed, percent, sentence
from bot.wording.speech import Sentences, bold, joined, parcel, says, theirs
from bot.wording.terms import plan_lines, weather_reasons
from scheduling.meaning import (
    DayChange,
    DaysKept,
    DaysMoved,
    DaysProposed,
    DaysRefused,
    DaysShown,
    ForecastAgainst,
    NoDayFound,
    SoakedNoted,
    WhichDay,
)
from scheduling.ports import Parcel


def proposed(said: DaysProposed, m: Measures) -> Parcel:
    """What changes if this is so."""
    warm_up = (
        "After so long a gap the oven is warmed up first: a short fire of two or three small "
        "stokings and, once no flame is left, the door on overnight."
        if any(line.warm_up for line in said.lines)
        else None
    )
    return parcel(
        joined(_why(said, m), "Shall I move the days like this?"),
        _changes(said.changes, m),
        joined(_through(said, m), warm_up),
        buttons=[
            [
                buttons.confirm("Yes, move them", said.proposal, yes=True),
                buttons.confirm("No, leave them", said.proposal, yes=False),
            ]
        ],
    )


def _why(said: DaysProposed, m: Measures) -> str | None:
    off, wanted = (_on(spans, m) for spans in (said.off, said.wanted))
    gales, poor = (_on([(day, day) for day in days], m) for days in (said.gales, said.poor))
    told = joined(
        f"So nobody can tend a fire {off}." if off else None,
        f"So you would like a fire {wanted}." if wanted else None,
        f"So it blows a gale {gales}, and nothing is lit in that." if gales else None,
        f"So the weather is poor {poor}." if poor else None,
    )
    return told or "With that forecast other days are better."


def _on(spans: Sequence[tuple[date, date]], m: Measures) -> str:
    return listed([m.on_span(first, last) for first, last in spans])


def _changes(changes: Sequence[DayChange], m: Measures) -> str:
    return "\n".join(_change(one, m) for one in changes)


def _change(one: DayChange, m: Measures) -> str:
    name = f"Fire {one.number}"
    if one.after is None:
        return f"{name}: no longer needed, or its day still open"
    after = m.dated(one.after)
    moved = (
        f"{name}: one more, {after}"
        if one.before is None
        else f"{name}: {after} instead of {m.dated(one.before)}"
    )
    before_c, after_c = one.aim_before_c, one.aim_after_c
    if before_c is not None and after_c is not None and abs(after_c - before_c) >= 5.0:
        moved += f", about {m.about_degrees(after_c)} instead of {m.about_degrees(before_c)}"
    return moved


def _through(said: DaysProposed, m: Measures) -> str | None:
    if said.done_by_after is None:
        return None
    after = bold(m.dated(said.done_by_after))
    if said.done_by_before is None or said.done_by_before == said.done_by_after:
        return f"You would be through on {after}, as before."
    return f"You would be through on {after} instead of {m.dated(said.done_by_before)}."


_MOVED = {
    "slipped": "That day went by without a fire, so the days have moved.",
    "soaked": "The oven got wet through, so the days have moved.",
    "restricted": "A fire restriction holds, so the days have moved. Nothing is lit meanwhile.",
    "idle": "Here are the gentle fires.",
    "order": "Your builder has moved the days.",
    "forecast": "The days have moved, away from the poor weather.",
    "undone": "The days are as they were before.",
}


def moved(said: DaysMoved, m: Measures) -> Parcel:
    """Done: the new days."""
    opening = _MOVED.get(said.why, "Done, the days have moved.")
    return parcel(
        opening,
        plan_lines(said.lines, m),
        "The file brings your calendar up to date." if said.lines else None,
        buttons=[[buttons.take_back()]] if said.undo else [],
        attachments=calendar_paper(said.lines, m, said.changes),
    )


def kept(said: DaysKept, _: Measures) -> Parcel:
    """Nothing changes."""
    if said.why == "left":
        return parcel("All right, the days stay as they are.")
    return parcel("Noted, and the days stay as they are.", buttons=[[buttons.take_back()]])


def refused(said: DaysRefused, m: Measures) -> Parcel:
    """A day that cannot be."""
    day = m.span(said.first, said.last) if said.first is not None else "that day"
    told = {
        "in_the_past": f"{sentence(day)}: that is over. Which day do you mean?",
        "backwards": "That ends before it begins. Type it again, like 3 to 7 June.",
        "too_long": "That is more than a year. Type a shorter time, and tell me more later.",
        "too_far": "That is more than two years ahead. Type a day nearer to now.",
        "no_hours": "That leaves no hours at all. Type it again, like “only after 2 on Friday”.",
        "away": f"{sentence(day)}: you told me that you are away.",
        "restricted": f"{sentence(day)}: a fire restriction holds, and that comes first. "
        "Tell me when it is lifted.",
        "forbidden": f"{sentence(day)}: your builder wants no fire then. Ask them.",
        "tending_another": f"{sentence(day)}: you tend another fire then.",
        "usually_busy": f"{sentence(day)}: not among your usual days. You can change those.",
        "too_short": f"{sentence(day)}: too few free hours for this fire.",
        "curing": f"{sentence(day)}: too soon, the mortar is not strong enough.",
        "nothing_free": f"I can find no free day near {day}.",
    }.get(said.why, f"{sentence(day)} cannot be.")
    following = (
        f"The earliest is {bold(m.dated(said.next_day))}." if said.next_day is not None else None
    )
    return parcel(joined(told, following))


def which(said: WhichDay, m: Measures) -> Parcel:
    """Which day?"""
    if not said.near:
        return parcel("Which day would suit you? Type it, like Saturday or 3 June.")
    return parcel(
        "Which day would suit you? Tap one of these, or type another.",
        buttons=[[buttons.wanted(m.dated(day), day)] for day in said.near],
    )


def shown(said: DaysShown, m: Measures) -> Parcel:
    """The days as a short list."""
    if not said.lines:
        return parcel("There are no firing days ahead.", buttons=[[buttons.what_now()]])
    ready = (
        f"Nothing is lit before {bold(m.dated(said.ready_on))}: the mortar needs until then."
        if said.ready_on is not None
        else None
    )
    return parcel(
        ready,
        plan_lines(said.lines, m),
        "Open the file to have them in your calendar. To move one, just say: “can’t Saturday”.",
        attachments=calendar_paper(said.lines, m),
    )


def none_found(said: NoDayFound, _: Measures) -> Parcel:
    """No day in the weeks ahead."""
    needed = (
        f"The next fire takes about {hours(said.needed_h)} in one go."
        if said.needed_h is not None
        else None
    )
    return parcel(
        joined("Can you free another day or more hours?", needed),
        "With your hours and the weather I find no day in the weeks ahead. Nothing is lost by "
        "waiting, as long as rain stays off the oven.",
        buttons=[[buttons.settings()]],
    )


def soaked(said: SoakedNoted, m: Measures) -> Parcel:
    """The oven got wet through."""
    first = (
        "No more wood: let this fire burn down slowly."
        if said.lit
        else "Cover it against more rain, and leave the mouth open to the air."
    )
    aim = None
    if said.aim_after_c is not None:
        before = said.aim_before_c
        aim = (
            f"The next fire goes back to about {bold(m.about_degrees(said.aim_after_c))}, "
            f"from {m.about_degrees(before)}."
            if before is not None and before > said.aim_after_c + 2.5
            else f"The next fire stays at about {bold(m.about_degrees(said.aim_after_c))}."
        )
    finished = "A wet wall has to be dried gently again before you cook." if said.finished else None
    return parcel(first, joined(finished, aim))


def against(said: ForecastAgainst, m: Measures) -> Parcel:
    """The forecast speaks against a promised day."""
    reasons = weather_reasons(said.reasons, m)
    because = f": {reasons}" if reasons else f": the chance of poor weather is {percent(said.poor)}"
    source = f"<i>{theirs(said.attribution)}</i>" if said.attribution else None
    return parcel(
        f"Better no fire {m.day(said.day)}{because}.",
        "A fire in bad weather dries little and spoils the day. Other days follow.",
        source,
    )


SENTENCES: Sentences = dict(
    (
        says(DaysProposed, proposed),
        says(DaysMoved, moved),
        says(DaysKept, kept),
        says(DaysRefused, refused),
        says(WhichDay, which),
        says(DaysShown, shown),
        says(NoDayFound, none_found),
        says(SoakedNoted, soaked),
        says(ForecastAgainst, against),
    )
)
