"""The oven as it was described, its mortar, and what limits were set."""

from reportlab.platypus import Flowable, KeepTogether, Spacer

from bot.papers.assumed import assumed
from bot.papers.sheets import heading, pairs, paragraph, table
from bot.papers.told import Telling
from bot.wording.learnt import learnt
from bot.wording.papers import limits
from bot.wording.speech import joined
from scheduling.choice import About
from scheduling.oven.makeup import MakeUp
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


def _stands(stands: Stands | None) -> str:
    """What is over it and beside it, in a few words."""
    if stands is None:
        return "not asked"
    beside = ", beside something that can burn" if stands.beside else ""
    return OVERS[stands.over] + beside


def oven(t: Telling) -> list[Flowable]:
    """What it is made of, layer by layer from the fire outward."""
    parts: list[Flowable] = [paragraph("The oven", "head")]
    makeup = t.paper.makeup
    if makeup is None:
        return [*parts, paragraph("The oven has not been described yet.")]
    meter = makeup.instrument
    mark = assumed(makeup, t.paper.record.own_constructions).marked
    read_with = "none" if meter is None else (
        f"infrared, to {t.m.degrees(meter.max_c)}; emissivity "
        + mark("emissivity", f"{meter.emissivity:g}")
    )  # fmt: skip
    size = t.size(makeup.inner_diameter_mm)
    if t.paper.record.answers.get(About.SIZE) == "unknown":
        size += " (assumed, not measured)"
    mouth = f"{t.size(makeup.mouth_width_mm)} × {t.size(makeup.mouth_height_mm)}"
    facts = [
        ("Construction", _construction(t, makeup.construction)),
        ("Inner diameter", size),
        ("Mouth", mark("mouth", mouth)),
        ("Cement class", mark("cement", CLASSES[makeup.cement_class])),
        ("Strength, 28 days", mark("strength", f"{makeup.characteristic_strength_mpa:g} MPa")),
        ("Stands", _stands(makeup.stands)),
        ("Cover", COVERS[makeup.cover.value]),
        ("Door", DOORS[makeup.door.value]),
        ("Flue", {None: "not asked", True: "yes", False: "none"}[makeup.flue]),
        ("Wind", mark("shelter", SHELTERS[makeup.shelter.value])),
        ("Thermometer", read_with),
        ("Water at the start", f"about {makeup.initial_water_l:.0f} l, reckoned from the layers"),
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
        KeepTogether([*parts, pairs(facts, t.wide)]),
        *heading("Wall, from the fire outward", second=True),
        table(heads, rows, [t.wide * share for share in shares], right=(2, 3, 4, 5)),
        paragraph(_known(t, makeup), "quiet"),
    ]


def _known(t: Telling, makeup: MakeUp) -> str:
    """Where the layers come from, what the word in brackets means, and what others taught."""
    record = t.paper.record
    return joined(_layers(t, makeup), learnt(record.learnt) if record.learnt else None)


def _layers(t: Telling, makeup: MakeUp) -> str:
    usual = "Assumed: as is usual for this construction; nobody was asked, or nobody knew."
    if "layers" in assumed(makeup, t.paper.record.own_constructions).names:
        thick = "" if About.THICKNESS not in t.paper.record.answers else " but for the shell"
        return f"All layers{thick} are assumed, in thickness and in material. {usual}"
    return f"The layers are those of the builder’s own description. {usual}"


def _construction(t: Telling, key: str) -> str:
    """Title and key of a construction."""
    own, preset = t.paper.record.own_constructions.get(key), shipped().presets.get(key)
    title = own.title if own is not None else preset.title if preset is not None else ""
    return f"{title} ({key})" if title else key


def mortar(t: Telling) -> list[Flowable]:
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
        ("Ready for fires", t.day(cured.ready_on) if cured.ready_on else "no day"),
        ("First fire", t.day(first.lit_on) if first is not None else "none yet"),
        ("State", STANDINGS[cured.standing]),
        (f"Age {when}", f"{days} days; as many as {cured.age_d(asked):.1f} at 20 °C"),
        (f"Strength {when}", f"{100 * cured.strength(asked):.0f} % of that at 28 days"),
        ("Builder’s least days", "" if floor is None else f"{floor}"),
        ("Frost while tender", frosts or "none known"),
    ]
    return [
        *heading("The mortar"),
        pairs(facts, t.wide),
        Spacer(0, 4),
        paragraph(
            "Age at 20 °C and strength are reckoned by EN 1992-1-1, Annex B and 3.1.2, for the "
            "cement class above, from the air as it was forecast, and from the usual weather of "
            "the place where it was not.",
            "quiet",
        ),
    ]


def limits_set(t: Telling) -> list[Flowable]:
    """The builder's limits that hold."""
    if t.paper.limits is None:
        return []
    told = limits(t.paper.limits, t.m)
    return [*heading("Limits set by the builder"), paragraph("; ".join(told) + ".")]
