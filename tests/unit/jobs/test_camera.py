"""The folder that a camera fills."""

from __future__ import annotations

import os
from pathlib import Path

from rakeprep.jobs.camera import camera_folder, choose_camera_folder, newest_pictures


def test_that_the_newest_pictures_come_first_and_nothing_else(tmp_path: Path) -> None:
    for number, name in enumerate(["a.JPG", "b.jpeg", "c.png", "d.txt", "e.jpg"]):
        (tmp_path / name).write_bytes(b"x")
        os.utime(tmp_path / name, (number, number))
    (tmp_path / "f.jpg").mkdir()
    assert [p.name for p in newest_pictures(tmp_path, 3)] == ["e.jpg", "c.png", "b.jpeg"]
    assert newest_pictures(tmp_path / "gone", 3) == []


def test_that_the_folder_is_kept_while_it_is_there(tmp_path: Path) -> None:
    data, folder = tmp_path / "data", tmp_path / "camera"
    assert camera_folder(data) is None
    folder.mkdir()
    choose_camera_folder(data, folder)
    assert camera_folder(data) == folder
    folder.rmdir()
    assert camera_folder(data) is None
    (data / "camera-folder.txt").write_bytes(b"\xff\x00")
    assert camera_folder(data) is None
