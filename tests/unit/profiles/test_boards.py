"""What boards and signs look like, said in the data file or not."""

from __future__ import annotations

import re

import pytest

from rakeprep.model.profile import Board, BoardKind
from rakeprep.profiles import load_text, read_profile, sample_machines

TEXTS = {path.stem: load_text(path) for path in sample_machines()}


@pytest.mark.parametrize("name", TEXTS)
def test_that_data_without_kinds_are_as_valid_as_before(name: str) -> None:
    older, count = re.subn(
        r"^kind = \"(board|emblem|reflector|speed sign|safety sign)\"\n", "", TEXTS[name], flags=re.M
    )
    assert count
    read, told = read_profile(older, name), read_profile(TEXTS[name], name)
    assert not read.mistakes
    assert read.value is not None
    assert told.value is not None
    assert {board.kind for board in read.value.board} == {BoardKind.NOT_SAID}
    # The samples' names are English and speak of their kinds, but for two that stand aside from the road.
    assert [board.drawn_as for board in read.value.board] == [board.drawn_as for board in told.value.board]


@pytest.mark.parametrize(
    ("key", "name", "road", "kind"),
    [
        ("b1", "Warntafel hinten", True, BoardKind.NOT_SAID),
        ("b1", "Aufkleber am Rotor", False, BoardKind.SAFETY),
        ("reflectors", "Rückstrahler", True, BoardKind.REFLECTOR),
        ("b2", "Beacon LAMP on the cab", True, BoardKind.LAMP),
    ],
)
def test_that_a_kind_that_is_not_said_follows_from_what_is(
    key: str, name: str, road: bool, kind: BoardKind
) -> None:
    assert Board(key=key, name=name, road=road).drawn_as is kind
    assert Board(key=key, name=name, road=road, kind=BoardKind.EMBLEM).drawn_as is BoardKind.EMBLEM


def test_that_an_unknown_kind_is_told_with_those_that_are_known() -> None:
    wrong = TEXTS["sample-rake-a"].replace('kind = "reflector"', 'kind = "reflecter"')
    (mistake,) = read_profile(wrong, "a.toml").mistakes
    assert "did you mean “reflector”?" in str(mistake.says)
    assert wrong.splitlines()[mistake.line - 1] == 'kind = "reflecter"'
