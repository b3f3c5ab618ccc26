"""What can go wrong with a job's file, each said in one sentence."""

from __future__ import annotations

import errno
import sqlite3
from pathlib import Path

from rakeprep.text import Message, msg


class StoreError(Exception):
    """Something a user can put right; ``message`` says what, where and how."""

    def __init__(self, message: Message) -> None:
        super().__init__(message)
        self.message = message

    def __str__(self) -> str:
        return str(self.message)


NO_SPACE = {errno.ENOSPC, getattr(errno, "EDQUOT", errno.ENOSPC)}
NO_RIGHT = {errno.EACCES, errno.EPERM, errno.EROFS}


def explained(error: BaseException, path: Path) -> StoreError:
    """The sentence for a failure of the disk or of the database; nothing was stored when it is raised."""
    match error:
        case StoreError():
            return error
        case sqlite3.Error():
            return StoreError(_database(primary(error), str(path)))
        case OSError():
            return StoreError(_disk(error, str(path)))
    return StoreError(msg("The job {file} cannot be used: {reason}.", file=str(path), reason=str(error)))


def primary(error: sqlite3.Error) -> int:
    """SQLite's result code without its extension."""
    code = getattr(error, "sqlite_errorcode", None)
    return code & 0xFF if isinstance(code, int) else sqlite3.SQLITE_ERROR


def _database(code: int, file: str) -> Message:
    match code:
        case sqlite3.SQLITE_FULL:
            return full(file)
        case sqlite3.SQLITE_IOERR:
            return msg(
                "The disk failed while {file} was being read or written, so the last thing is not stored; "
                "check the disk and its free space, then do it again.",
                file=file,
            )
        case sqlite3.SQLITE_READONLY | sqlite3.SQLITE_PERM:
            return write_protected(file)
        case sqlite3.SQLITE_CANTOPEN:
            return msg(
                "The job {file} cannot be opened; check that it is still there and that you may read and "
                "write in its folder.",
                file=file,
            )
        case sqlite3.SQLITE_NOTADB:
            return not_a_job(file)
        case sqlite3.SQLITE_BUSY | sqlite3.SQLITE_LOCKED:
            return msg(
                "Another program is using {file} at this moment, so nothing was stored; close it there and "
                "try again.",
                file=file,
            )
        case sqlite3.SQLITE_CONSTRAINT:
            return msg(
                "Another program has written into {file} since it was opened here, so nothing was stored; "
                "close the job and open it again.",
                file=file,
            )
    return damaged(file)


def _disk(error: OSError, file: str) -> Message:
    if error.errno in NO_SPACE:
        return full(file)
    if error.errno in NO_RIGHT:
        return write_protected(file)
    reason = error.strerror or type(error).__name__
    return msg(
        "The job {file} cannot be used because the system reports: {reason}.", file=file, reason=reason
    )


def full(file: str) -> Message:
    """No room left."""
    return msg(
        "The disk is full, so the last thing is not stored in {file}; free some space on that disk and "
        "do it again.",
        file=file,
    )


def write_protected(file: str) -> Message:
    """The file or its folder may not be written."""
    return msg(
        "Nothing can be written to {file} or its folder; open the job read-only, or copy it to a folder "
        "of your own and open it there.",
        file=file,
    )


def not_a_job(file: str) -> Message:
    """Something else, or the start of the file is gone."""
    return msg(
        "{file} is not a job of this program, or its beginning is damaged; choose another file, or a copy "
        "made earlier.",
        file=file,
    )


def damaged(file: str) -> Message:
    """The database inside cannot be read."""
    return msg(
        "The job {file} is damaged and cannot be read to its end; keep this file as it is and open a copy "
        "made earlier.",
        file=file,
    )


def cut_short(file: str) -> Message:
    """Bytes are missing at the end."""
    return msg(
        "The job {file} was cut short, as by a copy that did not finish; keep this file as it is and copy it "
        "again from where it came from.",
        file=file,
    )
