"""Meanings of a builder's clients as a file, in and out."""

from typing import Literal

from pydantic import AwareDatetime, BaseModel, ConfigDict

from scheduling.choice import About
from scheduling.meaning.base import Said
from scheduling.meaning.setting_up import SetUpRefused


class RowFault(BaseModel):
    """One fault of a file of clients: the line, the column, what was written, and what is wrong.

    ``what``: ``no_header`` (the first line names no column ``name``), ``unknown_column`` (``near``
    may be meant), ``twice`` (a column, or a name), ``no_name``, ``too_many`` and ``too_long``
    (``most``), ``no_phone``, ``no_model``, ``no_place``, ``places``, ``days`` and ``several``
    (``choices`` may be meant), ``degrees`` (of latitude and longitude), ``cells`` (more cells than
    columns), ``answer`` (``about`` and its ``refusal``), ``not_text``, ``no_rows``.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    what: str
    line: int | None = None
    column: str = ""
    value: str = ""
    near: str = ""
    most: int = 0
    choices: tuple[str, ...] = ()
    about: About | None = None
    refusal: SetUpRefused | None = None


class ImportShown(Said):
    """A dry run: who would be invited, what is wrong, and who is there already. Nothing is done.

    ``new`` are names with how many answers are filled in; ``text`` is the file.
    """

    kind: Literal["import_shown"] = "import_shown"
    new: tuple[tuple[str, int], ...] = ()
    known: tuple[str, ...] = ()
    faults: tuple[RowFault, ...] = ()
    more_faults: int = 0
    text: str = ""


class ImportDone(Said):
    """So many are invited. ``file`` holds a line for each, with what to pass on; it is shown once,
    and is good until ``expires_at``."""

    kind: Literal["import_done"] = "import_done"
    invited: int
    file: str = ""
    expires_at: AwareDatetime | None = None


class ImportHow(Said):
    """How clients are brought along in a file, with an empty one (``file``) to fill in."""

    kind: Literal["import_how"] = "import_how"
    file: str
    models: tuple[str, ...] = ()


class ExportShown(Said):
    """All clients, and who was invited and has not come, as a file of the same columns."""

    kind: Literal["export_shown"] = "export_shown"
    clients: int
    invited: int
    file: str = ""
    ovens: tuple[str, ...] = ()
    """Ids of those that stand in it."""
