"""What can go wrong with the place where everything is kept, in sentences for its keeper.

    StorageFault
    ├── CannotOpen       no such folder, no permission, no server, wrong password
    ├── ReadOnly         the file, its folder or the server takes no writing
    ├── DiskFull         no room left
    ├── Damaged          not a database, torn pages, rows that cannot be read
    ├── NotOurs          a file of another program, or no database at all
    ├── Busy             another process held the write lock for too long
    ├── InUse            another stokewatch runs on the same file
    ├── NewerSchema      written by a newer stokewatch
    ├── RuleBroken       a row that its table refuses: a fault of ours
    └── BackupFault      a backup that cannot be made, read or put back

Whatever is raised inside a unit of work leaves the store as it was before the unit.
"""

from errno import EDQUOT, EIO, EMFILE, ENFILE, ENOMEM, ENOSPC, EROFS

from sqlalchemy.exc import DataError, DBAPIError, IntegrityError

from scheduling.ports import Conflict


class StorageFault(Exception):  # noqa: N818 - the tree above names what is wrong, not "errors"
    """Something is wrong with the store; the text says what to do."""


class CannotOpen(StorageFault):
    """The database cannot be reached."""


class ReadOnly(StorageFault):
    """It can be read but not written."""


class DiskFull(StorageFault):
    """No room left."""


class Damaged(StorageFault):
    """It cannot be read."""


class NotOurs(StorageFault):
    """It belongs to somebody else."""


class Busy(StorageFault):
    """Another process holds it."""


class InUse(StorageFault):
    """Another of our processes runs on it."""


class NewerSchema(StorageFault):
    """A newer program wrote it."""


class RuleBroken(StorageFault):
    """A row that its table refuses."""


class BackupFault(StorageFault):
    """A backup that cannot be made or put back."""


_OF_THE_MACHINE = frozenset(
    {ENOSPC, EDQUOT, EIO, EROFS, EMFILE, ENFILE, ENOMEM}
)  # no room, no more files, a disk that fails


def of_the_store(error: BaseException) -> bool:
    """Whether ``error`` is the disk's or the database's, and none of what was to be kept: the same
    will work when they do."""
    if isinstance(error, OSError):
        return error.errno in _OF_THE_MACHINE
    return isinstance(error, StorageFault | Conflict) and not isinstance(error, RuleBroken)


_SQLITE: tuple[tuple[str, type[Exception], str], ...] = (
    ("readonly", ReadOnly, "The database cannot be written to; give its file and folder write "
     "permission for the user that runs stokewatch."),
    ("is full", DiskFull, "The disk is full, nothing of this step was kept; free some room, then "
     "start again: all that was stored before is safe."),
    ("is locked", Busy, "Another program has held the database for too long; stop a second "
     "stokewatch or whatever has the file open."),
    ("unable to open", CannotOpen, "The database file cannot be opened; check that its folder "
     "exists and may be written to."),
    ("malformed", Damaged, "The database is damaged; put the last backup back with "
     "'stokewatch restore FILE'."),
    ("not a database", Damaged, "This file is no database of ours; give another file in "
     "STOKEWATCH_DATABASE_URL."),
    ("disk i/o", DiskFull, "The disk refused to read or write; check that it has room and is "
     "sound."),
)  # fmt: skip

_SQLSTATES: tuple[tuple[str, type[Exception], str], ...] = (
    ("40001", Conflict, "Somebody else wrote at the same time."),
    ("40P01", Conflict, "Somebody else wrote at the same time."),
    ("53100", DiskFull, "The database server's disk is full; free some room there."),
    ("25006", ReadOnly, "The database server takes no writing (a standby?); give the primary's "
     "address."),
    ("42501", ReadOnly, "This database user may not write; grant it the rights to its schema."),
    ("55P03", Busy, "The database is held by another program."),
)  # fmt: skip


def fault_of(error: DBAPIError) -> Exception:
    """The fault (or Conflict) that a driver's error stands for."""
    said = str(error.orig)
    if isinstance(error, IntegrityError | DataError):
        return RuleBroken(f"a row was refused: {said}")
    state = getattr(error.orig, "sqlstate", None)
    for known, kind, sentence in _SQLSTATES:
        if state == known:
            return kind(f"{sentence} ({said})")
    for part, kind, sentence in _SQLITE:
        if state is None and part in said.lower():
            return kind(f"{sentence} ({said})")
    if error.connection_invalidated or state is None or state.startswith(("08", "28", "57", "3D")):
        return CannotOpen(
            "The database cannot be reached; check STOKEWATCH_DATABASE_URL and that the server "
            f"runs. ({said})"
        )
    return StorageFault(said)
