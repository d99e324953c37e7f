"""What is to be said: meanings with numbers. ``bot.wording`` turns them into sentences.

Each class says in its docstring when it is said. Temperatures are °C, instants UTC.
"""

from typing import Annotated

from pydantic import Field

from scheduling.meaning.answers import (
    Answer,
    FireStays,
    Greeted,
    HelpShown,
    LaterNoted,
    NotClear,
    Noted,
    NothingHere,
    NothingToUndo,
    NotUnderstood,
    NowTold,
    NudgesStopped,
    PictureShown,
    RecordShown,
    StaleTap,
    StillAsked,
    UndoneTold,
)
from scheduling.meaning.base import DayChange, FiringShown, PlanLine, ReadingShown, Said, StokeShown
from scheduling.meaning.before import (
    Eve,
    HowToLay,
    LitTooEarly,
    MorningAsk,
    NotToday,
    StillOn,
    StillWaiting,
)
from scheduling.meaning.builder import (
    Alert,
    OrderLessGentle,
    OrderRefused,
    OrderTaken,
    OrderTold,
    SecondTold,
)
from scheduling.meaning.danger import (
    CrackTold,
    HazardAsked,
    HazardClosedTold,
    HazardStays,
    HazardTold,
    InstrumentBlind,
    InstrumentMissing,
    MustNotBurn,
    NotHeard,
    SignTold,
    SkyNow,
    TooHot,
    WhatIsWrong,
    WhichHazard,
)
from scheduling.meaning.days import (
    DaysKept,
    DaysMoved,
    DaysProposed,
    DaysRefused,
    DaysShown,
    ForecastAgainst,
    NoDayFound,
    SoakedNoted,
    WhichDay,
)
from scheduling.meaning.fire import (
    Advice,
    BackAsked,
    BreakInDone,
    DoorNoted,
    Doubtful,
    FiringDone,
    FiringStatus,
    IdleAsked,
    LeavingFire,
    LitNoted,
    MorningAfterAsk,
    MorningNoted,
    Nudge,
    ReadingKept,
    StokeNoted,
    StoppedForNow,
    Unattended,
    WelcomeBack,
    Why,
)
from scheduling.meaning.indoors import FireIndoors, StandsIndoors
from scheduling.meaning.office import (
    AlertsGathered,
    BoardShown,
    BuilderLeft,
    BuilderSays,
    CaseTold,
    ClientLine,
    ClientShown,
    Counts,
    Digest,
    FireShown,
    JottedTold,
    JournalLine,
    NoClient,
    OfficeHelp,
    OrderedMany,
    OrderForMany,
    OrderOrWords,
    OrderUnclear,
    OwnerSays,
    RosterShown,
    Stays,
    TalkTold,
    WhichClient,
    WhoIsMeant,
)
from scheduling.meaning.people import (
    AllStays,
    EraseAsked,
    Erased,
    InvitationMade,
    InvitationRevoked,
    InvitationsShown,
    InvitationUsed,
    InvitationYours,
    KeepAsked,
    KeepNoted,
    LeaveAsked,
    LeftTold,
    LookedAfterTold,
    MemberTold,
    MoveAsked,
    MoveLeft,
    OpenInvitation,
    OtherTeam,
    OvenGone,
    StillBurning,
    TeamRenamed,
    TeamShown,
)
from scheduling.meaning.setting_up import (
    CureCountdown,
    CureDone,
    InstrumentShort,
    MortarInDoubt,
    NoInstrument,
    Option,
    PersonJoined,
    PlanTold,
    SecondPersonAsked,
    SettingsShown,
    SetUpNoted,
    SetUpQuestion,
    SetUpRefused,
    Welcome,
)
from scheduling.meaning.tallies import Tally
from scheduling.meaning.ways import (
    WaysApplied,
    WaysKept,
    WaysOutrun,
    WaysRefused,
    WaysShown,
    WaysUnchanged,
)

