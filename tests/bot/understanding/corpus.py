"""The corpus files: messages with what they mean, in a notation made to be read.

A line is ``message => meanings``, meanings parted by ``;``. A doubt is ``ask WHY``, nothing at
all ``nothing``; ``||`` parts answers that are equally right. ``## unit F, expect reading,
last 150, max 550`` sets what surrounds the messages below it (last and max in °C); every message
is sent on Wednesday 13 May 2026 at 10:00 in London.
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

from bot.understanding import understand
from scheduling.remark import (
    Available,
    Crack,
    Doubt,
    FireBan,
    FireOut,
    HazardSaid,
    Later,
    Lit,
    Question,
    Reading,
    Remark,
    Setting,
    Stoked,
    Unavailable,
    Understood,
    WeatherSaid,
)

NOW = datetime(2026, 5, 13, 10, 0, tzinfo=ZoneInfo("Europe/London"))
HERE = Path(__file__).parent


@dataclass(frozen=True)
class Example:
    text: str
    setting: Setting
    wanted: tuple[Counter[str], ...]
    line: int


def examples(name: str) -> Iterator[Example]:
    setting = Setting(unit="C", now=NOW)
    for number, row in enumerate((HERE / name).read_text("utf-8").splitlines(), start=1):
        if row.startswith("##"):
            setting = _setting(row[2:])
        elif row.strip() and not row.startswith("# "):
            text, wanted = row.rsplit(" => ", 1)
            yield Example(
                text.replace("\\n", "\n"),
                setting,
                tuple(
                    Counter(part.strip() for part in one.split(";") if part.strip() != "nothing")
                    for one in wanted.split("||")
                ),
                number,
            )


def _setting(written: str) -> Setting:
    given: dict[str, object] = {"unit": "C", "now": NOW}
    names = {"last": "last_top_c", "max": "instrument_max_c"}
    for pair in written.split(","):
        name, value = pair.split()
        given[names.get(name, name)] = value
    return Setting.model_validate(given)


def notation(understood: Understood) -> Counter[str]:
    told = Counter(_told(remark) for remark in understood.meanings)
    if isinstance(understood.doubt, Doubt):
        told[f"ask {understood.doubt.why}"] += 1
    return told


def heard(example: Example) -> Counter[str]:
    return notation(understand(example.text, example.setting))


def invented(example: Example) -> bool:
    """Whether a temperature was taken that the message does not state."""
    got = {one for one in heard(example) if one.startswith("reading")}
    right = {one for wanted in example.wanted for one in wanted if one.startswith("reading")}
    return bool({_figures(one) for one in got} - {_figures(one) for one in right})


def _figures(told: str) -> str:
    return " ".join(part for part in told.split() if part != "~" and not part.startswith("at="))


def _told(remark: Remark) -> str:
    parts: list[str] = [remark.kind]
    match remark:
        case Reading():
            parts += [f"top={remark.top_c:g}"] if remark.top_c is not None else []
            parts += (
                ["sides=" + ",".join(f"{c:g}" for c in remark.sides_c)] if remark.sides_c else []
            )
            parts += [f"hearth={remark.hearth_c:g}"] if remark.hearth_c is not None else []
            parts += ["~"] if remark.approximate else []
            parts += _at(remark.at)
        case Lit() | FireOut():
            parts += _at(remark.at)
        case Stoked():
            parts += [str(remark.pieces)] if remark.pieces is not None else []
            parts += _at(remark.at)
        case WeatherSaid():
            parts.append(remark.what)
            parts += [f"{remark.when:%m-%d}"] if remark.when != "now" else []
            parts += [f"{remark.wind_ms:g}m/s"] if remark.wind_ms is not None else []
        case FireBan(over=True):
            parts.append("over")
        case Unavailable() | Available() | FireBan():
            first, last = remark.first, remark.last
            if first is not None and last is not None:
                parts.append(f"{first:%m-%d}" + ("" if first == last else f"..{last:%m-%d}"))
            if isinstance(remark, Unavailable) and remark.before_hour is not None:
                parts.append(f"<{remark.before_hour:g}h")
            if isinstance(remark, Unavailable) and remark.after_hour is not None:
                parts.append(f">{remark.after_hour:g}h")
        case Crack():
            parts += [remark.size] if remark.size != "unsaid" else []
        case HazardSaid():
            parts = [remark.hazard.value]
        case Question():
            parts.append(remark.topic)
        case Later():
            parts += [f"{remark.minutes:g}"] if remark.minutes is not None else []
    return " ".join(parts)


def _at(instant: datetime | None) -> list[str]:
    if instant is None:
        return []
    local = instant.astimezone(NOW.tzinfo)
    day = "" if local.date() == NOW.date() else f"{local:%m-%d}T"
    return [f"at={day}{local:%H:%M}"]
