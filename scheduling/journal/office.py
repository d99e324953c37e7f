"""Entries of the builder's side that order nothing: cases, notes, and talk through the bot."""

from typing import Literal

from scheduling.journal.base import Written


class CaseTaken(Written):
    """Somebody of the team looks after what is wrong; ``name`` as the team calls them."""

    kind: Literal["case_taken"] = "case_taken"
    name: str = ""


class CaseHandedBack(Written):
    """Who had it has it no longer: it is anybody's again."""

    kind: Literal["case_handed_back"] = "case_handed_back"
    name: str = ""


class CaseClosed(Written):
    """Nothing is left to do; ``why`` in their words."""

    kind: Literal["case_closed"] = "case_closed"
    name: str = ""
    why: str = ""


class CaseRung(Written):
    """Nobody had taken it, so the whole team was told again, for the ``step``-th time."""

    kind: Literal["case_rung"] = "case_rung"
    needs: str
    step: int


class Jotted(Written):
    """A note of the builder's, for the builder's side alone unless ``shown`` to the owner."""

    kind: Literal["jotted"] = "jotted"
    text: str
    name: str = ""
    shown: bool = False


class TalkOpened(Written):
    """Somebody of the team speaks with the owner through the bot."""

    kind: Literal["talk_opened"] = "talk_opened"
    name: str = ""


class TalkSaid(Written):
    """What one side said to the other."""

    kind: Literal["talk_said"] = "talk_said"
    side: Literal["builder", "owner"]
    text: str = ""
    photo: str | None = None
    name: str = ""


class TalkClosed(Written):
    """The talk is over."""

    kind: Literal["talk_closed"] = "talk_closed"
    name: str = ""
