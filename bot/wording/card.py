"""Sentences of one client's card."""

from bot.wording import office_buttons
from bot.wording.attached import firing_picture, plan_picture
from bot.wording.buttons import Button
from bot.wording.clients import NEED_NAMES, PHASE_NAMES, client_name, need_since, phones
from bot.wording.learnt import learnt_from
from bot.wording.measures import Measures, held, hours, listed
from bot.wording.preparing_buttons import make_up
from bot.wording.speech import Sentences, bold, lines, parcel, quoted, says, theirs
from bot.wording.terms import QUESTION_NAMES, answer_words, band, plan_lines
from scheduling.choice import About
from scheduling.hazard import TOLD
from scheduling.meaning import ClientShown, JournalLine, ReadingShown
from scheduling.ports import Parcel

MADE_OF = (About.CONSTRUCTION, About.SIZE, About.STANDS, About.OPENINGS)

CLOSED_BY_A_LOOK = (*TOLD, "mortar")
"""What a builder closes once it was looked at."""

ENTRY_NAMES: dict[str, str] = {
    "measured": "reading",
    "fire_lit": "lit",
    "wood_put_on": "wood on",
    "fire_died": "no flame left",
    "firing_ended": "fire over",
    "door_moved": "door",
    "crack_seen": "crack seen",
    "hazard_seen": "danger",
    "unheard": "not understood",
    "all_well": "all well",
    "trouble_closed": "looked at",
    "alerted": "team told",
    "case_rung": "team told again",
    "nudged": "asked for a reading",
    "silent": "no answer",
    "promised": "days told",
    "asked": "asked",
    "settled": "answered",
    "held": "hold",
    "released": "fires allowed again",
    "capped": "cap",
    "limits_set": "limits",
    "repeat_ordered": "repeat of the last fire",
    "moved": "not before",
    "forbidden": "no fire",
    "taken_back": "order taken back",
    "case_taken": "case taken",
    "case_handed_back": "case handed back",
    "case_closed": "case closed",
    "jotted": "note",
    "talk_opened": "talk begun",
    "talk_said": "said",
    "talk_closed": "talk over",
    "weather_told": "weather",
    "days_said": "days told",
    "finished": "break-in done",
    "reopened": "begun again",
    "repaired": "repaired",
    "reached": "reach",
    "noted": "wrote",
    "undone": "taken back",
}
"""Entries of a journal in a word or two; those that are not here are not shown on a card."""

SEEN_NAMES: dict[str, str] = {
    "steam": "steam",
    "damp": "damp",
    "smoke": "smoke",
    "flue_flames": "flames in the flue",
    "popping": "popping",
    "soot_clear": "soot gone",
    "too_big": "fire too big",
    "leaving": "left the fire",
    "back": "back at the fire",
    "unwell": "unwell or burnt",
    "wood_out": "out of wood",
    "only_embers": "only embers left",
    "soot_black": "soot still there",
}


def client_shown(said: ClientShown, m: Measures) -> Parcel:
    """A client's card, or a part of it in full."""
    body = {
        "plan": _plan,
        "picture": _picture,
        "journal": _journal,
        "orders": _orders,
    }.get(said.part, _card)
    pictures = firing_picture(said.firing, m) if said.part == "picture" else ()
    if said.part == "plan":
        pictures = plan_picture([line for line in said.plan if line.day is not None], m)
    return parcel(
        _head(said),
        *body(said, m),
        "What you type now goes to them." if said.talking else None,
        buttons=_buttons(said, m),
        attachments=pictures,
        chats=said.contacts if said.part == "card" else (),
    )


def _head(said: ClientShown) -> str:
    line = said.line
    place = f" · {theirs(line.place)}" if line.place else ""
    fire = f", number {line.firing}" if line.firing and line.phase in ("lit", "embers") else ""
    own = " · your own oven" if said.own else ""
    return f"{bold(client_name(line))}{place} · {PHASE_NAMES.get(line.phase, '')}{fire}{own}"


def _card(said: ClientShown, m: Measures) -> tuple[str | None, ...]:
    return (
        _needs(said, m),
        phones(said.contacts),
        _readings(said, m),
        _next(said, m),
        _make_up(said, m),
        _learnt(said),
        _holding(said, m),
        _notes(said, m, 2),
        _lately(said.journal[-5:], m),
    )


