"""A voice that says only what kind of thing is meant, with every choice on a button."""

from datetime import datetime

from scheduling.choice import Choice, SetUpAnswer
from scheduling.meaning import Meaning, SetUpQuestion
from scheduling.ports import Parcel, Person


class PlainVoice:
    """Names meanings."""

    def render(self, meaning: Meaning, reader: Person, zone: str, now: datetime) -> Parcel:
        about = getattr(meaning, "about", None) or getattr(meaning, "what", None)
        text = f"{meaning.kind} {about}" if about is not None else meaning.kind
        choices: dict[str, Choice] = {}
        if isinstance(meaning, SetUpQuestion):
            choices = {
                option.title or option.value: SetUpAnswer(about=meaning.about, value=option.value)
                for option in meaning.options
            }
        return Parcel(text=text, buttons=tuple((label,) for label in choices), choices=choices)
