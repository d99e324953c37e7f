"""Pictures and papers that go with a message: what to draw, and what it shows in words.

``data`` is all that the painter needs, as JSON; ``alt`` is for those who do not see pictures.
"""

from collections import Counter
from collections.abc import Sequence
from datetime import datetime

from bot.wording.buttons import Button, command
from bot.wording.clients import NEED_NAMES
from bot.wording.measures import Measures, counted, duration, held, hours, kilogram, listed
from bot.wording.speech import theirs
from bot.wording.terms import plan_line
from scheduling.choice import CommandName
from scheduling.meaning import (
    DayChange,
    FireShown,
    FiringShown,
    PlanLine,
    WeekFire,
    WeekShown,
)
from scheduling.ports import Attachment

PLAN, FIRING, CALENDAR, RECORD = "plan", "firing", "calendar", "record"
QR, BOARD, WAYS = "qr", "board", "ways"
WEEK, FIRES, SHEET = "week", "fires", "sheet"
"""Kinds of attachments; a picture handed on has the painter's own kind."""

ALL_FIRES = "All fires"
"""What a builder's calendar is called."""

STEADY_K_H = 8.0
"""A fire that changes less holds its temperature, for a word on the board (own choice)."""


def _for(m: Measures) -> dict[str, object]:
    return {"unit": m.unit, "zone": m.zone.key}


def plan_picture(lines: Sequence[PlanLine], m: Measures) -> tuple[Attachment, ...]:
    """The fires of a plan over the days; nothing where there are none."""
    if not lines:
        return ()
    data = _for(m) | {"lines": [line.model_dump(mode="json") for line in lines]}
    told = "; ".join(plan_line(line, m) for line in lines)
    return (Attachment(kind=PLAN, name="plan.png", data=data, alt=f"The plan. {told}."),)


def firing_picture(shown: FiringShown | None, m: Measures) -> tuple[Attachment, ...]:
    """One firing: readings, the range aimed for, wood, and the time held."""
    if shown is None:
        return ()
    count = shown.aim.number + shown.aim.left - 1
    data = _for(m) | {"shown": shown.model_dump(mode="json"), "of": count}
    name = f"fire-{shown.aim.number}.png"
    return (Attachment(kind=FIRING, name=name, data=data, alt=firing_in_words(shown, m)),)


def firing_in_words(shown: FiringShown, m: Measures) -> str:
    """What the picture of a firing shows."""
    told = [
        f"Fire {shown.aim.number}, lit {m.at_clock(shown.lit_at)}",
        f"aim {m.about_degrees(shown.aim.plateau_c)} for {hours(shown.aim.hold_h)}",
    ]
    believed = [one for one in shown.readings if one.believed and one.top_c is not None]
    hottest = max(believed, key=lambda one: one.top_c or 0.0, default=None)
    if hottest is not None and hottest.top_c is not None:
        told.append(
            f"{counted(len(believed), 'reading')} at the top, the hottest "
            f"{m.degrees(hottest.top_c)} at {m.hour(hottest.at)}"
        )
    else:
        told.append("no readings")
    if doubtful := len(shown.readings) - len(believed):
        told.append(f"{counted(doubtful, 'reading')} not used")
    if shown.stokes:
        told.append("wood put on at " + listed([m.hour(one.at) for one in shown.stokes]))
    if shown.held_h > 0:
        told.append(f"held for {held(shown.held_h)}")
    return ", ".join(told) + "."


def calendar_paper(
    lines: Sequence[PlanLine], m: Measures, changes: Sequence[DayChange] = ()
) -> tuple[Attachment, ...]:
    """The firing days as a file for the owner's own calendar.

    Firings that ``changes`` leave without a day are taken out of it by the same file.
    """
    dated = [line for line in lines if line.day is not None and line.start is not None]
    off = {one.number: one.before for one in changes if one.before and one.after is None}
    if not dated and not off:
        return ()
    data = _for(m) | {
        "lines": [line.model_dump(mode="json") for line in dated],
        "titles": {str(line.number): f"Oven: {calendar_title(line, m)}" for line in dated},
        "notes": {str(line.number): calendar_notes(line) for line in dated},
        "off": [{"number": number, "day": day.isoformat()} for number, day in off.items() if day],
    }
    alt = f"A calendar file with {counted(len(dated), 'firing day')}."
    return (Attachment(kind=CALENDAR, name="firing-days.ics", data=data, alt=alt),)


def calendar_title(line: PlanLine, m: Measures) -> str:
    """A firing in one line of a calendar."""
    name = "warm-up fire" if line.warm_up else f"fire {line.number}"
    return f"{name}, about {m.about_degrees(line.plateau_c)} for {hours(line.hold_h)}"


def calendar_notes(line: PlanLine) -> str:
    """What stands under it: what to have ready, and that the chat has the last word."""
    return (
        f"About {hours(line.session_h)}, with {kilogram(line.wood_kg)} of dry split wood. Light "
        "nothing before the chat tells you how: weather, wall or local fire rules may say no."
    )


def record_paper(m: Measures, form: str = "pdf") -> tuple[Attachment, ...]:
    """The record of the oven, to keep: a paper (pdf), a table of its log (csv), or data (json)."""
    alt = "The record of the oven: how it was made, every fire, every reading."
    data = _for(m) | {"form": form}
    return (Attachment(kind=RECORD, name=f"oven-record.{form}", data=data, alt=alt),)


