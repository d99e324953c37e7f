"""What is written down while a rehearsal runs: the truth, and the transcript's lines."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from bot.rehearsal.rehearsal import Line
from bot.rehearsal.trueoven import TrueOven

WATCH_EVERY = timedelta(minutes=10)


@dataclass(frozen=True, slots=True)
class Moment:
    """The truth at an instant."""

    at: datetime
    crown_c: float
    sides_c: float
    hearth_c: float
    outside_c: float
    shell_water_l: float
    wood_kg: float
    worst_share: float


class Diary:
    """Notes the truth every ten minutes of a burning fire, and each hour otherwise."""

    def __init__(self) -> None:
        self.moments: list[Moment] = []

    def watch(self, oven: TrueOven) -> None:
        """Note it, if it is time."""
        if self.moments and oven.now - self.moments[-1].at < WATCH_EVERY:
            return
        self.moments.append(
            Moment(
                oven.now,
                oven.crown_c,
                oven.sides_c,
                oven.hearth.surface,
                float(oven.wall.outer_surface[0]),
                oven.water_l(shell_only=True),
                oven.account.wood_kg,
                oven.account.worst_share,
            )
        )


def in_words(line: Line, zone: ZoneInfo) -> str:
    """A line of the transcript, as it stands in the terminal."""
    at = line.at.astimezone(zone)
    shown = f"[{line.text}]" if line.pressed else line.text
    told = f"{at:%a %d %b %H:%M}  {line.who}: " + shown.replace("\n", "\n" + " " * 20)
    for row in line.buttons:
        told += "\n" + " " * 20 + "  ".join(f"[{label}]" for label in row)
    for name in line.attachments:
        told += "\n" + " " * 20 + f"(with {name})"
    return told
