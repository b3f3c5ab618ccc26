"""Data files on disk."""

from __future__ import annotations

from pathlib import Path

from rakeprep.paths import sample_profiles
from rakeprep.profiles.document import LARGEST
from rakeprep.profiles.mistakes import ProfileError
from rakeprep.text import msg


def load_text(path: Path) -> str:
    """The text of a data file; raises ``ProfileError`` when it cannot be had."""
    name = path.name or str(path)
    try:
        if path.is_dir():
            raise ProfileError(msg("“{file}” is a folder; choose a file (.toml) in it.", file=name))
        with path.open("rb") as stream:
            content = stream.read(LARGEST + 1)
    except FileNotFoundError:
        raise ProfileError(
            msg("There is no file “{file}”; check the name and the folder.", file=name)
        ) from None
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or str(error)
        raise ProfileError(
            msg("“{file}” cannot be read ({why}); check that it is open to you.", file=name, why=why)
        ) from None
    if len(content) > LARGEST:
        raise ProfileError(
            msg(
                "“{file}” is larger than 1 MB, far more than such a file takes. Is it the right one?",
                file=name,
            )
        )
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        at = error.start + 1
        raise ProfileError(
            msg(
                "“{file}” is no UTF-8 text (byte {at}); save it as UTF-8, or choose another file.",
                file=name,
                at=at,
            )
        ) from None


def sample_machines() -> list[Path]:
    """The shipped files of invented machines."""
    return sorted((sample_profiles() / "machines").glob("*.toml"))


def sample_tractors() -> list[Path]:
    """The shipped files of invented tractors."""
    return sorted((sample_profiles() / "tractors").glob("*.toml"))
