"""A list of clients comes as a file: looked at first, faults by line, and out again the same."""

import csv
import io
from datetime import timedelta

import pytest

from bot.attachments import make
from bot.conversation.people.sweeping import Sweeping
from scheduling.choice import About
from scheduling.ports import Attachment
from tests.bot.conversation.clients.yard import Yard

GOOD = "name,town,model,finished\nIvy Green,Alderby,Garden 80,2 March 2026\nDora,,,\n"


@pytest.fixture
async def yard() -> Yard:
    yard = Yard()
    await yard.founded(models=True)
    return yard


async def sheet(yard: Yard, name: str) -> list[dict[str, str]]:
    """The rows of a file of that name that the builder was sent last."""
    beth = await yard.chat_person("beth")
    async with yard.store.read() as unit:
        last = await unit.outbox.last_sent(beth.id)
    assert last is not None
    found = next(one for one in last.parcel.attachments if one.name == name)
    return rows_of(found)


def rows_of(attachment: Attachment) -> list[dict[str, str]]:
    text = make(attachment.kind, attachment.data).decode("utf-8-sig")
    return list(csv.DictReader(io.StringIO(text)))


async def test_a_file_is_looked_at_before_anybody_is_invited(yard: Yard) -> None:
    (told,) = await yard.sends("beth", GOOD)
    assert told.startswith("Two clients to invite. Nothing is done yet.")
    assert "Ivy Green (six answers filled in) and Dora" in told
    assert await yard.open_ones() == {}


async def test_who_is_meant_is_invited_with_what_is_filled_in(yard: Yard) -> None:
    await yard.sends("beth", GOOD)
    (told,) = await yard.press("beth", "Invite the 2")
    assert told.startswith("Two clients invited")
    made = await yard.open_ones()
    assert set(made) == {"Ivy Green", "Dora"}
    assert dict(made["Ivy Green"].given)[About.WET_WORK] == "2026-03-02"
    assert made["Ivy Green"].model == "Garden 80"
    assert made["Dora"].given == ()


async def test_every_invitation_stands_in_the_file_and_opens_an_oven(yard: Yard) -> None:
    await yard.sends("beth", GOOD)
    await yard.press("beth", "Invite the 2")
    ivy, dora = await sheet(yard, "invitations.csv")
    assert "Beth & Co invites you" in ivy["message"]
    await yard.person("ivy", zone="Europe/London")
    told = await yard.say("ivy", f"/start {ivy['code']}")
    assert "Inner width: 80 cm" in told[0]
    assert dora["name"] == "Dora"


async def test_nothing_of_it_is_planned_before_an_owner_comes(yard: Yard) -> None:
    await yard.sends("beth", GOOD)
    await yard.press("beth", "Invite the 2")
    async with yard.store.read() as unit:
        assert await unit.ovens.of_builder("team-hearths") == ()


async def test_codes_are_gone_from_what_is_kept_once_they_are_sent(yard: Yard) -> None:
    await yard.sends("beth", GOOD)
    await yard.press("beth", "Invite the 2")
    (row, _) = await sheet(yard, "invitations.csv")
    await yard.later(timedelta(minutes=2))
    assert await Sweeping(yard.store, yard.clock).look() == 2
    async with yard.store.read() as unit:
        last = await unit.outbox.last_sent("beth")
    assert last is not None
    assert row["code"] not in last.parcel.model_dump_json()


@pytest.mark.parametrize(
    ("line", "fault"),
    [
        ("Ben,Twinton,,", "Line 2, town: “Twinton” could be Twinton"),
        ("Ben,Atlantis,,", "Line 2, town: I know no town “Atlantis”"),
        ("Ben,,Garden 99,", "Line 2, model: you have no model “Garden 99”; yours are Garden 80"),
        ("Ben,,,3/4/2026", "Line 2, finished: “3/4/2026” could be Fri 3 Apr or Wed 4 Mar"),
        ("Ben,,,2 May 2031", "Line 2, finished: “2 May 2031” is still to come"),
        (",Alderby,,", "Line 2, name: the name is missing"),
        ("Ben,Alderby,,,,surplus", "Line 2: more cells than the 4 columns"),
    ],
)
async def test_a_fault_is_told_with_its_line_and_column(yard: Yard, line: str, fault: str) -> None:
    (told,) = await yard.sends("beth", f"name,town,model,finished\n{line}\n")
    assert fault in told
    assert "Nobody of this file would be invited" in told


async def test_a_phone_number_comes_along_until_the_owner_has_it(yard: Yard) -> None:
    await yard.sends("beth", 'name,phone\nIvy,+44 7700 900123\nDora,"\'+447700900456"\n')
    await yard.press("beth", "Invite the 2")
    made = await yard.open_ones()
    assert made["Ivy"].phone == "+44 7700 900123"
    assert made["Dora"].phone == "+44 7700 900456"
    await yard.say("beth", "/export")
    assert [row["phone"] for row in await sheet(yard, "clients.csv")] == [
        "'+44 7700 900123",
        "'+44 7700 900456",
    ]


