"""Sentences of the week ahead, and the words of its calendar."""

from collections.abc import Sequence
from datetime import timedelta
from itertools import groupby

from bot.wording import preparing_buttons as buttons
from bot.wording.attached import fires_calendar, week_picture
from bot.wording.buttons import Button, invite
from bot.wording.measures import Measures, counted, listed
from bot.wording.office_buttons import clients
from bot.wording.speech import Sentences, bold, parcel, says, theirs
from scheduling.meaning import CalendarRevoked, CalendarShown, WeekFire, WeekShown
from scheduling.ports import Parcel

LINES = 14
"""Fires in one message; the picture and the calendar have all."""

HELD_NAMES = 4


def week(said: WeekShown, m: Measures) -> Parcel:
    """All fires of seven days, a day a paragraph."""
    span = m.span(said.first, said.first + timedelta(days=6))
    turning = _turning(said, m)
    if not said.fires:
        none = f"No fire is planned in the week {span}."
        if not said.clients:
            none = "No clients yet, so no fires. An invitation brings the first."
            return parcel(none, buttons=[[invite()], [buttons.calendar_file()]])
        return parcel(
            none, _held(said), buttons=[*turning, [buttons.calendar_file(), clients("All clients")]]
        )
    left_out = len(said.fires) - LINES
    more = f"And {counted(left_out, 'more fire')}, on the picture." if left_out > 0 else None
    return parcel(
        bold(f"{counted(len(said.fires), 'fire').capitalize()}, {span}"),
        *_days(said.fires[:LINES], m),
        more,
        _held(said),
        buttons=[*turning, [buttons.calendar_file(), clients("All clients")]],
        attachments=week_picture(said, m),
    )


def _days(fires: Sequence[WeekFire], m: Measures) -> list[str]:
    return [
        "\n".join((f"{m.dated(day)}:", *(f"– {_line(one, m)}" for one in of_day)))
        for day, of_day in groupby(fires, key=lambda one: one.day)
    ]


def _line(one: WeekFire, m: Measures) -> str:
    start = "" if one.start is None else f"{m.hour(one.start)} "
    place = f" ({theirs(one.place)})" if one.place else ""
    return f"{start}{theirs(one.oven) or 'A client'}{place}, {_what(one, m)}"


def _what(one: WeekFire, m: Measures) -> str:
    name = "a warm-up fire" if one.warm_up else f"fire {one.firing}"
    return name if one.plateau_c is None else f"{name}, about {m.about_degrees(one.plateau_c)}"


def _held(said: WeekShown) -> str | None:
    if not said.held:
        return None
    named = [theirs(one) or "a client" for one in said.held[:HELD_NAMES]]
    more = len(said.held) - len(named)
    told = listed([*named, f"{more} more"] if more > 0 else named)
    return f"On hold, so without a fire until you allow it: {told}."


def _turning(said: WeekShown, m: Measures) -> list[list[Button]]:
    row = []
    if said.first > m.today:
        before = max(m.today, said.first - timedelta(days=7))
        row.append(buttons.week("‹ Week before", before))
    if said.later:
        row.append(buttons.week("Week after ›", said.first + timedelta(days=7)))
    return [row] if row else []


def calendar(said: CalendarShown, m: Measures) -> Parcel:
    """All fires to come as a file, and an address to subscribe to where there can be one."""
    if said.address:
        return parcel(
            "Subscribe to this address in your calendar, and all fires stand there, moved "
            "whenever their days move:",
            bold(said.address),
            "It is shown this once. Whoever has it sees your clients’ names, towns and fires, so "
            "keep it to yourself; take it back if it has gone astray.",
            buttons=[[buttons.calendar_revoke()]],
        )
    count = counted(len(said.fires), "fire")
    file = (
        f"{count.capitalize()} to come, as a file for your calendar. Open a newer one, and they "
        "move with it."
        if said.fires
        else "No fire is planned yet, so there is nothing for your calendar."
    )
    return parcel(
        file,
        _address(said),
        buttons=_address_buttons(said),
        attachments=fires_calendar(said.fires, m),
    )


def _address(said: CalendarShown) -> str:
    if not said.served:
        return (
            "There is no address to subscribe to: nothing of me is reached from the web here. "
            "Whoever runs me can change that with STOKEWATCH_WEBHOOK_URL; `stokewatch check` says "
            "more."
        )
    if said.has_address:
        return "Your calendar’s address is in use. A new one takes its place."
    return "Or subscribe to an address: then your calendar stays right by itself."


def _address_buttons(said: CalendarShown) -> list[list[Button]]:
    if not said.served:
        return [[buttons.week()]]
    if said.has_address:
        return [[buttons.calendar_address("A new address"), buttons.calendar_revoke()]]
    return [[buttons.calendar_address("An address to subscribe to")], [buttons.week()]]


def revoked(said: CalendarRevoked, _: Measures) -> Parcel:
    """It opens nothing any more."""
    told = (
        "No address was in use, so nothing is changed."
        if said.none
        else "Taken back: the address opens nothing any more. Take it out of your calendar too."
    )
    return parcel(told, buttons=[[buttons.calendar_address("A new address")], [buttons.week()]])


SENTENCES: Sentences = dict(
    (says(WeekShown, week), says(CalendarShown, calendar), says(CalendarRevoked, revoked))
)
