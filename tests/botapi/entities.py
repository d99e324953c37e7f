"""HTML as the Bot API takes it: which tags, that they balance, and what is left as text.

Source of the tags and limits: core.telegram.org/bots/api, "HTML style" and "sendMessage".
"""

import html
from html.parser import HTMLParser

TAGS = frozenset(
    {"b", "strong", "i", "em", "u", "ins", "s", "strike", "del", "span", "tg-spoiler", "a"}
    | {"code", "pre", "blockquote", "tg-emoji"}
)

_NAMED = {"lt": "<", "gt": ">", "amp": "&", "quot": '"'}


class EntityError(ValueError):
    """The markup can't be parsed; the text is the description that the API would answer."""


def utf16_units(text: str) -> int:
    """Length in UTF-16 code units, in which the API counts entity offsets."""
    return len(text.encode("utf-16-le", "surrogatepass")) // 2


def plain_text(marked: str) -> str:
    """The text after entities parsing. Raises EntityError."""
    reader = _Reader()
    reader.feed(marked)
    reader.close()
    if reader.open_tags:
        raise EntityError(
            f'can\'t find end tag corresponding to start tag "{reader.open_tags[-1]}"'
        )
    return "".join(reader.pieces)


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=False)
        self.open_tags: list[str] = []
        self.pieces: list[str] = []

    def handle_starttag(self, tag: str, attrs: object) -> None:
        if tag not in TAGS:
            raise EntityError(f'unsupported start tag "{tag}"')
        self.open_tags.append(tag)

    def handle_startendtag(self, tag: str, attrs: object) -> None:
        raise EntityError(f'unsupported start tag "{tag}/"')

    def handle_endtag(self, tag: str) -> None:
        if not self.open_tags or self.open_tags[-1] != tag:
            raise EntityError(f'unexpected end tag "{tag}"')
        self.open_tags.pop()

    def handle_entityref(self, name: str) -> None:
        if name not in _NAMED:
            raise EntityError(f"unknown named entity {name}")
        self.pieces.append(_NAMED[name])

    def handle_charref(self, name: str) -> None:
        self.pieces.append(html.unescape(f"&#{name};"))

    def handle_data(self, data: str) -> None:
        if "<" in data:
            raise EntityError("unescaped < in text")
        self.pieces.append(data)

    def handle_comment(self, data: str) -> None:
        raise EntityError('unsupported start tag "!"')

    def handle_decl(self, decl: str) -> None:
        raise EntityError('unsupported start tag "!"')

    def handle_pi(self, data: str) -> None:
        raise EntityError('unsupported start tag "?"')
