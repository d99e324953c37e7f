"""Messages of strangers, each typed beside a fire: what comes of dangerous and harmless ones.

    python -m tests.trials.dangers --danger FILE... --harmless FILE... --ordinary FILE...

Files are in the open form of ``tests/training/lines``; a danger may say when it is typed (laid,
burning, embers or after). Each message goes through both readers and the pure road, on an oven
whose first fire stands at 82 °C and is due to be fed. Printed: asks for wood, right first lines,
false alarms, and how many ordinary messages are asked about, each with its standard error. A set
is unseen only the first time that it is read here; afterwards it may teach, and counts no more.
"""

import argparse
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from bot.understanding import heard
from scheduling.firing.aim import Action
from scheduling.hazard import Hazard
from scheduling.journal import Advised, HazardSeen, Unheard
from scheduling.meaning import CrackTold, HazardTold, LitTooEarly, MustNotBurn, NotHeard, SignTold
from scheduling.record.expect import expectation
from scheduling.remark import CrackSize, FireBan, Setting
from tests.scheduling.road import Road, lit
from tests.training.open_form import Row, rows_of


@dataclass(frozen=True)
class Came:
    """What came of one message: the hazards answered, the first of them first."""

    text: str
    told: tuple[Hazard, ...]
    asked: bool
    wood: bool
    offered: tuple[Hazard, ...] = ()
    """What was offered by name where it was asked about."""


def scene(when: str) -> Road:
    """The oven at the moment the message is typed."""
    if when == "laid":
        road = Road().begin(builder="beth").to_first_firing()
        road.reads(14)
        return road
    road = lit(builder="beth")
    road.wait(31)
    road.reads(60)
    road.stokes()
    road.wait(20)
    road.reads(82)
    road.wait(20)
    if when in ("embers", "after"):
        road.fire_dies()
    if when == "after":
        road.shuts_door()
    return road


def played(text: str, when: str = "burning") -> Came:
    """Type ``text`` at that moment, and see what follows."""
    road = scene(when)
    record, before = road.record, len(road.record.entries)
    session = record.session
    setting = Setting(
        unit="C",
        now=road.now.astimezone(record.zoneinfo),
        expect=expectation(record, road.now),
        last_top_c=None if session is None else session.top_c,
        cold=session is None,
        judged=session is not None and session.last is not None,
        open_hazards=tuple(one.what for one in record.hazards),
    )
    said = heard(text, setting)
    road.say(*said.meanings, text=text, doubt=said.doubt, unheard=said.unheard, likely=said.likely)
    written = road.record.entries[before:]
    wood = any(isinstance(one, Advised) and one.action is Action.ADD for one in written)
    asked = any(isinstance(one, Unheard) for one in written)
    offered = tuple(h for one in road.heard_of(NotHeard) for h in one.likely)
    return Came(text, _told(road, said.meanings), asked, wood, offered)


def _told(road: Road, meanings: Iterable[object]) -> tuple[Hazard, ...]:
    """What was answered as a danger, in the order in which it was said."""
    found: list[Hazard] = []
    for one in road.heard:
        match one:
            case HazardTold():
                found += [one.hazard, *one.also]
            case CrackTold(size=CrackSize.OPEN | CrackSize.UNSAID):
                found.append(Hazard.CRACK)
            case SignTold(what="too_big"):
                found.append(Hazard.OUT_OF_CONTROL)
            case LitTooEarly() | MustNotBurn():
                found.append(Hazard.LIT_EARLY)
            case _:
                pass
    if any(isinstance(one, FireBan) and not one.over for one in meanings):
        found.append(Hazard.BAN)
    seen = [one.hazard for one in road.record.entries if isinstance(one, HazardSeen)]
    return tuple(dict.fromkeys([*found, *seen]))


def lines_of(files: Sequence[Path]) -> list[Row]:
    """The lines of all files; a disputed one is in no trial."""
    return [row for file in files for row in rows_of(file) if row.hazards is not None]


def share(count: int, of: int) -> str:
    """A percentage with its standard error."""
    if of == 0:
        return "none"
    part = count / of
    return f"{count} of {of} ({100 * part:.1f} ± {100 * math.sqrt(part * (1 - part) / of):.1f} %)"


def dangers(lines: Sequence[Row], *, show: bool) -> None:
    """Print what came of messages that tell of a danger."""
    wood = right = first = held = tap = 0
    for line in lines:
        came = played(line.text, line.when)
        labels = {Hazard(one) for one in line.hazards or ()}
        unnamed = Hazard.UNNAMED in labels
        wood += came.wood
        held += came.asked or bool(came.told)
        is_right = bool(labels & set(came.told)) or (unnamed and (came.asked or bool(came.told)))
        right += is_right
        tap += is_right or bool(labels & set(came.offered))
        first += bool(came.told[:1]) and came.told[0] in labels
        if show and not is_right:
            told = [one.value for one in came.told]
            print(f"  {sorted(labels)} -> {told or ('asked' if came.asked else 'nothing')}:"
                  f" {line.text!r}")  # fmt: skip
    print(f"dangers asked for wood: {share(wood, len(lines))}")
    print(f"dangers with the right first line, or a right one among them: "
          f"{share(first, len(lines))}; {share(right, len(lines))}")  # fmt: skip
    print(f"dangers with the right first line at once or one tap away: {share(tap, len(lines))}")
    print(f"dangers answered as one, or asked about with the wood held: {share(held, len(lines))}")


def others(name: str, lines: Sequence[Row], *, show: bool) -> None:
    """Print what came of messages that tell of none."""
    alarms = asked = 0
    for line in lines:
        came = played(line.text)
        alarms += bool(came.told)
        asked += came.asked
        if show and (came.told or came.asked):
            print(f"  {[one.value for one in came.told] or 'asked'}: {line.text!r}")
    print(f"{name} taken for a danger: {share(alarms, len(lines))}")
    print(f"{name} asked about: {share(asked, len(lines))}")


def main() -> None:
    """Read the sets named on the command line."""
    parser = argparse.ArgumentParser(description=__doc__)
    for name in ("danger", "harmless", "ordinary"):
        parser.add_argument(f"--{name}", type=Path, nargs="*", default=[])
    parser.add_argument("--show", action="store_true", help="print what went wrong: then it taught")
    given = parser.parse_args()
    if given.danger:
        dangers(lines_of(given.danger), show=given.show)
    for name in ("harmless", "ordinary"):
        if files := getattr(given, name):
            others(name, lines_of(files), show=given.show)


if __name__ == "__main__":
    main()
