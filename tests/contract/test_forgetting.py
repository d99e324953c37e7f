"""Taking somebody out of what is kept, whatever the store."""

from typing import Any

import pytest

from scheduling.choice import Command, CommandName
from scheduling.journal import Entry, Joined, Model, Noted, Taught
from scheduling.outcome import Urgency
from scheduling.ports import (
    Attachment,
    Conflict,
    InboxRow,
    Letter,
    OutboxState,
    Parcel,
    Store,
)
from storage.faults import RuleBroken
from tests.contract.samples import ANA, MINUTE, NOON, entry, letter, row, settle_in, with_button
from tests.contract.test_builders import invitation, way


@pytest.fixture(autouse=True)
async def _people(store: Store) -> None:
    await settle_in(store)


async def test_a_person_is_forgotten_once_nothing_is_theirs(store: Store) -> None:
    async with store.write() as unit:
        loner = ANA.model_copy(update={"id": "eve", "address": "eve"})
        await unit.people.put(loner)
        await unit.outbox.post(letter("l9", "eve"))
        await unit.outbox.forget("eve")
        await unit.people.forget("eve")
        await unit.people.forget("nobody")
        await unit.commit()
    async with store.read() as unit:
        assert await unit.people.get("eve") is None
        assert await unit.outbox.get("l9") is None


async def test_who_still_tends_an_oven_is_not_forgotten(store: Store) -> None:
    with pytest.raises(RuleBroken):
        async with store.write() as unit:
            await unit.people.forget("ana")


async def test_a_journal_is_rewritten_and_keeps_its_numbers(store: Store) -> None:
    async with store.write() as unit:
        await unit.ovens.append("dome", 0, [entry(0), Noted(at=NOON, by="ana", text="my leg")])
        blank: list[Entry] = [entry(0), Noted(at=NOON, by="somebody"), entry(1)]
        await unit.ovens.rewrite("dome", blank)
        assert [one.entry for one in await unit.ovens.journal("dome")] == blank
        assert await unit.ovens.append("dome", 3, [entry(2)]) == 4
        with pytest.raises(Conflict):
            await unit.ovens.rewrite("dome", blank)
        with pytest.raises(Conflict):
            await unit.ovens.rewrite("nowhere", blank)


async def test_journals_that_name_a_person_are_found(store: Store) -> None:
    async with store.write() as unit:
        await unit.ovens.append("dome", 0, [Joined(at=NOON, by="ben", person="ana")])
        await unit.ovens.append("barrel", 0, [Joined(at=NOON, by="ben", person="ben")])
        assert await unit.ovens.written_by("ana") == ("dome",)
        assert await unit.ovens.written_by("ben") == ("barrel", "dome")
        assert await unit.ovens.written_by("an_") == ()


async def test_what_ovens_taught_is_found_by_builder_and_not_by_words(store: Store) -> None:
    model = Model(construction="cast-dense", diameter_mm=850, layers="0")
    lesson = Taught(at=NOON, model=model, fires=7, promised=6, days=9)
    async with store.write() as unit:
        dome = await unit.ovens.get("dome")
        barrel = await unit.ovens.get("barrel")
        assert dome is not None
        assert barrel is not None
        await unit.ovens.put(dome.model_copy(update={"builder": "b1"}))
        await unit.ovens.put(barrel.model_copy(update={"builder": "b2"}))
        words = Noted(at=NOON, by="ana", text='"kind":"taught"')
        await unit.ovens.append("dome", 0, [entry(), lesson, words])
        await unit.ovens.append("barrel", 0, [words])
        assert await unit.ovens.taught("b1") == (lesson,)
        assert await unit.ovens.taught("b2") == ()
        await unit.ovens.erase("dome")
        assert await unit.ovens.taught("b1") == ()


