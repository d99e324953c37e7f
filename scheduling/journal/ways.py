"""A builder's own words, as they were when an oven took them over."""

from typing import Literal

from scheduling.journal.orders import Order


class Worded(Order):
    """Own words of the builder from now on, in place of those before.

    They are told beside the house's own sentences and never instead of them: a greeting at the
    first meeting, cautions before each lighting, and what to see to before and after a fire.
    """

    kind: Literal["worded"] = "worded"
    version: int
    greeting: str = ""
    cautions: tuple[str, ...] = ()
    before: tuple[str, ...] = ()
    after: tuple[str, ...] = ()