def record_forms() -> list[Button]:
    """The same as a file that other programs read."""
    return [
        command("As a table (CSV)", CommandName.RECORD, "csv"),
        command("As data (JSON)", CommandName.RECORD, "json"),
    ]


def ways_file(text: str) -> tuple[Attachment, ...]:
    """A builder's own ways as the file that they edit."""
    alt = "Your ways as a file, to change and send back."
    return (Attachment(kind=WAYS, name="our-ways.toml", data={"text": text}, alt=alt),)


def sheet_file(text: str, name: str, alt: str, ovens: Sequence[str] = ()) -> tuple[Attachment, ...]:
    """Clients as a file for a spreadsheet. ``ovens`` are those it tells of: whoever forgets one of
    them finds the file by that."""
    if not text:
        return ()
    data = {"text": text, "ovens": list(ovens)}
    return (Attachment(kind=SHEET, name=name, data=data, alt=alt),)


def week_picture(said: WeekShown, m: Measures) -> tuple[Attachment, ...]:
    """All fires of a week, by day and hour."""
    fires = [
        {
            "oven": fire.oven,
            "oven_id": fire.oven_id,
            "day": fire.day.isoformat(),
            "start": fire.start.isoformat() if fire.start is not None else None,
            "session_h": fire.session_h,
            "aim": "" if fire.plateau_c is None else m.about_degrees(fire.plateau_c),
        }
        for fire in said.fires
    ]
    data = _for(m) | {"first": said.first.isoformat(), "fires": fires}
    counts = Counter(fire.day for fire in said.fires)
    told = ", ".join(f"{m.dated(day)}: {count}" for day, count in sorted(counts.items()))
    return (Attachment(kind=WEEK, name="week.png", data=data, alt=f"Fires by day. {told}."),)


def fires_calendar(fires: Sequence[WeekFire], m: Measures) -> tuple[Attachment, ...]:
    """The fires of all clients as a calendar file; nothing where there are none."""
    if not fires:
        return ()
    data = _for(m) | {"fires": [fire_entry(fire, m) for fire in fires], "at": m.now.isoformat()}
    alt = f"A calendar file with {counted(len(fires), 'fire')}."
    return (Attachment(kind=FIRES, name="all-fires.ics", data=data, alt=alt),)


def fire_entry(fire: WeekFire, m: Measures) -> dict[str, object]:
    """One fire as a calendar shows it to the builder."""
    name = "warm-up fire" if fire.warm_up else f"fire {fire.firing}"
    aim = "" if fire.plateau_c is None else f", about {m.about_degrees(fire.plateau_c)}"
    lasts = "" if fire.session_h is None else f"About {hours(fire.session_h)}. "
    return {
        "oven_id": fire.oven_id,
        "firing": fire.firing,
        "day": fire.day.isoformat(),
        "start": fire.start.isoformat() if fire.start is not None else None,
        "session_h": fire.session_h,
        "title": f"{theirs(fire.oven) or 'A client'}: {name}{aim}",
        "notes": f"{lasts}As its owner was told on {_stamped(fire.told_at, m)}; the chat has the "
        "last word.",
        "place": theirs(fire.place),
        "told_at": fire.told_at.isoformat(),
    }


def _stamped(instant: datetime, m: Measures) -> str:
    """A day and hour that read the same whenever they are read."""
    local = instant.astimezone(m.zone)
    return f"{local:%a} {local.day} {local:%b %Y}, {local.hour}:{local:%M}"


def photo(reference: str | None, what: str) -> tuple[Attachment, ...]:
    """A picture that somebody sent, handed on."""
    if reference is None:
        return ()
    return (Attachment(kind="photo", name="photo.jpg", data={"photo": reference}, alt=what),)


def board_picture(fires: Sequence[FireShown], total: int, m: Measures) -> tuple[Attachment, ...]:
    """Fires that burn now, of ``total``."""
    shown = [
        {
            "oven": fire.oven,
            "number": fire.number,
            "need": 0 if fire.rank < 100 else 1 if fire.rank < 200 else 2,
            "state": fire_state(fire, m),
            "aim_c": fire.aim_c,
            "track": [(at.isoformat(), top_c) for at, top_c in fire.track],
        }
        for fire in fires
    ]
    told = "; ".join(f"{fire.oven}, fire {fire.number}: {fire_state(fire, m)}" for fire in fires)
    data = _for(m) | {"fires": shown, "total": total, "now": m.now.isoformat()}
    return (Attachment(kind=BOARD, name="fires.png", data=data, alt=f"Fires now. {told}."),)


def fire_state(fire: FireShown, m: Measures) -> str:
    """A fire in a few words."""
    if fire.needs == "silent":
        return f"silent {duration(m.now - fire.heard_at)}"
    if fire.needs is not None:
        return NEED_NAMES.get(fire.needs, "to look at")
    if fire.phase == "embers":
        return "burning down"
    if fire.climb_k_h is None:
        return "burning"
    if abs(fire.climb_k_h) < STEADY_K_H:
        return "holding"
    return f"climbing {m.difference(fire.climb_k_h)}/h" if fire.climb_k_h > 0 else "falling"
