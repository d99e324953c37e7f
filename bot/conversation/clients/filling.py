"""A builder fills in an oven: by a model, by buttons, or by lines that they type."""

from dataclasses import replace
from datetime import date

from bot.clientlist.columns import about_of, lines_in
from bot.conversation.clients.whose import Whose, whose
from bot.conversation.foundation import Foundation, reply
from bot.conversation.incoming import Incoming
from bot.conversation.setting_up import QUOTED, SettingUp
from bot.ways.models import answers_of, model_called
from scheduling.advance.set_up_questions import left_to_ask, options_of, question_of, settings_of
from scheduling.choice import About, Filling, Preparing
from scheduling.firing.answers import BUILDERS, Refused, checked
from scheduling.happening import Chose, WaysTaken
from scheduling.meaning import (
    FilledIn,
    MakeUpAsked,
    MakeUpShown,
    ModelsOffered,
    NothingHere,
    Option,
    SetUpQuestion,
    SetUpRefused,
)
from scheduling.ports import Asking, InHand, Person
from scheduling.record import Record

MODEL = "model"
"""The key of a line that names a model: ``model: Garden 80``."""

UNKNOWN = "?"
"""In place of a model that was named and is none."""


class MakeUps:
    """Every verb answers. Whose make-up it is has been looked up by what may be theirs."""

    def __init__(self, base: Foundation, setting_up: SettingUp) -> None:
        self._base = base
        self._setting_up = setting_up

    async def prepare(
        self, incoming: Incoming, person: Person, said: Preparing, hand: InHand
    ) -> None:
        """Show a make-up, ask one thing of it, or offer the builder's models for it."""
        found = await whose(self._base, person, said.oven, said.invitation)
        if found is None:
            await reply(self._base, incoming, person, NothingHere())
        elif said.models:
            await self._offer(incoming, person, found, hand)
        elif said.about in BUILDERS:
            await self.ask(incoming, person, found, hand, said.about)
        else:
            await self._answer(incoming, person, found, hand, shown(found))

    async def _offer(
        self,
        incoming: Incoming,
        person: Person,
        found: Whose,
        hand: InHand,
        along: tuple[tuple[About, str], ...] = (),
    ) -> None:
        titles = [one.title for one in found.ways.models.values()]
        options = tuple(Option(value=one, title=one) for one in titles)
        offered = ModelsOffered(name=found.name, models=options, along=along, **found.ids)
        await self._answer(incoming, person, found, hand, offered)

    async def ask(
        self,
        incoming: Incoming,
        person: Person,
        found: Whose,
        hand: InHand,
        about: About,
        refusal: SetUpRefused | None = None,
        options: tuple[Option, ...] = (),
        along: tuple[tuple[About, str], ...] = (),
    ) -> None:
        """One question; ``options`` are what was typed may mean, where that is several things.
        ``along`` are answers that are taken with this one."""
        asked = MakeUpAsked(
            name=found.name,
            about=about,
            options=options or options_of(about, found.record.own_constructions),
            known=question_of(found.record, about).known,
            refusal=refusal,
            along=along,
            **found.ids,
        )
        await self._answer(incoming, person, found, hand, asked, about, along)

    async def hear_answer(
        self, incoming: Incoming, person: Person, found: Whose, hand: InHand, about: About
    ) -> bool:
        """Words after a question. False where nothing can be made of them."""
        answer = await self._setting_up.read(about, incoming, person, found.record)
        if answer is None:
            return False
        along = hand.asking.along if hand.asking is not None else ()
        await self._take(incoming, person, found, hand, about, answer, along)
        return True

    async def refuse(
        self, incoming: Incoming, person: Person, found: Whose, hand: InHand, about: About
    ) -> None:
        """Ask once more, and say what would be an answer."""
        value = (incoming.text or "")[:QUOTED]
        refusal = SetUpRefused(about=about, value=value, why="not_understood")
        along = hand.asking.along if hand.asking is not None else ()
        await self.ask(incoming, person, found, hand, about, refusal, along=along)

    async def hear_lines(
        self, incoming: Incoming, person: Person, found: Whose, hand: InHand, text: str
    ) -> None:
        """Lines like ``size: 80 cm``. Of one that cannot be read it is asked what is meant, and the
        others are taken with the answer."""
        answers: dict[About, str] = {}
        model = ""
        unclear: tuple[About, SetUpRefused | None, tuple[Option, ...]] | None = None
        for key, value in lines_in(text):
            if key == MODEL:
                called = model_called(found.ways, value)
                model = found.ways.models[called].title if called is not None else UNKNOWN
                continue
            about = about_of(key)
            line = replace(incoming, text=value)
            read = await self._setting_up.read(about, line, person, found.record)
            refusal = _refusal(about, value, read, found.record, self._today(found))
            if isinstance(read, SetUpQuestion) or refusal is not None:
                options = read.options if isinstance(read, SetUpQuestion) else ()
                unclear = unclear or (about, refusal, options)
            elif read is not None:
                answers[about] = read.value
        filling = Filling(answers=tuple(answers.items()), model=model, **found.ids)
        if model == UNKNOWN:
            await self._offer(incoming, person, found, hand, filling.answers)
        elif unclear is not None:
            along = _with_model(filling, found).answers
            await self.ask(incoming, person, found, hand, *unclear, along)
        else:
            await self.fill(incoming, person, filling, hand)

    async def fill(self, incoming: Incoming, person: Person, said: Filling, hand: InHand) -> None:
        """Take over what was filled in; a model's answers go before none that was typed."""
        found = await whose(self._base, person, said.oven, said.invitation)
        if found is None:
            await reply(self._base, incoming, person, NothingHere())
            return
        said = _with_model(said, found)
        for about, value in said.answers:
            refusal = _refused(about, value, found.record, self._today(found))
            if refusal is not None:
                await self.ask(incoming, person, found, hand, about, refusal)
                return
        if found.oven is not None:
            await self._fill_oven(incoming, person, found, said, hand)
        else:
            await self._fill_invitation(incoming, person, found, said, hand)

    async def _take(
        self,
        incoming: Incoming,
        person: Person,
        found: Whose,
        hand: InHand,
        about: About,
        answer: object,
        along: tuple[tuple[About, str], ...],
    ) -> None:
        if isinstance(answer, SetUpQuestion):
            await self.ask(
                incoming, person, found, hand, about, options=answer.options, along=along
            )
            return
        value = getattr(answer, "value", "")
        refusal = _refused(about, value, found.record, self._today(found))
        if refusal is not None:
            typed = (incoming.text or value)[:QUOTED]
            told = refusal.model_copy(update={"value": typed})
            await self.ask(incoming, person, found, hand, about, told, along=along)
            return
        filling = Filling(answers=(*along, (about, value)), **found.ids)
        await self.fill(incoming, person, filling, hand)

    async def _fill_oven(
        self, incoming: Incoming, person: Person, found: Whose, said: Filling, hand: InHand
    ) -> None:
        card = found.oven
        if card is None:
            return
        chosen = dict(said.answers).get(About.CONSTRUCTION, "")
        known = (await self._base.engine.record(card.id)).own_constructions
        if chosen in found.record.own_constructions and chosen not in known:
            own = found.record.own_constructions[chosen]
            await self._base.engine.happen(card.id, WaysTaken(person.id, constructed=(own,)))
        await self._keep(_open(hand, found, self._base))
        signed = said.model_copy(update={"by": person.name})
        key = f"{incoming.channel}:{incoming.key}"
        inbox = (incoming.channel, incoming.key)
        await self._base.engine.happen(card.id, Chose(person.id, signed, key=key), inbox=inbox)

    async def _fill_invitation(
        self, incoming: Incoming, person: Person, found: Whose, said: Filling, hand: InHand
    ) -> None:
        made = found.invitation
        if made is None:
            return
        given = dict(made.given)
        new = tuple((about, value) for about, value in said.answers if given.get(about) != value)
        filled = tuple((given | dict(said.answers)).items())
        changed = made.model_copy(update={"given": filled, "model": said.model or made.model})
        async with self._base.store.write() as unit:
            still = await unit.invitations.get(made.id)
            if still is not None and still.is_open(self._base.clock.now()):
                await unit.invitations.put(changed)
                await unit.commit()
        after = await whose(self._base, person, invitation=made.id)
        if after is None:
            await reply(self._base, incoming, person, NothingHere())
            return
        told = dict(settings_of(after.record))
        noted = FilledIn(
            answers=tuple((about, told[about]) for about, _ in new),
            oven=after.name,
            invitation=made.id,
            model=after.record.model,
            left=tuple(one for one in left_to_ask(after.record) if one in BUILDERS),
        )
        await self._answer(incoming, person, after, hand, noted)

    async def _answer(
        self,
        incoming: Incoming,
        person: Person,
        found: Whose,
        hand: InHand,
        meaning: FilledIn | MakeUpAsked | MakeUpShown | ModelsOffered,
        about: About | None = None,
        along: tuple[tuple[About, str], ...] = (),
    ) -> None:
        """Say it, and keep in hand whose make-up the next words are about."""
        hand = _open(hand, found, self._base, about, along)
        zone = found.record.zone if found.oven is not None else person.zone
        await reply(self._base, incoming, person, meaning, found.oven, zone=zone, hand=hand)

    async def _keep(self, hand: InHand) -> None:
        async with self._base.store.write() as unit:
            await unit.hands.put(hand)
            await unit.commit()

    def _today(self, found: Whose) -> date:
        return found.record.today(self._base.clock.now())


