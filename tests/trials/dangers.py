"""Messages of strangers, each typed beside a fire: what comes of dangerous and harmless ones.

    python -m tests.trials.dangers --danger FILE... --harmless FILE... --ordinary FILE...

Files are JSON lines: ``text``, and for dangers ``labels`` and ``when`` (laid, burning, embers or
after). Each message goes through both readers and the pure road, on an oven whose first fire
stands at 82 °C and is due to be fed. Printed: asks for wood, right first lines, false alarms, and
how many ordinary messages are asked about, each with its standard error. A set is unseen only the
first time that it is read here; afterwards it may teach, and counts no more.
"""

import argparse
import json
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from bot.understanding import heard
from scheduling.firing.aim import Action
from scheduling.hazard import Hazard
from scheduling.journal import Advised, HazardSeen, Unheard
from scheduling.meaning import CrackTold, HazardTold, LitTooEarly, MustNotBurn, SignTold
from scheduling.record.expect import expectation
from scheduling.remark import CrackSize, FireBan, Setting
from tests.scheduling.road import Road, lit

CALLED: dict[str, Hazard] = {
    "fire_spreading": Hazard.FIRE_SPREADING,
    "accelerant": Hazard.ACCELERANT,
    "water_on_masonry": Hazard.WATER_ON_HOT,
    "smoke_indoors": Hazard.FIRE_INDOORS,
    "flue_fire": Hazard.FLUE_FLAMES,
    "flue_blocked": Hazard.FLUE_BLOCKED,
    "collapse": Hazard.COLLAPSE,
    "glowing": Hazard.GLOWING,
    "spalling": Hazard.POPPING,
    "open_crack": Hazard.CRACK,
    "burn": Hazard.BURNT,
    "unwell": Hazard.UNWELL,
    "child_near": Hazard.CHILD_NEAR,
    "drunk": Hazard.DRUNK,
    "asleep": Hazard.ASLEEP,
    "unattended": Hazard.UNATTENDED,
    "help": Hazard.CRY_FOR_HELP,
    "out_of_control": Hazard.OUT_OF_CONTROL,
    "ban": Hazard.BAN,
}
"""Words of those who wrote the sets for what the registry calls otherwise; the rest is unnamed."""


@dataclass(frozen=True)
class Came:
    """What came of one message: the hazards answered, the first of them first."""

    text: str
    told: tuple[Hazard, ...]
    asked: bool
    wood: bool


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
    road.say(*said.meanings, text=text, doubt=said.doubt, unheard=said.unheard)
    written = road.record.entries[before:]
    wood = any(isinstance(one, Advised) and one.action is Action.ADD for one in written)
    asked = any(isinstance(one, Unheard) for one in written)
    return Came(text, _told(road, said.meanings), asked, wood)


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


def rows(files: Sequence[Path]) -> list[dict[str, Any]]:
    """The lines of all files."""
    return [json.loads(line) for file in files for line in file.open(encoding="utf-8")]


def share(count: int, of: int) -> str:
    """A percentage with its standard error."""
    if of == 0:
        return "none"
    part = count / of
    return f"{count} of {of} ({100 * part:.1f} ± {100 * math.sqrt(part * (1 - part) / of):.1f} %)"


def dangers(lines: Sequence[dict[str, Any]], *, show: bool) -> None:
    """Print what came of messages that tell of a danger."""
    wood = right = first = held = 0
    for line in lines:
        came = played(line["text"], line.get("when", "burning"))
        labels = {CALLED.get(one.split(":")[0], Hazard.UNNAMED) for one in line["labels"]}
        unnamed = Hazard.UNNAMED in labels
        wood += came.wood
        held += came.asked or bool(came.told)
        is_right = bool(labels & set(came.told)) or (unnamed and (came.asked or bool(came.told)))
        right += is_right
        first += bool(came.told[:1]) and came.told[0] in labels
        if show and not is_right:
            told = [one.value for one in came.told]
            print(f"  {sorted(labels)} -> {told or ('asked' if came.asked else 'nothing')}:"
                  f" {line['text']!r}")  # fmt: skip
    print(f"dangers asked for wood: {share(wood, len(lines))}")
    print(f"dangers with the right first line, or a right one among them: "
          f"{share(first, len(lines))}; {share(right, len(lines))}")  # fmt: skip
    print(f"dangers answered as one, or asked about with the wood held: {share(held, len(lines))}")


def others(name: str, lines: Sequence[dict[str, Any]], *, show: bool) -> None:
    """Print what came of messages that tell of none."""
    alarms = asked = 0
    for line in lines:
        came = played(line["text"])
        alarms += bool(came.told)
        asked += came.asked
        if show and (came.told or came.asked):
            print(f"  {[one.value for one in came.told] or 'asked'}: {line['text']!r}")
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
        dangers(rows(given.danger), show=given.show)
    for name in ("harmless", "ordinary"):
        if files := getattr(given, name):
            others(name, rows(files), show=given.show)


if __name__ == "__main__":
    main()
