"""What is to be said: meanings with numbers. ``bot.wording`` turns them into sentences."""

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

from scheduling.remark import Doubt


class _Meaning(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class NotClear(_Meaning):
    """A message that could have meant several things is asked back."""

    kind: Literal["not_clear"] = "not_clear"
    doubt: Doubt


class NothingHere(_Meaning):
    """The same answer for what is not yours and for what does not exist."""

    kind: Literal["nothing_here"] = "nothing_here"


Meaning = Annotated[NotClear | NothingHere, Field(discriminator="kind")]
