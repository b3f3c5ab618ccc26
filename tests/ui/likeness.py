"""How like two pictures of a window are: letters may be a little darker or lighter, nothing may move or miss.

A picture is kept at half its size and with few colours, which is small on disk. Two of them are compared
after a blur, by how much of the picture differs: computers differ in the grey of the edges of letters, but a
frame or a word that moved by a few pixels, or is gone, stands out.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
from PIL import Image, ImageFilter
from PySide6.QtGui import QImage

BLUR = 1.5  # px of the half-size picture
NOTICED = 20  # of 255; a difference that is larger after the blur is counted
SPECKS = 24  # px; so many may be counted


def kept(picture: QImage) -> Image.Image:
    """A picture of the window at half its size."""
    size = (picture.width(), picture.height())
    rows = np.frombuffer(picture.constBits(), np.uint8).reshape(size[1], picture.bytesPerLine())
    whole = Image.fromarray(rows[:, : 3 * size[0]].reshape(size[1], size[0], 3).copy())
    return whole.reduce(2)


def save(picture: Image.Image, file: Path) -> None:
    """Keep a picture with as many colours as it needs."""
    file.parent.mkdir(parents=True, exist_ok=True)
    picture.quantize(256, kmeans=3, dither=Image.Dither.NONE).save(file, optimize=True)


def load(file: Path) -> Image.Image:
    """A picture as it was kept."""
    with Image.open(file) as found:
        return found.convert("RGB")


def unlike(first: Image.Image, second: Image.Image) -> str:
    """Where two pictures differ; nothing where they are alike."""
    if first.size != second.size:
        return f"{first.size} is not {second.size}"
    blurred = (np.asarray(p.filter(ImageFilter.GaussianBlur(BLUR)), np.int16) for p in (first, second))
    apart = np.abs(np.subtract(*blurred)).max(axis=2)
    counted = int((apart > NOTICED).sum())
    if counted <= SPECKS:
        return ""
    down, across = np.unravel_index(int(apart.argmax()), apart.shape)
    return f"{counted} px differ, most of all ({apart.max()} of 255) at {2 * int(across)}, {2 * int(down)}"
