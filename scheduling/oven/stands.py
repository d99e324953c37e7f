"""Where an oven stands: what is over it and beside it, and whether a fire may be lit there at all.

A fire indoors gives off carbon monoxide and heat that a house is not built for; in the open it
matters what near it can burn. In words ``sky+beside+sheet``: what is over it, then what else.
"""

from enum import StrEnum
from typing import Any, Self

from pydantic import BaseModel, ConfigDict, model_validator


class Over(StrEnum):
    """What is over the oven, for good."""

    SKY = "sky"
    SLATS = "slats"  # a pergola, an awning, a tree: rain comes through, sparks reach it
    ROOF = "roof"  # of a carport, a porch, a lean-to: open at the sides, keeps rain off
    INDOORS = "indoors"  # walls around: a house, a garage, a shed, a tent, a conservatory


BESIDE, SHEET = "beside", "sheet"


class Stands(BaseModel):
    """``beside``: a fence, hedge, shed or wall that can burn, within about two metres. ``sheet``:
    one is put over it between fires."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    over: Over = Over.SKY
    beside: bool = False
    sheet: bool = False

    @model_validator(mode="before")
    @classmethod
    def _in_words(cls, said: Any) -> Any:
        """An oven's file may write it as one word: ``roof+beside``."""
        if not isinstance(said, str):
            return said
        over, *more = said.strip().lower().split("+")
        odd = [one for one in more if one not in (BESIDE, SHEET)]
        if odd or len(more) > len(set(more)):
            raise ValueError(f"{said!r} is not understood; write it like sky, roof or sky+beside")
        return {"over": over, "beside": BESIDE in more, "sheet": SHEET in more}

    @classmethod
    def read(cls, said: str) -> Self:
        """The same out of an answer. Raises ValidationError."""
        return cls.model_validate(said)

    def __str__(self) -> str:
        """The notation of the answer; indoors nothing else matters."""
        if self.indoors:
            return Over.INDOORS.value
        more = [name for name, has in ((BESIDE, self.beside), (SHEET, self.sheet)) if has]
        return "+".join([self.over.value, *more])

    @property
    def indoors(self) -> bool:
        """No fire is led here."""
        return self.over is Over.INDOORS

    @property
    def covered(self) -> bool:
        """Something is over it that may burn, or be spoilt by smoke and heat."""
        return self.over in (Over.SLATS, Over.ROOF)

    @property
    def may_catch(self) -> bool:
        """Something near it may burn."""
        return self.beside or self.covered