def shown(found: Whose) -> MakeUpShown:
    """All that is known of it."""
    made = found.invitation
    return MakeUpShown(
        name=found.name,
        answers=settings_of(found.record),
        left=tuple(left_to_ask(found.record)),
        model=found.record.model,
        open_until=made.expires_at if made is not None else None,
        **found.ids,
    )


def _open(
    hand: InHand,
    found: Whose,
    base: Foundation,
    about: About | None = None,
    along: tuple[tuple[About, str], ...] = (),
) -> InHand:
    """In hand: this make-up, and the question that is open about it."""
    now = base.clock.now()
    asking = Asking(what="make_up", at=now, about=about, along=along, **found.ids)
    changed: dict[str, object] = {"asking": asking}
    if found.oven is not None and hand.oven != found.oven.id:
        changed |= {"oven": found.oven.id, "talking": False, "order": None}
    if found.oven is not None:
        changed |= {"opened_at": now}
    return hand.model_copy(update=changed)


def _with_model(said: Filling, found: Whose) -> Filling:
    called = model_called(found.ways, said.model) if said.model else None
    if called is None:
        return said.model_copy(update={"model": ""})
    model = found.ways.models[called]
    answers = dict(answers_of(model)) | dict(said.answers)
    return said.model_copy(update={"model": model.title, "answers": tuple(answers.items())})


def _refusal(
    about: About, typed: str, read: object, record: Record, today: date
) -> SetUpRefused | None:
    """Why a line cannot be taken; None where it can, or has to be asked back."""
    if isinstance(read, SetUpQuestion):
        return None
    value = getattr(read, "value", None)
    if value is None:
        return SetUpRefused(about=about, value=typed[:QUOTED], why="not_understood")
    refused = _refused(about, value, record, today)
    return None if refused is None else refused.model_copy(update={"value": typed[:QUOTED]})


def _refused(about: About, value: str, record: Record, today: date) -> SetUpRefused | None:
    try:
        checked(about, value, today, record.own_constructions)
    except Refused as refused:
        return SetUpRefused(
            about=about,
            value=value[:QUOTED],
            why=refused.why,
            low=refused.low,
            high=refused.high,
            sentences=refused.sentences,
        )
    return None
