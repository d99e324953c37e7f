"""What is said, past everything else, while nothing can be kept."""

from typing import Final

UNKEPT: Final = (
    "I cannot keep anything at the moment, so I cannot help you at a fire. "
    "<b>Put no wood on</b>; if a fire burns, let it go down and stay with it. "
    "If anything is wrong, step back; if anybody is unwell or something else burns, call your "
    "emergency number. What you write now I shall answer as soon as I can keep it again."
)