async def test_an_oven_is_erased_with_all_that_is_its_own(store: Store) -> None:
    async with store.write() as unit:
        await unit.ovens.append("dome", 0, [entry()])
        await unit.ovens.keep_belief("dome", 1, b"x")
        await unit.invitations.put(invitation(builder=None, oven="dome"))
        await unit.ovens.erase("dome")
        await unit.ovens.erase("nowhere")
        await unit.commit()
    async with store.read() as unit:
        assert await unit.ovens.get("dome") is None
        assert await unit.ovens.journal("dome") == ()
        assert await unit.ovens.belief("dome") is None
        assert await unit.invitations.get("i1") is None
        assert [card.id for card in await unit.ovens.of_person("ben")] == ["barrel"]


async def test_rows_of_a_chat_are_forgotten_but_those_that_wait(store: Store) -> None:
    async with store.write() as unit:
        await unit.inbox.store(row("1", "ana"))
        await unit.inbox.store(row("2", "ben"))
        await unit.inbox.store(row("3", "ana"))
        await unit.inbox.done("replay", "1")
        await unit.inbox.done("replay", "2")
        await unit.inbox.forget("replay", "ana")
        assert [one.key for one in await unit.inbox.waiting("replay")] == ["3"]
        assert await unit.inbox.store(row("1", "ana"))
        assert not await unit.inbox.store(row("2", "ben"))


async def test_letters_to_a_person_and_about_an_oven_are_forgotten(store: Store) -> None:
    async with store.write() as unit:
        await unit.outbox.post(with_button("to ana", "k1"))
        await unit.outbox.post(letter("about dome", "ben"))
        await unit.outbox.post(letter("other", "ben", oven="barrel"))
        await unit.outbox.forget("ana", ["dome"])
        assert await unit.outbox.get("to ana") is None
        assert await unit.outbox.pressed("k1") is None
        assert await unit.outbox.get("about dome") is None
        assert await unit.outbox.get("other") is not None


async def test_a_letter_in_somebodys_hands_is_emptied_and_still_settled(store: Store) -> None:
    async with store.write() as unit:
        await unit.outbox.post(letter("l1", "ben"))
        await unit.outbox.claim(NOON, NOON + MINUTE, 5)
        await unit.outbox.forget("ana", ["dome"])
        assert await unit.outbox.settle("l1", OutboxState.SENT, NOON, ref="7")
        emptied = await unit.outbox.get("l1")
        assert emptied is not None
        assert emptied.parcel.text == ""


def sent(letter_id: str, **other: Any) -> Letter:
    return letter(letter_id, "ben", state=OutboxState.SENT, sent_at=NOON, **other)


async def test_nobodys_name_changes_what_is_on_its_way(store: Store) -> None:
    told = Parcel(text="Add nothing.")
    async with store.write() as unit:
        for urgency in Urgency:
            await unit.outbox.post(letter(urgency.value, "ben", parcel=told, urgency=urgency))
        await unit.outbox.post(letter("other", "clo", parcel=told, urgency=Urgency.CALM))
        await unit.outbox.blot(["nothing"], calm_to=["clo"])
        for urgency in Urgency:
            kept = await unit.outbox.get(urgency.value)
            assert kept is not None
            assert kept.parcel == told
        calm = await unit.outbox.get("other")
        assert calm is not None
        assert calm.parcel.text == "Add –."


async def test_a_name_is_blotted_out_and_the_buttons_still_work(store: Store) -> None:
    label = "Ána Møss "
    parcel = Parcel(
        text="Ána Møss is silent; Ánabel is well. <b>ÁNA MØSS</b>",
        buttons=((label,),),
        choices={label: Command(name=CommandName.NOW)},
    )
    async with store.write() as unit:
        await unit.outbox.post(sent("l1", parcel=parcel, button_keys={label: "k1"}))
        await unit.outbox.blot(["Ána Møss"])
        kept = await unit.outbox.get("l1")
        assert kept is not None
        assert kept.parcel.text == "– is silent; Ánabel is well. <b>–</b>"
        pressed = await unit.outbox.pressed("k1")
        assert pressed is not None
        assert pressed.choice == Command(name=CommandName.NOW)


