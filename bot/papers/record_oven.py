"""The first part of the record: the oven, its people, its cure, and what limits were set."""

from reportlab.platypus import Flowable, Paragraph, Spacer

from bot.papers.sheets import heading, pairs, paragraph, table
from bot.papers.told import Telling
from bot.papers.typeface import escaped, styles
from bot.wording.papers import ENDED, limits
from scheduling.choice import About
from scheduling.oven.maturity import Standing
from scheduling.oven.preset import shipped
from scheduling.oven.stands import Over, Stands

COVERS = {"open": "open to the sky", "sheet": "a sheet when it rains", "roof": "a roof"}
OVERS = {
    Over.SKY: "under the open sky",
    Over.SLATS: "under slats or branches",
    Over.ROOF: "under a roof, open at the sides",
    Over.INDOORS: "indoors",
}
DOORS = {"none": "none yet", "plain": "plain", "insulated": "insulated"}
SHELTERS = {"exposed": "exposed", "part": "partly sheltered", "sheltered": "well sheltered"}
CLASSES = {"S": "S (slow)", "N": "N (normal)", "R": "R (rapid)"}
STANDINGS = {
    Standing.READY: "strong enough for fires",
    Standing.CURING: "still curing",
    Standing.FROZEN: "froze in its first days, not cleared",
    Standing.TOO_COLD: "too cold to gain strength",
}


def opening(t: Telling) -> list[Flowable]:
    """Title and the few facts that everything else belongs to."""
    paper, record = t.paper, t.paper.record
    tenders = [t.who(one) for one in record.tenders]
    finished = "not finished" if paper.finished_at is None else t.on(paper.finished_at)
    facts = [
        ("Oven", paper.oven),
        ("Place", paper.place),
        ("Owner", tenders[0] if tenders else ""),
        ("Also at the fire", ", ".join(tenders[1:])),
        ("To ring them", ", ".join(t.paper.people.phones.values())),
        ("Builder", paper.builder or "none named"),
        ("Kept since", t.on(paper.opened_at)),
        ("As of", t.at(paper.as_of)),
        ("Break-in finished", finished),
        ("Fires lit", str(len(paper.firings))),
        ("Entries in the journal", str(paper.entries)),
    ]
    return [
        Paragraph(escaped("Record of the break-in"), styles()["title"]),
        paragraph(", ".join(part for part in (paper.oven, paper.place) if part), "under"),
        pairs(facts, t.wide),
        Spacer(0, 6),
        paragraph(
            "This record tells what was told, read, advised and done, as it was written down at "
            "the time. It draws no conclusion. Times are those of the oven’s own clock "
            f"({record.zone}); temperatures are surface temperatures as the instrument showed "
            "them.",
            "quiet",
        ),
    ]


def _stands(stands: Stands | None) -> str:
    """What is over it and beside it, in a few words."""
    if stands is None:
        return "not asked"
    beside = ", beside something that can burn" if stands.beside else ""
    return OVERS[stands.over] + beside


def oven(t: Telling) -> list[Flowable]:
    """What it is made of, layer by layer from the fire outward."""
    parts: list[Flowable] = [*heading("The oven")]
    makeup = t.paper.makeup
    if makeup is None:
        return [*parts, paragraph("The oven has not been described yet.")]
    meter = makeup.instrument
    read_with = "none" if meter is None else (
        f"infrared, to {t.m.degrees(meter.max_c)}, set to emissivity {meter.emissivity:g}"
    )  # fmt: skip
    size = t.size(makeup.inner_diameter_mm)
    if t.paper.record.answers.get(About.SIZE) == "unknown":
        size += " (taken as usual, not measured)"
    facts = [
        ("Construction", _construction(t, makeup.construction)),
        ("Inner diameter", size),
        ("Mouth", f"{t.size(makeup.mouth_width_mm)} × {t.size(makeup.mouth_height_mm)}"),
        ("Cement class", CLASSES[makeup.cement_class]),
        ("Strength, 28 days", f"{makeup.characteristic_strength_mpa:g} MPa, by the description"),
        ("Stands", _stands(makeup.stands)),
        ("Cover", COVERS[makeup.cover.value]),
        ("Door", DOORS[makeup.door.value]),
        ("Flue", {None: "not asked", True: "yes", False: "none"}[makeup.flue]),
        ("Wind", SHELTERS[makeup.shelter.value]),
        ("Thermometer", read_with),
        ("Water at the start", f"about {makeup.initial_water_l:.0f} l, by the description"),
    ]
    rows = [
        (
            layer.kind,
            layer.material,
            f"{layer.thickness_mm:g}",
            f"{layer.density_kg_m3:g}",
            f"{layer.conductivity_w_mk:g}",
            f"{layer.free_water_kg_m3:g}",
        )
        for layer in makeup.layers
    ]
    heads = ("Layer", "Material", "mm", "kg/m³ dry", "W/mK", "water kg/m³")
    shares = (0.14, 0.42, 0.08, 0.12, 0.10, 0.14)
    return [
        *parts,
        pairs(facts, t.wide),
        *heading("Wall, from the fire outward", second=True),
        table(heads, rows, [t.wide * share for share in shares], right=(2, 3, 4, 5)),
    ]


