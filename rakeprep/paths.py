"""Where the program's own files and the user's records live.

The same code runs from a checkout, from an installed wheel and from a frozen build, and each keeps
the shipped folders somewhere else.
"""

from __future__ import annotations

import sys
from collections.abc import Iterable, Mapping
from pathlib import Path, PurePosixPath

APP = "rakeprep"
DATA_VARIABLE = "RAKEPREP_DATA"


class IncompleteInstall(FileNotFoundError):
    """A folder that is shipped with the program is in none of its places."""

    def __init__(self, name: str, looked_in: tuple[Path, ...]) -> None:
        self.name = name
        self.looked_in = looked_in
        places = ", ".join(str(place) for place in looked_in)
        super().__init__(f"The folder {name} is missing ({places}). Install {APP} again.")


def resources() -> Path:
    """The folder of fonts, colour profile, translations and cautions; raises IncompleteInstall."""
    return shipped("resources", bases())


def sample_profiles() -> Path:
    """The folder of invented machines and tractors for the demo; raises IncompleteInstall."""
    return shipped("sample_profiles", bases())


def bases() -> tuple[Path, ...]:
    """Folders that may hold the shipped ones: the package, then the checkout, then a frozen build."""
    package = Path(__file__).resolve().parent
    frozen = getattr(sys, "_MEIPASS", None)
    return (package, package.parent, *([Path(frozen)] if frozen else []))


def shipped(name: str, among: Iterable[Path]) -> Path:
    """The first folder called ``name`` in ``among``; raises IncompleteInstall if there is none."""
    places = tuple(base / name for base in among)
    for place in places:
        if place.is_dir():
            return place
    raise IncompleteInstall(name, places)


def data_folder(environ: Mapping[str, str], platform: str) -> Path:
    """Where jobs, photos and keys are kept; nothing is created.

    ``RAKEPREP_DATA`` decides if it is set. Otherwise the operating system's custom does: the XDG
    Base Directory Specification on Linux, local application data on Windows, Application Support
    on macOS. ``platform`` is spelt as in ``sys.platform``.
    """
    chosen = environ.get(DATA_VARIABLE, "").strip()
    if chosen:
        return Path(chosen).expanduser().absolute()
    return data_home(environ, platform) / APP


def data_home(environ: Mapping[str, str], platform: str) -> Path:
    """The folder in which programs keep their data on this platform."""
    if platform == "win32":
        local = environ.get("LOCALAPPDATA", "")
        return Path(local) if local else home(environ, "USERPROFILE") / "AppData" / "Local"
    if platform == "darwin":
        return home(environ, "HOME") / "Library" / "Application Support"
    xdg = environ.get("XDG_DATA_HOME", "")
    # The specification has relative paths ignored.
    if PurePosixPath(xdg).is_absolute():
        return Path(xdg)
    return home(environ, "HOME") / ".local" / "share"


def home(environ: Mapping[str, str], variable: str) -> Path:
    """The user's own folder, asked of the operating system only where the variable is unset."""
    named = environ.get(variable, "")
    return Path(named) if named else Path.home()