def _make_up(said: ClientShown, m: Measures) -> str | None:
    """What it is made of, in one line; what nobody has said is marked as assumed."""
    known = {about: answer_words(about, value, m) for about, value in said.make_up}
    named = [known[about] for about in MADE_OF if about in known]
    if About.THICKNESS in known:
        named.append(f"wall {known[About.THICKNESS]}")
    if About.WET_WORK in known:
        named.append(f"wet work till {known[About.WET_WORK]}")
    assumed = [
        f"{QUESTION_NAMES[about]} {answer_words(about, value, m).lower()}"
        for about, value in said.assumed
    ]
    if not named:
        return None
    model = f"{theirs(said.model)}: " if said.model else ""
    doubt = f" Assumed: {listed(assumed)}." if assumed else ""
    return f"Oven: {model}{'; '.join(named)}.{doubt}"


def _needs(said: ClientShown, m: Measures) -> str | None:
    if not said.needs and not said.line.taken_by:
        return None
    named = [need_since(what, m.now - since) for what, since in said.needs]
    told = f"Needs somebody: {'; '.join(named)}." if named else "Nothing is wrong now."
    told += f" Their words: {quoted(said.words)}" if said.words else ""
    if said.mine:
        return f"{told} You have it."
    return f"{told} {theirs(said.line.taken_by)} has it." if said.line.taken_by else told


def _readings(said: ClientShown, m: Measures) -> str | None:
    told = [_reading(one, m) for one in said.readings[-4:]]
    aim = said.firing.aim if said.firing is not None and said.firing.ended_at is None else None
    if aim is None:
        return f"Last read: {', '.join(told)}." if told else None
    kept = f", held {held(said.firing.held_h)}" if said.firing and said.firing.held_h else ""
    readings = ", ".join(told) or "no reading yet"
    return f"Readings: {readings}. Aim {band(aim, m)} for {hours(aim.hold_h)}{kept}."


def _reading(one: ReadingShown, m: Measures) -> str:
    top = "no top" if one.top_c is None else m.degrees(one.top_c)
    return f"{top} {m.at_clock(one.at)}" + ("" if one.believed else " (not used)")


def _next(said: ClientShown, m: Measures) -> str | None:
    if said.line.phase == "done":
        return "The break-in is done."
    if said.line.phase == "held":
        # Days that were laid before the hold are promised to nobody.
        return (
            "No fire before you allow them again."
            if said.held
            else "No fire before what stands open is settled."
        )
    dated = [line for line in said.plan if line.day is not None]
    if not dated:
        ready = said.ready_on
        if ready is not None and ready > m.today:
            return f"The mortar is expected to be ready {m.on_day(ready)}."
        return None
    following = [
        f"fire {line.number} {m.on_day(line.day)}, aim {m.about_degrees(line.plateau_c)}"
        for line in dated[:2]
        if line.day is not None
    ]
    more = len(said.plan) - len(following)
    return f"To come: {'; '.join(following)}{f'; {more} more' if more > 0 else ''}."


def _learnt(said: ClientShown) -> str | None:
    if said.learnt is None or said.line.phase == "done":
        return None
    ovens, low, high = said.learnt
    fires = f"{low} to {high} fires" if high > low else f"{low} fires"
    return f"{learnt_from(ovens)}: nine of ten take {fires} in all."


def _holding(said: ClientShown, m: Measures) -> str | None:
    if not said.orders:
        return None
    return "Orders: " + "; ".join(_order(one, m) for one in said.orders[-3:]) + "."


def _order(one: JournalLine, m: Measures) -> str:
    who = f" ({theirs(one.who)}, {m.clock(one.at)})" if one.who else f" ({m.clock(one.at)})"
    return _named(one, m) + who


def _notes(said: ClientShown, m: Measures, count: int) -> str | None:
    if not said.notes:
        return None
    shown = [
        f"{quoted(one.text)} ({theirs(one.who)}, {m.clock(one.at)})" for one in said.notes[-count:]
    ]
    return "Notes: " + "; ".join(shown)


def _lately(entries: tuple[JournalLine, ...], m: Measures) -> str | None:
    if not entries:
        return None
    return "Lately:\n" + lines(_entry(one, m) for one in entries)


def _entry(one: JournalLine, m: Measures) -> str:
    who = f", {theirs(one.who)}" if one.who else ""
    return f"{m.clock(one.at)} {_named(one, m)}{who}"


