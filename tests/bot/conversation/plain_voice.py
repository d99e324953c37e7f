"""A voice that says only what kind of thing is meant, with every choice on a button."""

from datetime import datetime

from bot.wording.voice import Voice
from scheduling.choice import Choice, SetUpAnswer
from scheduling.meaning import Meaning, SetUpQuestion
from scheduling.outcome import Urgency
from scheduling.ports import Parcel, Person

NAMED = ("about", "what", "code")


class PlainVoice:
    """Names meanings."""

    def render(self, meaning: Meaning, reader: Person, zone: str, now: datetime) -> Parcel:
        about = next((v for n in NAMED if (v := getattr(meaning, n, None)) is not None), None)
        text = f"{meaning.kind} {about}" if about is not None else meaning.kind
        choices: dict[str, Choice] = {}
        if isinstance(meaning, SetUpQuestion):
            choices = {
                option.title or option.value: SetUpAnswer(about=meaning.about, value=option.value)
                for option in meaning.options
            }
        return Parcel(text=text, buttons=tuple((label,) for label in choices), choices=choices)

    def again(self, parcel: Parcel, urgency: Urgency) -> Parcel:
        return parcel.model_copy(update={"text": f"again {parcel.text}"})


class NamingVoice(PlainVoice):
    """Says what kind of thing is meant, and has the buttons and pictures of the real voice."""

    def render(self, meaning: Meaning, reader: Person, zone: str, now: datetime) -> Parcel:
        named = super().render(meaning, reader, zone, now)
        said = Voice().render(meaning, reader, zone, now)
        return said.model_copy(update={"text": named.text})
