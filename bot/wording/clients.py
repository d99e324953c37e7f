"""A client in one line, as lists, alerts and digests show it."""

from collections.abc import Iterable
from datetime import timedelta

from bot.wording.hazard_texts import TEXTS
from bot.wording.measures import Measures, duration
from bot.wording.speech import quoted, theirs
from scheduling.meaning import ClientLine, Contact

NAME_LIMIT = 26

NEED_NAMES: dict[str, str] = {
    **{hazard.value: text.name for hazard, text in TEXTS.items()},
    "too_hot": "too hot",
    "silent": "lit and silent",
    "indoors": "stands indoors",
    "undelivered": "not reached",
    "unheard": "not understood by a fault",
    "mortar": "frost in the mortar",
    "instrument": "thermometer too small",
    "forecast": "poor forecast",
    "waiting_for_answer": "answer outstanding",
    "slipping": "days slipping",
}
"""Why somebody should look at an oven, for a line of a list."""

REPORTED = frozenset(hazard.value for hazard in TEXTS)
"""Needs that somebody told of once: how they are by now is not known."""

RING_NOW = frozenset(
    {hazard.value for hazard, text in TEXTS.items() if "Ring them now" in text.report}
    | {"too_hot", "silent"}
)
"""Needs in which a call comes first."""

BURNING = ("lit", "embers")

PHASE_NAMES: dict[str, str] = {
    "set_up": "being set up",
    "invited": "invited",
    "curing": "mortar hardening",
    "waiting": "between fires",
    "firing_day": "fire today",
    "lit": "fire burning",
    "embers": "fire burning down",
    "held": "on hold",
    "done": "done",
    "left": "left by its owner",
}
"""How an oven stands, for a line of a list."""


def client_name(line: ClientLine) -> str:
    """The oven's name, and its owner's where that is another; cut to what a phone shows."""
    oven, owner = _cut(line.oven) or "A client", _cut(line.owner)
    same = not owner or owner.casefold() in oven.casefold()
    return oven if same else f"{oven}, {owner}"


def button_name(number: int, line: ClientLine) -> str:
    """The same for a button, with the number that its line has."""
    return f"{number} {theirs(line.oven) or theirs(line.owner) or 'A client'}"


def client_line(
    line: ClientLine, m: Measures, number: int | None = None, *, to_act: bool = False
) -> str:
    """A client: why they need somebody and for how long, else how they stand. ``to_act``: with the
    owner's own words, and the number to ring."""
    place = f" ({_cut(line.place)})" if line.place else ""
    lead = "" if number is None else f"{number}. "
    told = [_need(line, m) if line.needs else _standing(line, m), _fire(line, m)]
    taken = f" {_cut(line.taken_by)} has it." if line.taken_by else ""
    words = f" {quoted(line.words)}" if to_act and line.words else ""
    ring = _ring(line) if to_act else ""
    named = f"{lead}{client_name(line)}{place}"
    return f"{named}: {', '.join(one for one in told if one)}.{words}{taken}{ring}"


def _ring(line: ClientLine) -> str:
    """The number to ring, and whether at once; it ends the line, so that a phone makes a link."""
    now = line.needs in RING_NOW and not line.taken_by
    if line.phone:
        return f" Ring them{' now' if now else ''}: {theirs(line.phone)}"
    return " Ring them now." if now else ""


def numbered(
    lines: tuple[ClientLine, ...], m: Measures, first: int = 1, *, to_act: bool = False
) -> str:
    """A list, a client a line."""
    return "\n".join(
        client_line(line, m, first + index, to_act=to_act) for index, line in enumerate(lines)
    )


def _need(line: ClientLine, m: Measures) -> str:
    what = NEED_NAMES.get(line.needs or "", "something to look at")
    if line.needs == "silent" and line.phase not in BURNING and line.since is not None:
        return f"silent since a fire {duration(m.now - line.since)} ago; fire out"
    if line.needs not in REPORTED:
        return what if line.since is None else f"{what}{lasting(m.now - line.since)}"
    told = what if line.since is None else f"{what}, {reported(m.now - line.since)}"
    return f"{told}; {_fire_now(line)}"


def need_since(what: str, span: timedelta) -> str:
    """A need with how long it has stood, or how long ago it was reported."""
    name = NEED_NAMES.get(what, what)
    return f"{name}, {reported(span)}" if what in REPORTED else f"{name}{lasting(span)}"


def lasting(span: timedelta) -> str:
    """How long something has stood, to be put behind its name."""
    return ", just now" if span < timedelta(minutes=1) else f" for {duration(span)}"


def reported(span: timedelta) -> str:
    """How long ago somebody told of it."""
    minute = timedelta(minutes=1)
    return "reported just now" if span < minute else f"reported {duration(span)} ago"


def _fire_now(line: ClientLine) -> str:
    """Whether a fire burns while something reported stands open."""
    out = "no fire" if line.top_at is None else "fire out"
    return {"lit": "fire burning", "embers": "fire burning down"}.get(line.phase, out)


def _standing(line: ClientLine, m: Measures) -> str:
    if line.phase == "waiting" and line.next_day is not None:
        return f"fire {line.firing} {m.on_day(line.next_day)}"
    phase = PHASE_NAMES.get(line.phase, "")
    if line.phase in (*BURNING, "firing_day") and line.firing is not None:
        return f"{phase}, number {line.firing}"
    return phase


def _fire(line: ClientLine, m: Measures) -> str:
    """The last number where a fire burns or somebody is needed; the aim where one comes."""
    told = []
    wanted = line.phase in BURNING or line.needs is not None
    if wanted and line.top_c is not None and line.top_at is not None:
        doubted = ", doubted" if line.doubted else ""
        told.append(f"{m.degrees(line.top_c)} {duration(m.now - line.top_at)} ago{doubted}")
    if line.aim_c is not None and line.phase in ("lit", "firing_day", "waiting"):
        told.append(f"aim {m.about_degrees(line.aim_c)}")
    return ", ".join(told)


def phones(contacts: Iterable[Contact]) -> str | None:
    """Whom to ring: a line for each, with nothing behind the number, so that a phone makes a link
    of it."""
    told = [
        f"Ring {theirs(one.name) or 'them'}: {theirs(one.phone)}" for one in contacts if one.phone
    ]
    return "\n".join(told) or None


def _cut(text: str) -> str:
    plain = theirs(text)
    return plain if len(plain) <= NAME_LIMIT else plain[: NAME_LIMIT - 1].rstrip() + "…"
