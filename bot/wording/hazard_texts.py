"""The texts of every hazard, read once from ``hazards.toml``; a missing one fails the import."""

import tomllib
from importlib.resources import files

from pydantic import BaseModel, ConfigDict, Field

from scheduling.hazard import HAZARDS, Description, Hazard


class HazardText(BaseModel):
    """What is said of one hazard; the fields are explained at the head of ``hazards.toml``."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    name: str = Field(min_length=3)
    look_at: str = Field(min_length=3)
    report: str = Field(min_length=10)
    button: str = ""
    first: str = ""
    first_unlit: str = ""
    steps: tuple[str, ...] = ()
    steps_unlit: tuple[str, ...] | None = None
    ask: str = ""
    good: str = ""
    bad: str = ""
    over: str = ""
    source: str = ""
    without_flue: dict[str, str | tuple[str, ...]] = Field(default_factory=dict)

    def opening(self, *, lit: bool) -> str:
        """What to do first."""
        return self.first if lit else self.first_unlit or self.first

    def of_no_flue(self) -> "HazardText":
        """As it is said of an oven that has none."""
        return HazardText.model_validate(self.model_dump() | self.without_flue)

    def following(self, *, lit: bool) -> tuple[str, ...]:
        """What to do then."""
        return self.steps if lit or self.steps_unlit is None else self.steps_unlit


def _needed(described: Description) -> tuple[str, ...]:
    """The fields that have to be there, beside those that every hazard has."""
    told = ("first", "steps", "good", "bad") if described.told else ()
    asked = ("ask", "over", "source") if described.asked else ()
    return (*told, *asked, *(("button",) if described.listed else ()))


def texts_in(written: str) -> dict[Hazard, HazardText]:
    """The texts of all hazards, from the file as it is written.

    Raises:
        ValueError: for a hazard without its texts, or texts of no hazard.
    """
    sections = tomllib.loads(written)
    found = {Hazard(key): HazardText.model_validate(text) for key, text in sections.items()}
    for hazard, described in HAZARDS.items():
        text = found.get(hazard)
        lacking = [name for name in _needed(described) if not getattr(text, name, None)]
        if text is None or lacking:
            raise ValueError(f"hazards.toml lacks {', '.join(lacking) or 'all'} of {hazard.value}")
    return found


TEXTS = texts_in(files("bot.wording").joinpath("hazards.toml").read_text("utf-8"))

WITHOUT_FLUE = {hazard: text.of_no_flue() for hazard, text in TEXTS.items()}


def text_of(hazard: Hazard, flue: bool | None) -> HazardText:
    """What is said of it at an oven with a flue, or without; where nobody knows, as with one."""
    return (WITHOUT_FLUE if flue is False else TEXTS)[hazard]
