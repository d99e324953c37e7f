"""A builder's models: ovens that they build again and again, filled in by one tap."""

from collections.abc import Iterator, Mapping
from datetime import date

from bot.ways.lines import line_of
from bot.ways.shape import Model, OwnWays, catalogue_of
from scheduling.choice import About
from scheduling.firing.answers import USUAL_DIAMETER_MM, Refused, checked
from scheduling.meaning.ways import WayFault
from scheduling.oven.preset import DescriptionError

MOST_MODELS = 24

_ANY_DAY = date(2026, 1, 1)


def answers_of(model: Model) -> tuple[tuple[About, str], ...]:
    """What a model answers of the set-up, in the notation of ``About``."""
    told = {
        About.CONSTRUCTION: model.construction.lower(),
        About.SIZE: _figure(model.diameter_mm),
        About.THICKNESS: _figure(model.shell_mm),
        About.INSTRUMENT: _figure(model.thermometer_c),
    }
    if model.door is not None and model.flue is not None:
        told[About.OPENINGS] = f"{model.door.value}+{'flue' if model.flue else 'no_flue'}"
    return tuple((about, value) for about, value in told.items() if value)


def model_called(ways: OwnWays, typed: str) -> str | None:
    """The key of the model of that key or title; None for none."""
    wanted = " ".join(typed.split()).casefold()
    for key, model in ways.models.items():
        if wanted in (key.casefold(), model.title.casefold()):
            return key
    return None


def faults_of(ways: OwnWays, text: str) -> Iterator[tuple[WayFault, tuple[str, ...]]]:
    """What is wrong with models, each fault with the path of the key that it is about."""
    if len(ways.models) > MOST_MODELS:
        line = line_of(text, ("models",))
        yield WayFault(what="too_many", line=line, field="models", high=MOST_MODELS), ("models",)
        return
    known = catalogue_of(ways)
    for key, model in ways.models.items():
        if model.construction not in known.presets:
            near = ", ".join(ways.presets) or ", ".join(known.presets)
            yield _fault(text, key, "construction", "no_construction", model.construction, near)
            continue
        faults = tuple(_out_of_range(key, model, text))
        yield from faults
        if not faults:
            yield from _that_does_not_stand(ways, key, model, text)


_RANGED: Mapping[About, str] = {
    About.SIZE: "diameter_mm",
    About.THICKNESS: "shell_mm",
    About.INSTRUMENT: "thermometer_c",
}


def _out_of_range(key: str, model: Model, text: str) -> Iterator[tuple[WayFault, tuple[str, ...]]]:
    for about, value in answers_of(model):
        if about not in _RANGED:
            continue
        try:
            checked(about, value, _ANY_DAY, {})
        except Refused as refused:
            fault, path = _fault(text, key, _RANGED[about], "out_of_range", value)
            yield fault.model_copy(update={"low": refused.low, "high": refused.high}), path


def _that_does_not_stand(
    ways: OwnWays, key: str, model: Model, text: str
) -> Iterator[tuple[WayFault, tuple[str, ...]]]:
    shell = None if model.shell_mm is None else {"shell": model.shell_mm}
    try:
        catalogue_of(ways).make_up(
            model.construction,
            thickness_mm=shell,
            name="?",
            inner_diameter_mm=model.diameter_mm or USUAL_DIAMETER_MM,
            wet_work_ended=_ANY_DAY,
        )
    except DescriptionError as error:
        for said in error.sentences:
            yield _fault(text, key, "", "description", said)


def _fault(
    text: str, key: str, field: str, what: str, value: str, near: str = ""
) -> tuple[WayFault, tuple[str, ...]]:
    path = ("models", key, field) if field else ("models", key)
    told = {"what": what, "line": line_of(text, path), "field": field or key, "value": value}
    return WayFault.model_validate(told | {"near": near}), path


def _figure(value: float | None) -> str:
    return "" if value is None else f"{value:g}"