Meaning = Annotated[
    Welcome
    | SetUpQuestion
    | SetUpRefused
    | SetUpNoted
    | SettingsShown
    | InstrumentShort
    | NoInstrument
    | SecondPersonAsked
    | PersonJoined
    | PlanTold
    | CureCountdown
    | CureDone
    | MortarInDoubt
    | Eve
    | StillOn
    | MorningAsk
    | HowToLay
    | NotToday
    | LitTooEarly
    | StillWaiting
    | LitNoted
    | Advice
    | Nudge
    | FiringStatus
    | Doubtful
    | StokeNoted
    | Unattended
    | WelcomeBack
    | BackAsked
    | LeavingFire
    | FiringDone
    | DoorNoted
    | MorningAfterAsk
    | MorningNoted
    | ReadingKept
    | BreakInDone
    | StoppedForNow
    | IdleAsked
    | FireIndoors
    | StandsIndoors
    | CrackTold
    | HazardAsked
    | HazardClosedTold
    | HazardStays
    | HazardTold
    | MustNotBurn
    | NotHeard
    | WhatIsWrong
    | WhichHazard
    | InstrumentMissing
    | SignTold
    | TooHot
    | SkyNow
    | InstrumentBlind
    | DaysProposed
    | DaysMoved
    | DaysKept
    | DaysRefused
    | WhichDay
    | DaysShown
    | NoDayFound
    | SoakedNoted
    | ForecastAgainst
    | NotClear
    | NothingHere
    | Answer
    | NowTold
    | PictureShown
    | RecordShown
    | Tally
    | WaysApplied
    | WaysKept
    | WaysOutrun
    | WaysRefused
    | WaysShown
    | WaysUnchanged
    | HelpShown
    | Greeted
    | UndoneTold
    | NothingToUndo
    | FireStays
    | StaleTap
    | LaterNoted
    | NudgesStopped
    | Noted
    | NotUnderstood
    | StillAsked
    | Alert
    | SecondTold
    | OrderTold
    | OrderTaken
    | OrderLessGentle
    | OrderRefused
    | EraseAsked
    | AllStays
    | Erased
    | InvitationMade
    | InvitationRevoked
    | InvitationUsed
    | InvitationYours
    | InvitationsShown
    | KeepAsked
    | KeepNoted
    | LeaveAsked
    | LeftTold
    | LookedAfterTold
    | MemberTold
    | MoveAsked
    | MoveLeft
    | OtherTeam
    | OvenGone
    | StillBurning
    | TeamRenamed
    | TeamShown
    | RosterShown
    | WhichClient
    | NoClient
    | ClientShown
    | BoardShown
    | OfficeHelp
    | OrderUnclear
    | WhoIsMeant
    | OrderForMany
    | OrderedMany
    | OrderOrWords
    | AlertsGathered
    | CaseTold
    | Digest
    | JottedTold
    | TalkTold
    | BuilderSays
    | BuilderLeft
    | OwnerSays,
    Field(discriminator="kind"),
]

__all__ = [
    "Advice",
    "Alert",
    "AlertsGathered",
    "AllStays",
    "Answer",
    "BackAsked",
    "BoardShown",
    "BreakInDone",
    "BuilderLeft",
    "BuilderSays",
    "CaseTold",
    "ClientLine",
    "ClientShown",
    "Counts",
    "CrackTold",
    "CureCountdown",
    "CureDone",
    "DayChange",
    "DaysKept",
    "DaysMoved",
    "DaysProposed",
    "DaysRefused",
    "DaysShown",
    "Digest",
    "DoorNoted",
    "Doubtful",
    "EraseAsked",
    "Erased",
    "Eve",
    "FireIndoors",
    "FireShown",
    "FireStays",
    "FiringDone",
    "FiringShown",
    "FiringStatus",
    "ForecastAgainst",
    "Greeted",
    "HazardAsked",
    "HazardClosedTold",
    "HazardStays",
    "HazardTold",
    "HelpShown",
    "HowToLay",
    "IdleAsked",
    "InstrumentBlind",
    "InstrumentMissing",
    "InstrumentShort",
    "InvitationMade",
    "InvitationRevoked",
    "InvitationUsed",
    "InvitationYours",
    "InvitationsShown",
    "JottedTold",
    "JournalLine",
    "KeepAsked",
    "KeepNoted",
    "LaterNoted",
    "LeaveAsked",
    "LeavingFire",
    "LeftTold",
    "LitNoted",
    "LitTooEarly",
    "LookedAfterTold",
    "Meaning",
    "MemberTold",
    "MorningAfterAsk",
    "MorningAsk",
    "MorningNoted",
    "MortarInDoubt",
    "MoveAsked",
    "MoveLeft",
    "MustNotBurn",
    "NoClient",
    "NoDayFound",
    "NoInstrument",
    "NotClear",
    "NotHeard",
    "NotToday",
    "NotUnderstood",
    "Noted",
    "NothingHere",
    "NothingToUndo",
    "NowTold",
    "Nudge",
    "NudgesStopped",
    "OfficeHelp",
    "OpenInvitation",
    "Option",
    "OrderForMany",
    "OrderLessGentle",
    "OrderOrWords",
    "OrderRefused",
    "OrderTaken",
    "OrderTold",
    "OrderUnclear",
    "OrderedMany",
    "OtherTeam",
    "OvenGone",
    "OwnerSays",
    "PersonJoined",
    "PictureShown",
    "PlanLine",
    "PlanTold",
    "ReadingKept",
    "ReadingShown",
    "RecordShown",
    "RosterShown",
    "Said",
    "SecondPersonAsked",
    "SecondTold",
    "SetUpNoted",
    "SetUpQuestion",
    "SetUpRefused",
    "SettingsShown",
    "SignTold",
    "SkyNow",
    "SoakedNoted",
    "StaleTap",
    "StandsIndoors",
    "Stays",
    "StillAsked",
    "StillBurning",
    "StillOn",
    "StillWaiting",
    "StokeNoted",
    "StokeShown",
    "StoppedForNow",
    "TalkTold",
    "Tally",
    "TeamRenamed",
    "TeamShown",
    "TooHot",
    "Unattended",
    "UndoneTold",
    "WaysApplied",
    "WaysKept",
    "WaysOutrun",
    "WaysRefused",
    "WaysShown",
    "WaysUnchanged",
    "Welcome",
    "WelcomeBack",
    "WhatIsWrong",
    "WhichClient",
    "WhichDay",
    "WhichHazard",
    "WhoIsMeant",
    "Why",
]
