"""From own ways to what an oven takes over: limits, words and constructions, as entries."""

from datetime import datetime

from bot.ways.shape import OwnWays, catalogue_of, is_less_gentle, less_gentle
from scheduling.happening import WaysTaken
from scheduling.journal import Constructed, LimitsSet, Worded
from scheduling.ports import UnitOfWork, Way
from scheduling.record import Record
from scheduling.record.outlook import limits_of


def ways_in(way: Way | None) -> OwnWays:
    """The ways of a stored version; none at all for None."""
    return OwnWays() if way is None else OwnWays.model_validate_json(way.body)


async def ways_of(unit: UnitOfWork, builder: str | None, at: datetime) -> WaysTaken | None:
    """What a new oven of that builder begins with; None where they have no ways of their own."""
    way = await unit.ways.latest(builder) if builder is not None else None
    return None if way is None else taken_by(way, way.made_by, at)


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
    )


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
