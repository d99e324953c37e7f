"""What nobody means to type: any Unicode, and what is known to break programs."""

from hypothesis import strategies as st

MARK = "Qzvxj"
"""Stands in every text, so that it is found again where it must not be."""

FRAGMENTS = (
    "\u202e",  # turns the direction
    "\u2066\u2069\u200f\u061c",
    "\x00",
    "\x1b[2J\x07\x08",
    "\ud83d",  # half of a pair
    "\udc00\ud800",
    "e\u0301" * 20,
    "a" + "\u0489" * 60,
    "🔥" * 30,
    "👨‍👩‍👧‍👦",
    "\U000e0041\U000e007f",  # tags
    "\ufeff",
    "\u2028\u2029\x85",
    "\r\n\t\v\f",
    "\u00ad\u200b\u200d",
    "ﷺ" * 10,
    "İıſßŉ",
    "١٥٢",
    "²½①Ⅷ𝟙𝟝𝟚",
    "１５２",
    "−5",
    "=1+1",
    "@SUM(A1)",
    "+44",
    "-2",
    "<b>",
    "</b></i>",
    "&amp;&#0;",
    "%s%n{0}{x}${y}",
    "'; drop table ovens; --",
    "../../etc/x",
    "CON",
    "a/b\\c:d*e?f|g",
    "]]>",
    "BEGIN:VEVENT",
    "\\n;,",
    '"""',
    "[limits]",
    "9" * 400,
    "1e999",
    "nan",
    "2 May 0001",
    "31/2/99999",
    "\ue000\uffff\U0010ffff",
)

any_sign = st.characters(codec=None, exclude_categories=())

hostile = st.builds(
    "".join,
    st.lists(
        st.one_of(st.sampled_from(FRAGMENTS), st.text(any_sign, max_size=12), st.just(" ")),
        min_size=1,
        max_size=6,
    ),
).map(lambda text: f"{text}{MARK}")

LONGEST = (
    "🔥" * 4096,
    "e" + "\u0301" * 4095,
    "\u202e" * 4096,
    "1/" * 2048,
    "²" * 4096,
    "\x00" * 4096,
    "\ud83d" * 4096,
    " " * 4096,
    "<b>" * 1365,
    "=" * 4096,
)
"""As long as a message can be."""
