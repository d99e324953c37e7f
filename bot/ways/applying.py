"""From own ways to what an oven takes over: limits, words and constructions, as entries."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime

from bot.ways.shape import OwnWays, catalogue_of, is_less_gentle, less_gentle
from scheduling.happening import WaysTaken
from scheduling.journal import Constructed, Learnt, LimitsSet, Model, Taught, Worded
from scheduling.meaning.ways import ModelShown
from scheduling.oven.learnt import LEAST_OVENS
from scheduling.ports import UnitOfWork, Way
from scheduling.record import Record
from scheduling.record.lesson import lessons_for
from scheduling.record.outlook import limits_of


def ways_in(way: Way | None) -> OwnWays:
    """The ways of a stored version; none at all for None."""
    return OwnWays() if way is None else OwnWays.model_validate_json(way.body)


async def ways_of(unit: UnitOfWork, builder: str | None, at: datetime) -> WaysTaken | None:
    """What a new oven of that builder begins with; None where they have no ways of their own."""
    if builder is None:
        return None
    way = await unit.ways.latest(builder)
    lessons = await learnt_of(unit, builder, at)
    if way is None:
        return WaysTaken(person="", learnt=lessons) if lessons else None
    return replace(taken_by(way, way.made_by, at), learnt=lessons)


async def learnt_of(unit: UnitOfWork, builder: str, at: datetime) -> tuple[Learnt, ...]:
    """What the finished ovens of that builder teach; nothing where they are not to."""
    ways = ways_in(await unit.ways.latest(builder))
    return lessons_for(await unit.ovens.taught(builder), at) if ways.learn else ()


def taken_by(way: Way, person: str, at: datetime, record: Record | None = None) -> WaysTaken:
    """What an oven takes over from a version.

    ``record`` is that of a running oven: of each limit the gentler of its own and this holds,
    so that a file never undoes what was ordered for one oven.
    """
    ways = ways_in(way)
    told, kept = _limits(ways, record)
    reason = f"own ways, version {way.version}" + (f": {ways.reason}" if ways.reason else "")
    order = {"at": at, "by": person, "why": reason, "confirmed": bool(less_gentle(ways.limits))}
    said = Worded(
        at=at,
        by=person,
        why=reason,
        version=way.version,
        greeting=ways.words.greeting,
        cautions=ways.words.cautions,
        before=ways.checklist.before,
        after=ways.checklist.after,
    )
    return WaysTaken(
        person=person,
        limits=LimitsSet.model_validate(order | told) if told else None,
        worded=said if _differs(said, record) else None,
        constructed=tuple(one for one in constructions(ways, person, at) if _is_new(one, record)),
        kept_gentler=kept,
        learnt=() if ways.learn or record is None else _unlearnt(record, at),
    )


def models_shown(taught: Iterable[Taught], ways: OwnWays) -> tuple[ModelShown, ...]:
    """The models of which ovens have finished and may teach, with how many, by name."""
    known = catalogue_of(ways).presets
    found: dict[Model, list[int]] = {}
    for one in taught:
        found.setdefault(one.model, []).append(one.fires)
    shown = [
        ModelShown(
            title=known[model.construction].title
            if model.construction in known
            else model.construction,
            diameter_mm=model.diameter_mm,
            ovens=len(fires),
            least=LEAST_OVENS,
            fires=(min(fires), max(fires)),
        )
        for model, fires in found.items()
    ]
    return tuple(sorted(shown, key=lambda one: (-one.ovens, one.title, one.diameter_mm)))


def constructions(ways: OwnWays, person: str, at: datetime) -> tuple[Constructed, ...]:
    """The builder's own constructions, with their layers as they stand now."""
    catalogue = catalogue_of(ways)
    return tuple(
        Constructed(
            at=at,
            by=person,
            construction=key,
            layers=catalogue.layers_of(key),
            characteristic_strength_mpa=preset.characteristic_strength_mpa,
            cement_class=preset.cement_class,
            title=preset.title,
            told=preset.told,
        )
        for key, preset in ways.presets.items()
    )


def _limits(ways: OwnWays, record: Record | None) -> tuple[dict[str, float], bool]:
    """Limits that change something, and whether a gentler one of the oven's own was kept."""
    told = ways.limits.told()
    held = limits_of(record) if record is not None else None
    if held is None:
        return told, False
    kept = False
    for name, value in tuple(told.items()):
        own = getattr(held, name)
        if own is None:
            continue
        harder = is_less_gentle(name, value, own)
        kept = kept or harder
        if harder or value == own:
            del told[name]
    return told, kept


def _unlearnt(record: Record, at: datetime) -> tuple[Learnt, ...]:
    """The running oven goes by the population again. What a model teaches it learns only at its
    beginning: no plan is to move because a neighbour has finished."""
    last = {one.model: one for one in record.all_of(Learnt)}
    return tuple(Learnt(at=at, model=one.model, ovens=0) for one in last.values() if one.ovens)


def _is_new(one: Constructed, record: Record | None) -> bool:
    """Whether the oven does not know this construction, or knows it otherwise."""
    known = record.own_constructions.get(one.construction) if record is not None else None
    told = {"at", "by", "key"}
    return known is None or known.model_dump(exclude=told) != one.model_dump(exclude=told)


def _differs(said: Worded, record: Record | None) -> bool:
    """Whether these words are new to the oven; at its beginning only if there are any."""
    before = record.last_of(Worded) if record is not None else None
    told = (said.greeting, said.cautions, said.before, said.after)
    if before is None:
        return any(told)
    return told != (before.greeting, before.cautions, before.before, before.after)
