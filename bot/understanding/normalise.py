"""The characters of a message, brought to one plain form before anyone looks for words.

Phones send full-width and Arabic-Indic digits, styled digits, curly quotes, keycap emoji and
no-break spaces; a thumbs-up is a word. Nothing here decides what a message means.
"""

import re
import unicodedata

_EMOJI_WORDS = {
    "👍": "yes",
    "👌": "yes",
    "✅": "yes",
    "✔": "yes",
    "🆗": "yes",
    "💯": "yes",
    "👎": "no",
    "❌": "no",
    "🙅": "no",
    "🌧": "raining",
    "☔": "raining",
    "🌦": "raining",
    "⛈": "raining",
    "❄": "snowing",
    "🌨": "snowing",
    "🙏": "thanks",
    "👋": "hello",
    "🍕": "pizza",
    "🤢": "sick",
    "🤮": "vomiting",
    "🤕": "hurt",
    "🪵": "logs",
    "❓": "?",
    "❔": "?",
    "❗": "!",
    "❕": "!",
}
_VULGAR_FRACTIONS = {"½": ".5", "¼": ".25", "¾": ".75", "⅓": ".33", "⅔": ".67"}
_SAME_SIGN = {
    "º": "°",
    "˚": "°",
    "∘": "°",
    "℃": "°c",
    "℉": "°f",
    "’": "'",
    "‘": "'",
    "`": "'",
    "´": "'",
    "ʼ": "'",
    "“": '"',
    "”": '"',
    "–": "-",
    "—": " - ",
    "−": "-",
    "‐": "-",
    "‑": "-",
    "‒": "-",
    "…": ". ",
    "،": ",",
    "٫": ".",
    "٬": ",",
    "؟": "?",
    "¿": "?",
    "~": " about ",
    "≈": " about ",
    "±": " about ",
    "×": "x",
    "&": " and ",
}
_LABEL = re.compile(r"(?<![\w'])(?:([tlrsh])(?= ?[:=]? ?\d)|([cf])(?=[:=]? ?\d\d)(?<=[cf])(?! ))")
_LABELS = {"t": "top", "l": "left", "r": "right", "s": "sides", "h": "hearth"}
_LABELS |= {"c": "crown", "f": "floor"}
"""Single letters as people label a list of readings: "t152 l140 r138"."""
_DIGIT = "zero|oh|one|two|three|four|five|six|seven|eight|nine"
_SPELT_OUT = re.compile(rf"\b(?:{_DIGIT})-(?:{_DIGIT})-(?:{_DIGIT})\b")
"""A number said digit by digit: "one-four-five"."""
_LABEL_AFTER = re.compile(r"(?<=\d)(?:[°c]? ?\(([tlrs])\)|[°c]? ?([tlrs])(?![\w']))")
"""The same after each figure: "102 (t) 88 (l) 90 (r)"."""
_LONGEST = 1000
"""Characters read of one message: a coach's question is never answered by an essay."""


def normalise(text: str) -> str:
    """``text`` in lower case with plain digits, quotes, dashes and spaces; emoji as words."""
    plain = "".join(_plain(char) for char in text[:_LONGEST])
    plain = re.sub(r"(?<!\d)(?=\.(?:5|25|75|33|67)\b)(?<=\s)", "0", plain)
    plain = re.sub(r"\bi(?:'d| ?would|d) (?=(?:say|guess|reckon|call it|estimate)\b)", "i ", plain)
    plain = re.sub(r"(?<=\d) ?-ish\b", " ish", plain)
    plain = _SPELT_OUT.sub(lambda said: said[0].replace("-", " "), plain)
    if len(_LABEL.findall(plain)) > 1 or re.search(r"\b[tlrsh] ?[:=]", plain):
        # a lone "l50" may as well be 150 with a letter for the one
        plain = _LABEL.sub(lambda label: f"{_LABELS[label[0]]} ", plain)
    if len(_LABEL_AFTER.findall(plain)) > 1:
        plain = _LABEL_AFTER.sub(lambda label: f" {_LABELS[label[1] or label[2]]}", plain)
    lines = (re.sub(r"\s+", " ", line).strip() for line in re.split(r"[\n\r\v\f\x85]+", plain))
    return "\n".join(line for line in lines if line)


def _plain(char: str) -> str:
    if char in _EMOJI_WORDS:
        return f" {_EMOJI_WORDS[char]} "
    if char in _SAME_SIGN:
        return _SAME_SIGN[char]
    if char in _VULGAR_FRACTIONS:
        return _VULGAR_FRACTIONS[char]
    if char in "\n\r\v\f\x85\u2028\u2029":
        return "\n"
    kind = unicodedata.category(char)
    if kind == "Nd":
        return str(unicodedata.decimal(char))
    if kind in ("No", "Nl"):
        # "15²" is an area or a footnote, never a hundred and fifty-two
        return " ¤ "
    if kind in ("Mn", "Me", "Cf"):
        # accents were folded below; what is left here joins or hides characters
        return ""
    if kind == "So" and char != "°" and ord(char) > 0x2FFF:
        # a face or a flame ends what was said before it
        return " , "
    if kind in ("So", "Sk", "Co", "Cs", "Cn", "Cc") and char != "°":
        return " "
    folded = unicodedata.normalize("NFKD", char)
    return "".join(_same(part) for part in folded if unicodedata.category(part) != "Mn").lower()


def _same(part: str) -> str:
    return _SAME_SIGN.get(part, part)
