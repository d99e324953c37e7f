"""What can go wrong between us and the Bot API, to be scripted call by call.

``recorded`` says whether the server had already acted when it failed: that is the difference
between a message that can be sent again and one that nobody knows about.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class TooMany:
    """429, naming its wait. Nothing was done."""

    wait_s: int = 3


@dataclass(frozen=True, slots=True)
class Refusal:
    """403 or 400 (or any other code) with a description. Nothing was done."""

    code: int = 403
    description: str = "Forbidden: bot was blocked by the user"


@dataclass(frozen=True, slots=True)
class PoliteRefusal:
    """200, with an answer that says no. Nothing was done."""

    code: int = 500
    description: str = "Internal Server Error"


@dataclass(frozen=True, slots=True)
class BadGateway:
    """502 from something in front of the API."""

    recorded: bool = False


@dataclass(frozen=True, slots=True)
class Hang:
    """Acts, and never answers: the caller runs into its read timeout."""

    recorded: bool = True


@dataclass(frozen=True, slots=True)
class Cut:
    """Drops the connection without an answer."""

    recorded: bool = False


@dataclass(frozen=True, slots=True)
class Garbage:
    """Answers 200 with something that is not JSON, having acted."""

    body: bytes = b"<html>maintenance</html>"
    recorded: bool = True


Fault = TooMany | Refusal | PoliteRefusal | BadGateway | Hang | Cut | Garbage
