from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from rakeprep import __main__, paths


def test_that_the_shipped_folders_are_found_here() -> None:
    assert (paths.resources() / "fonts" / "DejaVuSans.ttf").is_file()
    assert (paths.resources() / "colour" / "sRGB.icc").is_file()
    assert paths.sample_profiles().is_dir()


def test_that_every_shipped_work_of_others_has_its_licence_beside_it() -> None:
    licences = paths.resources() / "licences"
    assert "Bitstream" in (licences / "dejavu-fonts.txt").read_text("utf-8")
    assert "Tavmjong Bah" in (licences / "dejavu-fonts.txt").read_text("utf-8")
    assert "zlib/libpng License" in (licences / "srgb-profile.txt").read_text("utf-8")


def test_that_the_package_is_searched_before_the_checkout_and_a_frozen_build(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr(sys, "_MEIPASS", str(tmp_path), raising=False)
    package = Path(paths.__file__).parent
    assert paths.bases() == (package, package.parent, tmp_path)


def test_that_the_first_base_with_the_folder_wins(tmp_path: Path) -> None:
    empty, second, third = (tmp_path / name for name in ("empty", "second", "third"))
    for base in (second, third):
        (base / "resources").mkdir(parents=True)
    assert paths.shipped("resources", [empty, second, third]) == second / "resources"


def test_that_a_file_is_not_taken_for_a_folder(tmp_path: Path) -> None:
    (tmp_path / "resources").write_text("")
    with pytest.raises(paths.IncompleteInstall):
        paths.shipped("resources", [tmp_path])


def test_that_an_incomplete_install_says_what_is_missing_where_and_what_to_do(tmp_path: Path) -> None:
    with pytest.raises(paths.IncompleteInstall) as caught:
        paths.shipped("resources", [tmp_path / "a", tmp_path / "b"])
    said = str(caught.value)
    assert "resources" in said
    assert str(tmp_path / "a" / "resources") in said
    assert str(tmp_path / "b" / "resources") in said
    assert said.endswith("Install rakeprep again.")


# Sources of the expected folders: XDG Base Directory Specification 0.8, "Environment variables"
# (default $HOME/.local/share, relative paths to be ignored); for Windows and macOS common practice.
CUSTOMS = [
    ("linux", {"HOME": "/h"}, "/h/.local/share/rakeprep"),
    ("linux", {"HOME": "/h", "XDG_DATA_HOME": "/x"}, "/x/rakeprep"),
    ("linux", {"HOME": "/h", "XDG_DATA_HOME": ""}, "/h/.local/share/rakeprep"),
    ("linux", {"HOME": "/h", "XDG_DATA_HOME": "relative"}, "/h/.local/share/rakeprep"),
    ("darwin", {"HOME": "/h", "XDG_DATA_HOME": "/x"}, "/h/Library/Application Support/rakeprep"),
    ("win32", {"LOCALAPPDATA": "/local"}, "/local/rakeprep"),
    ("win32", {"USERPROFILE": "/user"}, "/user/AppData/Local/rakeprep"),
    ("win32", {"LOCALAPPDATA": "/local", "RAKEPREP_DATA": "/mine"}, "/mine"),
    ("linux", {"HOME": "/h", "RAKEPREP_DATA": "/mine"}, "/mine"),
    ("linux", {"HOME": "/h", "RAKEPREP_DATA": "  "}, "/h/.local/share/rakeprep"),
]


@pytest.mark.skipif(os.name == "nt", reason="the expected paths are written the POSIX way")
@pytest.mark.parametrize(("platform", "environ", "expected"), CUSTOMS)
def test_that_the_data_folder_follows_the_platforms_custom(
    platform: str, environ: dict[str, str], expected: str
) -> None:
    assert paths.data_folder(environ, platform) == Path(expected)


def test_that_a_relative_choice_does_not_move_with_the_working_folder_later(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    assert paths.data_folder({"RAKEPREP_DATA": "records"}, "linux") == tmp_path / "records"


@pytest.mark.parametrize("platform", ["linux", "darwin", "win32"])
def test_that_a_missing_home_variable_is_made_up_for_by_the_operating_system(platform: str) -> None:
    assert Path.home() in paths.data_folder({}, platform).parents


def test_that_asking_for_the_data_folder_creates_nothing(tmp_path: Path) -> None:
    paths.data_folder({"RAKEPREP_DATA": str(tmp_path / "new")}, "linux")
    assert not (tmp_path / "new").exists()


def test_that_ctrl_c_ends_the_program_with_the_shells_number_and_no_traceback(tmp_path: Path) -> None:
    """130 = 128 + SIGINT (2): POSIX shell custom, "Exit Status for Commands" and signal.h."""
    (tmp_path / "interrupted.py").write_text(
        "import sys, types\n"
        "def main(argv): raise KeyboardInterrupt\n"
        "import rakeprep\n"
        "cli = types.ModuleType('rakeprep.cli')\n"
        "cli.main = main\n"
        "sys.modules['rakeprep.cli'] = rakeprep.cli = cli\n"
        "from rakeprep.__main__ import main\n"
        "sys.exit(main())\n"
    )
    done = subprocess.run(
        [sys.executable, tmp_path / "interrupted.py"], capture_output=True, text=True, check=False, timeout=60
    )
    assert (done.returncode, done.stderr) == (130, "")


def test_that_importing_the_entry_point_does_not_load_the_program() -> None:
    """The command must start fast; only main() may load the rest."""
    code = "import sys, rakeprep.__main__; print('rakeprep.cli' in sys.modules)"
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=60
    )
    assert done.stdout.strip() == "False"
    assert callable(__main__.main)
