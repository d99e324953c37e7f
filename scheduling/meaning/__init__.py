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
from scheduling.meaning.base import (
    Contact,
    DayChange,
    FiringShown,
    PlanLine,
    ReadingShown,
    Said,
    StokeShown,
)
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
    PhotoCame,
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
    UnitSetRight,
    WelcomeBack,
    Why,
)
from scheduling.meaning.importing import (
    ExportShown,
    ImportDone,
    ImportHow,
    ImportShown,
    RowFault,
)
from scheduling.meaning.indoors import FireIndoors, StandsIndoors
from scheduling.meaning.introducing import (
    Introduced,
    IntroductionAsked,
)
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
    AgreedTold,
    AllStays,
    CopyKept,
    EraseAsked,
    Erased,
    FinishedTold,
    InvitationMade,
    InvitationRevoked,
    InvitationsShown,
    InvitationUsed,
    InvitationYours,
    JoinAsked,
    JoinRefused,
    KeepAsked,
    KeepNoted,
    LeaveAsked,
    LeftTold,
    LookedAfterTold,
    Member,
    MemberAsks,
    MemberTold,
    MoveAsked,
    MoveLeft,
    OpenInvitation,
    OtherTeam,
    OvenGone,
    PhoneAsked,
    PhoneGiven,
    PhoneNoted,
    PhoneUnclear,
    PutOutAsked,
    StillBurning,
    TeamLine,
    TeamRenamed,
    TeamShown,
)
from scheduling.meaning.preparing import (
    FilledIn,
    FillingWaits,
    MakeUpAsked,
    MakeUpShown,
    ModelsOffered,
    OwnerSaysOtherwise,
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
from scheduling.meaning.week import (
    CalendarRevoked,
    CalendarShown,
    WeekFire,
    WeekShown,
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
    | UnitSetRight
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
    | PhotoCame
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
    | AgreedTold
    | CopyKept
    | FinishedTold
    | JoinAsked
    | JoinRefused
    | MemberAsks
    | PutOutAsked
    | PhoneAsked
    | PhoneGiven
    | PhoneNoted
    | PhoneUnclear
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
    | OwnerSays
    | ExportShown
    | ImportDone
    | ImportHow
    | ImportShown
    | Introduced
    | IntroductionAsked
    | FilledIn
    | FillingWaits
    | MakeUpAsked
    | MakeUpShown
    | ModelsOffered
    | OwnerSaysOtherwise
    | CalendarRevoked
    | CalendarShown
    | WeekShown,
    Field(discriminator="kind"),
]

__all__ = [
    "Advice",
    "AgreedTold",
    "Alert",
    "AlertsGathered",
    "AllStays",
    "Answer",
    "BackAsked",
    "BoardShown",
    "BreakInDone",
    "BuilderLeft",
    "BuilderSays",
    "CalendarRevoked",
    "CalendarShown",
    "CaseTold",
    "ClientLine",
    "ClientShown",
    "Contact",
    "CopyKept",
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
    "ExportShown",
    "FilledIn",
    "FillingWaits",
    "FinishedTold",
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
    "ImportDone",
    "ImportHow",
    "ImportShown",
    "InstrumentBlind",
    "InstrumentMissing",
    "InstrumentShort",
    "Introduced",
    "IntroductionAsked",
    "InvitationMade",
    "InvitationRevoked",
    "InvitationUsed",
    "InvitationYours",
    "InvitationsShown",
    "JoinAsked",
    "JoinRefused",
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
    "MakeUpAsked",
    "MakeUpShown",
    "Meaning",
    "Member",
    "MemberAsks",
    "MemberTold",
    "ModelsOffered",
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
    "OwnerSaysOtherwise",
    "PersonJoined",
    "PhoneAsked",
    "PhoneGiven",
    "PhoneNoted",
    "PhoneUnclear",
    "PhotoCame",
    "PictureShown",
    "PlanLine",
    "PlanTold",
    "PutOutAsked",
    "ReadingKept",
    "ReadingShown",
    "RecordShown",
    "RosterShown",
    "RowFault",
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
    "TeamLine",
    "TeamRenamed",
    "TeamShown",
    "TooHot",
    "Unattended",
    "UndoneTold",
    "UnitSetRight",
    "WaysApplied",
    "WaysKept",
    "WaysOutrun",
    "WaysRefused",
    "WaysShown",
    "WaysUnchanged",
    "WeekFire",
    "WeekShown",
    "Welcome",
    "WelcomeBack",
    "WhatIsWrong",
    "WhichClient",
    "WhichDay",
    "WhichHazard",
    "WhoIsMeant",
    "Why",
]
