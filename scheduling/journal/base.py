"""What every entry of a journal carries."""

from pydantic import AwareDatetime, BaseModel, ConfigDict


class Written(BaseModel):
    """An entry: when it happened, who told it, and by which message."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    at: AwareDatetime
    """When it happened (which may be before it was told)."""
    by: str = ""
    """The person who said it; empty for the house itself."""
    key: str | None = None
    """The message it came from: an edited message takes the entries of its first version back."""
    v: int = 1