@pytest.mark.parametrize("phone", ["4.477E+11", "12", "07700 900123 or 07700 900456", "ask her"])
async def test_what_nobody_can_ring_is_a_fault(yard: Yard, phone: str) -> None:
    (told,) = await yard.sends("beth", f"name,phone\nIvy,{phone}\n")
    assert f"Line 2, phone: nobody can ring “{phone}”" in told
    assert "Nobody of this file would be invited" in told


async def test_a_new_code_keeps_the_number_and_the_old_one_has_it_no_longer(yard: Yard) -> None:
    await yard.sends("beth", "name,phone,size\nIvy,+44 7700 900123,80 cm\n")
    await yard.press("beth", "Invite them")
    before = (await yard.open_ones())["Ivy"]
    await yard.say("beth", "find Ivy")
    (told,) = await yard.press("beth", "A new code to pass on")
    assert "to ring them on if a fire worries you: +44 7700 900123" in told
    after = (await yard.open_ones())["Ivy"]
    assert (after.phone, after.given) == (before.phone, before.given)
    async with yard.store.read() as unit:
        assert [one.id for one in await unit.invitations.with_phones()] == [after.id]


async def test_lines_without_a_fault_can_be_invited_by_themselves(yard: Yard) -> None:
    await yard.sends("beth", GOOD + "Ben,Atlantis,,\n")
    await yard.press("beth", "Invite the 2")
    assert set(await yard.open_ones()) == {"Ivy Green", "Dora"}


async def test_who_is_there_already_is_left_as_they_are(yard: Yard) -> None:
    await yard.client("dora")
    (told,) = await yard.sends("beth", GOOD)
    assert "Dora is there already" in told
    await yard.press("beth", "Invite them")
    assert set(await yard.open_ones()) == {"Ivy Green"}


async def test_pressed_twice_nobody_is_invited_twice(yard: Yard) -> None:
    await yard.sends("beth", GOOD)
    await yard.press("beth", "Invite the 2")
    before = await yard.open_ones()
    assert "Nobody new" in (await yard.press("beth", "Invite the 2"))[0]
    assert await yard.open_ones() == before


async def test_a_file_is_kept_no_longer_than_until_it_is_done(yard: Yard) -> None:
    await yard.sends("beth", GOOD)
    beth = await yard.chat_person("beth")
    async with yard.store.read() as unit:
        shown = await unit.outbox.last_sent(beth.id)
    assert shown is not None
    assert "Garden 80" in shown.parcel.model_dump_json()
    await yard.press("beth", "Invite the 2")
    async with yard.store.read() as unit:
        after = await unit.outbox.get(shown.id)
    assert after is not None
    assert "Garden 80" not in after.parcel.model_dump_json()


async def test_a_list_may_be_pasted_as_a_message(yard: Yard) -> None:
    (told,) = await yard.say("beth", "name;town\nIvy;Alderby")
    assert told.startswith("One client to invite")


async def test_an_unknown_column_is_named_with_what_may_be_meant(yard: Yard) -> None:
    (told,) = await yard.sends("beth", "name,twon\nIvy,Alderby\n")
    assert "Line 1, twon: I know no such column, did you mean “town”?" in told


async def test_a_file_of_own_ways_is_still_one(yard: Yard) -> None:
    (told,) = await yard.sends("beth", "[limits]\ncure_floor_d = 28\n")
    assert "is kept" in told


async def test_what_is_written_out_is_read_back_the_same(yard: Yard) -> None:
    await yard.client("rosa", size="950", stands="sky+beside", openings="plain+no_flue")
    await yard.sends("beth", GOOD)
    await yard.press("beth", "Invite the 2")
    given = {name: dict(one.given) for name, one in (await yard.open_ones()).items()}
    rosa = (await yard.record("rosa")).answers
    await yard.say("beth", "/export")
    rows = await sheet(yard, "clients.csv")
    assert {row["name"] for row in rows} == {"Rosa", "Ivy Green", "Dora"}
    other = Yard()
    await other.founded(models=True)
    out = io.StringIO()
    writer = csv.DictWriter(out, list(rows[0]))
    writer.writeheader()
    writer.writerows(rows)
    await other.sends("beth", out.getvalue())
    await other.press("beth", "Invite the 3")
    again = {name: dict(one.given) for name, one in (await other.open_ones()).items()}
    assert again["Ivy Green"] == given["Ivy Green"]
    told = {about: value for about, value in again["Rosa"].items() if about is not About.PLACE}
    assert told == {about: rosa[about] for about in told}
    assert {About.SIZE, About.STANDS, About.OPENINGS} <= set(told)
    assert again["Rosa"][About.PLACE] == "51.5,-0.1,Europe/London,Kew"


async def test_without_anybody_an_export_says_how_to_begin() -> None:
    yard = Yard()
    await yard.founded()
    assert "nothing to write down" in (await yard.say("beth", "export"))[0]


async def test_names_of_others_are_no_formulas_in_a_spreadsheet(yard: Yard) -> None:
    await yard.sends("beth", 'name,town\n"=1+1",Alderby\n')
    await yard.press("beth", "Invite them")
    await yard.say("beth", "export")
    (row,) = await sheet(yard, "clients.csv")
    assert row["name"] == "'=1+1"


async def test_an_owner_cannot_bring_a_list(yard: Yard) -> None:
    await yard.client("rosa")
    await yard.sends("rosa", GOOD)
    assert await yard.open_ones() == {}