@pytest.mark.parametrize("name", ["oven", "kind", "choices", "Now", "now"])
async def test_a_name_like_a_word_of_ours_breaks_no_letter(store: Store, name: str) -> None:
    async with store.write() as unit:
        told = Attachment(kind="plan", name="plan.png", data={"oven": name, "lines": []}, alt="A")
        parcel = Parcel(
            text=f"It is {name}.",
            buttons=(("Done",),),
            choices={"Done": Command(name=CommandName.NOW, rest=name)},
            attachments=(told,),
        )
        await unit.outbox.post(sent("l1", parcel=parcel, button_keys={"Done": "k1"}))
        await unit.outbox.blot([name])
        kept = await unit.outbox.get("l1")
        assert kept is not None
        assert kept.parcel.text == "It is –."
        assert kept.parcel.choices["Done"] == Command(name=CommandName.NOW, rest="–")
        assert kept.parcel.attachments[0].kind == "plan"
        assert kept.parcel.attachments[0].data["oven"] == "–"


async def test_a_name_cut_short_on_a_label_is_blotted_out_too(store: Store) -> None:
    async with store.write() as unit:
        parcel = Parcel(text="Look at Bartholomew Fothering… now")
        await unit.outbox.post(sent("l1", parcel=parcel))
        await unit.outbox.blot(["Bartholomew Fotheringay-Smythe"])
        kept = await unit.outbox.get("l1")
        assert kept is not None
        assert kept.parcel.text == "Look at – now"


@pytest.mark.parametrize("body", ['{"text": "/invite Ána Møss"}', '{"t": "\\u00c1na M\\u00f8ss"}'])
async def test_a_row_that_still_waits_keeps_its_words(store: Store, body: str) -> None:
    async with store.write() as unit:
        await unit.inbox.store(InboxRow("replay", "1", "clo", body, NOON))
        await unit.inbox.store(InboxRow("replay", "2", "clo", body, NOON))
        await unit.inbox.failed("replay", "1", "no luck with Ána Møss", set_aside=True)
        await unit.inbox.blot(["Ána Møss"])
        assert [one.body for one in await unit.inbox.waiting("replay")] == [body]
        await unit.commit()


async def test_a_parcel_is_replaced_once_it_is_no_longer_on_its_way(store: Store) -> None:
    async with store.write() as unit:
        await unit.outbox.post(with_button("l1", "k1"))
        assert not await unit.outbox.replace("l1", Parcel(text="blotted out"))
        await unit.outbox.claim(NOON, NOON + MINUTE, 5)
        assert not await unit.outbox.replace("l1", Parcel(text="blotted out"))
        await unit.outbox.settle("l1", OutboxState.SENT, NOON, ref="7")
        assert await unit.outbox.replace("l1", Parcel(text="blotted out"))
        assert not await unit.outbox.replace("l2", Parcel(text="blotted out"))
        kept = await unit.outbox.get("l1")
        assert kept is not None
        assert kept.parcel.text == "blotted out"
        assert await unit.outbox.pressed("k1") is None


async def test_a_button_that_the_other_parcel_has_still_works(store: Store) -> None:
    first = with_button("l1", "k1")
    async with store.write() as unit:
        await unit.outbox.post(first)
        await unit.outbox.claim(NOON, NOON + MINUTE, 5)
        await unit.outbox.settle("l1", OutboxState.SENT, NOON, ref="7")
        other = first.parcel.model_copy(update={"text": "blotted out"})
        assert await unit.outbox.replace("l1", other)
        pressed = await unit.outbox.pressed("k1")
        assert pressed is not None
        assert pressed.choice == Command(name=CommandName.NOW)


async def test_a_builder_is_forgotten_with_ways_and_invitations(store: Store) -> None:
    async with store.write() as unit:
        await unit.ways.put(way(1))
        await unit.invitations.put(invitation())
        await unit.builders.forget("hearths")
        await unit.builders.forget("nobody")
        assert await unit.builders.get("hearths") is None
        assert await unit.ways.all("hearths") == ()
        assert await unit.invitations.get("i1") is None


async def test_a_store_is_tidied_while_it_is_in_use(store: Store) -> None:
    async with store.write() as unit:
        await unit.ovens.erase("dome")
        await unit.commit()
    await store.tidy()
    async with store.read() as unit:
        assert await unit.ovens.get("dome") is None
