"""The folder that a camera fills: which one it is on this computer, and its newest pictures."""

from __future__ import annotations

import os
from contextlib import suppress
from pathlib import Path

FILE = "camera-folder.txt"
ENDINGS = frozenset({".jpg", ".jpeg", ".png"})
LARGEST_FOLDER = 20_000  # files looked at; nobody keeps more in one folder of a camera
LONGEST_PATH = 4096


def camera_folder(data: Path) -> Path | None:
    """The folder chosen on this computer, if it is there."""
    with suppress(OSError, ValueError):
        with (data / FILE).open(encoding="utf-8") as stream:
            text = stream.read(LONGEST_PATH).strip()
        folder = Path(text)
        if text and folder.is_dir():
            return folder
    return None


def choose_camera_folder(data: Path, folder: Path) -> None:
    """Keep the folder for the next time; where that cannot be done it has to be chosen again."""
    with suppress(OSError, ValueError):
        data.mkdir(parents=True, exist_ok=True)
        (data / FILE).write_text(str(folder), encoding="utf-8")


def newest_pictures(folder: Path, most: int) -> list[Path]:
    """The pictures in a folder, the newest first; none where it cannot be read."""
    found: list[tuple[int, str]] = []
    with suppress(OSError), os.scandir(folder) as entries:
        for count, entry in enumerate(entries):
            if count >= LARGEST_FOLDER:
                break
            with suppress(OSError):
                if os.path.splitext(entry.name)[1].lower() in ENDINGS and entry.is_file():
                    found.append((entry.stat().st_mtime_ns, entry.path))
    return [Path(path) for _, path in sorted(found, reverse=True)[:most]]
