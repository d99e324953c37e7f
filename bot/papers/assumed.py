"""What of an oven's make-up nobody has told: taken as is usual for its construction."""

from collections.abc import Mapping
from dataclasses import dataclass

from scheduling.journal import Constructed
from scheduling.oven.makeup import Instrument, MakeUp
from scheduling.oven.preset import (
    MOUTH_TO_DIAMETER,
    MOUTH_TO_DOME_HEIGHT,
    DescriptionError,
    shipped,
)


@dataclass(frozen=True, slots=True)
class Assumed:
    """Names of what is assumed: layers, mouth, cement, strength, shelter, emissivity."""

    names: frozenset[str]

    def marked(self, name: str, shown: str) -> str:
        """``shown``, with a word beside it where it is assumed."""
        return f"{shown} (assumed)" if name in self.names else shown


def assumed(makeup: MakeUp, own: Mapping[str, Constructed]) -> Assumed:
    """What is as usual. A builder's own construction tells layers, strength and cement itself."""
    usual = _usual(makeup)
    alike = {
        "mouth": _is_usual_mouth(makeup),
        "shelter": makeup.shelter is MakeUp.model_fields["shelter"].default,
        "emissivity": _is_usual_setting(makeup.instrument),
    }
    if makeup.construction not in own and usual is not None:
        alike |= {
            "cement": makeup.cement_class == usual.cement_class,
            "strength": makeup.characteristic_strength_mpa == usual.characteristic_strength_mpa,
            # A shell whose thickness was told leaves the layers over it.
            "layers": makeup.layers[1:] == usual.layers[1:],
        }
    return Assumed(frozenset(name for name, is_usual in alike.items() if is_usual))


def _is_usual_mouth(makeup: MakeUp) -> bool:
    wide_mm = MOUTH_TO_DIAMETER * makeup.inner_diameter_mm
    high_mm = MOUTH_TO_DOME_HEIGHT * makeup.inner_diameter_mm / 2
    return (
        abs(makeup.mouth_width_mm - wide_mm) < 0.5 and abs(makeup.mouth_height_mm - high_mm) < 0.5
    )


def _is_usual_setting(instrument: Instrument | None) -> bool:
    usual = Instrument.model_fields["emissivity"].default
    return instrument is not None and instrument.emissivity == usual


def _usual(makeup: MakeUp) -> MakeUp | None:
    """The construction as it comes, in this size; None for one that is no longer known."""
    if makeup.construction not in shipped().presets:
        return None
    try:
        return shipped().make_up(
            makeup.construction,
            name=makeup.name,
            inner_diameter_mm=makeup.inner_diameter_mm,
            wet_work_ended=makeup.wet_work_ended,
        )
    except DescriptionError:
        return None