def _construction(t: Telling, key: str) -> str:
    """Title and key of a construction."""
    own, preset = t.paper.record.own_constructions.get(key), shipped().presets.get(key)
    title = own.title if own is not None else preset.title if preset is not None else ""
    return f"{title} ({key})" if title else key


def cure(t: Telling) -> list[Flowable]:
    """How the mortar hardened before the first fire."""
    makeup, cured = t.paper.makeup, t.paper.cure
    if makeup is None or cured is None:
        return []
    first = t.paper.firings[0] if t.paper.firings else None
    asked = first.lit_on if first is not None else t.paper.record.today(t.paper.as_of)
    days = (asked - cured.began).days
    floor = t.paper.limits.cure_floor_d if t.paper.limits is not None else None
    when = "at the first fire" if first is not None else "today"
    frosts = "; ".join(
        f"{t.day(one.day)}, {t.m.degrees(one.low_c)}{' (hard)' if one.hard else ''}"
        for one in cured.frosts
    )
    facts = [
        ("Last wet work", t.day(cured.began)),
        ("Ready, as reckoned", t.day(cured.ready_on) if cured.ready_on else "no day"),
        ("First fire", t.day(first.lit_on) if first is not None else "none yet"),
        ("Stands", STANDINGS[cured.standing]),
        (f"Days {when}", f"{days}"),
        (f"Days at 20 °C {when}", f"{cured.age_d(asked):.1f}"),
        (f"Strength {when}", f"{cured.strength(asked):.0%} of that at 28 days"),
        ("Builder’s least days", "" if floor is None else f"{floor}"),
        ("Frost while tender", frosts or "none known"),
    ]
    return [
        *heading("The cure"),
        pairs(facts, t.wide),
        Spacer(0, 4),
        paragraph(
            "Equivalent age and strength are reckoned by EN 1992-1-1, Annex B and 3.1.2, from the "
            "air as it was forecast, and from the usual weather of the place where it was not.",
            "quiet",
        ),
    ]


def limits_set(t: Telling) -> list[Flowable]:
    """The builder's limits that hold."""
    if t.paper.limits is None:
        return []
    told = limits(t.paper.limits, t.m)
    return [*heading("Limits set by the builder"), paragraph("; ".join(told) + ".")]


def at_a_glance(t: Telling) -> list[Flowable]:
    """All fires in one table."""
    logs = t.paper.firings
    if not logs:
        return [*heading("The fires"), paragraph("No fire has been lit yet.")]
    unit = f"°{t.m.unit}"
    heads = ("Fire", "Day", f"Aim {unit}", f"Peak {unit}", "Held h", "Wood kg", "Ended")
    rows = [
        (
            f"{log.number}",
            t.day(log.lit_on),
            "none" if log.aim is None else t.figure(log.aim.plateau_c),
            t.figure(log.peak_c) or "not read",
            f"{log.held_h:.1f}",
            "" if log.wood_kg is None else f"{log.wood_kg:.1f}",
            "burning" if log.ended is None else ENDED[log.ended.why],
        )
        for log in logs
    ]
    shares = (0.07, 0.28, 0.10, 0.10, 0.09, 0.10, 0.26)
    return [
        *heading("The fires at a glance"),
        table(heads, rows, [t.wide * share for share in shares], right=(0, 2, 3, 4, 5)),
    ]
