"""What sort of owner tends an oven of a trial, as numbers drawn for each of them."""

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from tests.trials.unmet_ovens.make import between


class Kind(StrEnum):
    """Owners there are."""

    PROMPT = "prompt"
    LATE = "late"
    FORGETFUL = "forgetful"
    HEAVY = "heavy-handed"
    LIGHT = "light-handed"
    WRONG_UNIT = "wrong unit"
    NO_THERMOMETER = "no thermometer"
    DAMP_WOOD = "damp wood"
    WINDY = "windy"
    AFTER_RAIN = "after rain"


PROMPT_MIN, LATE_MIN = (1.0, 5.0), (10.0, 40.0)
AT_ONCE_MIN = (1.0, 4.0)
WALKS_AWAY = 0.4
FORGETS = 1.0 / 3.0
HEAVY_HAND, LIGHT_HAND, USUAL_HAND = (1.2, 1.8), (0.6, 0.85), (0.92, 1.08)
WEIGHS_WITHIN = 0.12
"""Spread of one charge about what was asked, for anybody."""
SPLITS = (0.75, 1.35)
"""Thickness of the pieces over what was said."""
DRY_WOOD, DAMP_WOOD = (0.10, 0.22), (0.25, 0.35)
SHELTERED, IN_THE_WIND = (0.2, 0.5), (0.6, 1.0)
"""Wind at the mouth over what the weather tells."""
RAIN_KG_M2 = (0.5, 2.5)


@dataclass(frozen=True, slots=True)
class Habits:
    """One owner."""

    kind: Kind
    answers_min: tuple[float, float]
    walks_away: float
    """How often the answer that comes at once no longer finds them at the oven."""
    forgets: float
    hand: float
    splits: float
    moisture: float
    wind_share: float
    measures: bool
    fahrenheit_fire: int | None = None
    """In which fire the thermometer stands on °F without anybody noticing."""
    from_the_morning: bool = False
    soaked_after_fire: int | None = None
    rain_kg_m2: float = 0.0


def draw_habits(kind: Kind, rng: np.random.Generator) -> Habits:
    """An owner of that kind."""
    hands = {Kind.HEAVY: HEAVY_HAND, Kind.LIGHT: LIGHT_HAND}
    return Habits(
        kind=kind,
        answers_min=LATE_MIN if kind is Kind.LATE else PROMPT_MIN,
        walks_away=WALKS_AWAY if kind is Kind.LATE else 0.0,
        forgets=FORGETS if kind is Kind.FORGETFUL else 0.0,
        hand=between(rng, hands.get(kind, USUAL_HAND)),
        splits=between(rng, SPLITS),
        moisture=between(rng, DAMP_WOOD if kind is Kind.DAMP_WOOD else DRY_WOOD),
        wind_share=between(rng, IN_THE_WIND if kind is Kind.WINDY else SHELTERED),
        measures=kind is not Kind.NO_THERMOMETER,
        fahrenheit_fire=int(rng.integers(1, 5)) if kind is Kind.WRONG_UNIT else None,
        from_the_morning=bool(rng.random() < 0.5),
        soaked_after_fire=int(rng.integers(1, 4)) if kind is Kind.AFTER_RAIN else None,
        rain_kg_m2=between(rng, RAIN_KG_M2),
    )
