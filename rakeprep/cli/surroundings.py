"""What is around a command: display, clock, folders, languages, and the streams it speaks to."""

from __future__ import annotations

import datetime as dt
import os
import sys
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import TextIO

from rakeprep import paths
from rakeprep.text import ENGLISH, Language, Message, languages, msg

FAILED, DONE = 1, 0

NO_DISPLAY = msg(
    "There is no display for a window. Use “rakeprep fill” for a job without a screen, or “rakeprep demo "
    "--headless” to see one."
)


def display() -> bool:
    """Whether a window can be shown: Linux names its display, others always have one."""
    if not sys.platform.startswith("linux"):
        return True
    return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))


def data() -> Path:
    """The user's data folder."""
    return paths.data_folder(os.environ, sys.platform)


def now() -> dt.datetime:
    """The computer's clock with its offset."""
    return dt.datetime.now().astimezone()


def known_languages() -> Mapping[str, Language]:
    """Every language with a catalogue."""
    return languages(paths.resources() / "translations")


def printable(text: str, encoding: str | None) -> str:
    """A line as a stream of this encoding can show it; signs it does not have become question marks."""
    name = encoding or "utf-8"
    return text.encode(name, "replace").decode(name)


def put(lines: Iterable[str], stream: TextIO) -> None:
    """Whole lines, in letters that the terminal has, at once; a reader who has seen enough is no error."""
    try:
        stream.write("".join(f"{printable(line, stream.encoding)}\n" for line in lines))
        stream.flush()
    except BrokenPipeError:  # such as “head”
        os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())


def say(message: Message) -> None:
    """One line."""
    put([ENGLISH.say(message)], sys.stdout)


def say_all(messages: Iterable[Message], stream: TextIO | None = None) -> None:
    """Several lines; to the error stream unless said otherwise."""
    put([ENGLISH.say(message) for message in messages], stream or sys.stderr)


def say_error(message: Message) -> None:
    """One line to the error stream."""
    say_all([message])