def _named(one: JournalLine, m: Measures) -> str:
    """An entry with what matters in it."""
    if one.what == "seen":
        return SEEN_NAMES.get(one.name, one.name)
    name = ENTRY_NAMES.get(one.what, one.what)
    if one.what == "capped" and one.value is None:
        return "cap lifted"
    if one.what in ("measured", "capped", "repeat_ordered", "firing_ended"):
        return name if one.value is None else f"{name} {m.degrees(one.value)}"
    if one.what == "wood_put_on" and one.value is not None:
        return f"{name}, {one.value:g} pieces"
    if one.day is not None:
        return f"{name} {m.span(one.day, one.last)}"
    if one.what == "hazard_seen":
        said = f": {quoted(one.text)}" if one.text else ""
        return f"{NEED_NAMES.get(one.name, one.name)}{said}"
    if one.what in ("alerted", "case_rung", "trouble_closed"):
        return f"{name}: {NEED_NAMES.get(one.name, one.name)}"
    if one.what == "door_moved":
        return f"door {one.name}"
    if one.what == "reached":
        return "reached again" if one.name == "yes" else "not reached"
    return f"{name}: {quoted(one.text)}" if one.text else name


def _plan(said: ClientShown, m: Measures) -> tuple[str | None, ...]:
    return (plan_lines(said.plan, m) or "No fire is planned yet.", _holding(said, m))


def _picture(said: ClientShown, m: Measures) -> tuple[str | None, ...]:
    if said.firing is None:
        return ("No fire has burnt yet, so there is nothing to draw.",)
    ended = said.firing.ended_at
    when = "burns now" if ended is None else f"ended {m.clock(ended)}"
    return (f"Fire {said.firing.aim.number}, lit {m.clock(said.firing.lit_at)}, {when}.",)


def _journal(said: ClientShown, m: Measures) -> tuple[str | None, ...]:
    return (_lately(said.journal[-14:], m) or "Nothing is written yet.", _notes(said, m, 4))


def _orders(said: ClientShown, m: Measures) -> tuple[str | None, ...]:
    held = "\n".join(f"{n}. {_order(one, m)}" for n, one in enumerate(said.orders, 1))
    return (
        held or "No order of yours holds.",
        f"Type an order in your own words: “hold”, “{m.example_cap}”, “no fire till Monday”, "
        "“not before Saturday”, “repeat”.",
    )


def _buttons(said: ClientShown, m: Measures) -> list[list[Button]]:
    oven = said.line.oven_id
    if said.talking:
        return [[office_buttons.talk_over()]]
    parts = {
        "card": office_buttons.client("Back to the card", oven),
        "plan": office_buttons.client("Plan", oven, "plan"),
        "picture": office_buttons.client("Picture", oven, "picture"),
        "journal": office_buttons.client("Journal", oven, "journal"),
        "orders": office_buttons.client("Orders", oven, "orders"),
    }
    shown = [button for name, button in parts.items() if name != said.part]
    rows = [_case_row(said), [office_buttons.talk(), _hold_or_release(said)]]
    if said.part == "orders":
        rows = [*_order_rows(said, m), [office_buttons.repeat_fire(), _hold_or_release(said)]]
    rows.append([one for one in shown if one != parts["card"]])
    if said.part == "card":
        rows.append([make_up("The oven", oven)])
    if said.part == "journal":
        rows.append([office_buttons.record_paper()])
    rows.append(
        [one for one in shown if one == parts["card"]] + [office_buttons.clients("All clients")]
    )
    return rows


def _hold_or_release(said: ClientShown) -> Button:
    return office_buttons.release() if said.held else office_buttons.hold()


def _case_row(said: ClientShown) -> list[Button]:
    open_ = [what for what, _ in said.needs if what in CLOSED_BY_A_LOOK]
    row: list[Button] = []
    if said.mine:
        row = [office_buttons.hand_back_case(), office_buttons.close_case()]
    elif said.needs:
        row = [office_buttons.take_case()]
    named = NEED_NAMES[open_[0]] if open_ else ""
    return row + ([office_buttons.looked(f"Looked at: {named}", open_[0])] if open_ else [])


def _order_rows(said: ClientShown, m: Measures) -> list[list[Button]]:
    return [
        [office_buttons.take_order_back(f"Take back {number}: {_named(one, m)}", one.seq)]
        for number, one in enumerate(said.orders, 1)
    ]


SENTENCES: Sentences = dict((says(ClientShown, client_shown),))
