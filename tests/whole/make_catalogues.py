"""Bring the catalogues of the translations up to what the code says; run it after changing messages.

    .venv/bin/python tests/whole/make_catalogues.py [CODE…]

New messages come in untranslated, those no longer said go out, translations stay as they are. A CODE that
has no catalogue yet gets an empty one.
"""

from __future__ import annotations

import importlib.util
import sys
from pathlib import Path
from types import ModuleType

from babel.messages.catalog import Catalog
from babel.messages.pofile import read_po, write_po

ROOT = Path(__file__).resolve().parents[2]
NEEDLESS = (
    '"Project-Id-Version',
    '"Report-Msgid-Bugs-To',
    '"POT-Creation-Date',
    '"PO-Revision-Date',
    '"Last-Translator',
    '"Language-Team',
    '"Generated-By',
)
FOLDER = ROOT / "resources" / "translations"


def extractor() -> ModuleType:
    """The contract test that draws the messages from the code."""
    spec = importlib.util.spec_from_file_location("texts", ROOT / "tests" / "contract" / "test_texts.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def update(file: Path) -> tuple[int, int]:
    """Rewrite one catalogue; gives how many messages it has, and how many are untranslated."""
    before = Catalog(locale=file.stem)
    if file.exists():
        with file.open("rb") as stream:
            before = read_po(stream, locale=file.stem)
    after = Catalog(locale=file.stem, header_comment="# Messages of rakeprep.", charset="utf-8", fuzzy=False)
    for words in sorted(extractor().catalogue()):
        old = before.get(words[0])
        after.add(words if len(words) > 1 else words[0], old.string if old is not None else None)
    FOLDER.mkdir(parents=True, exist_ok=True)
    with file.open("wb") as stream:
        write_po(stream, after, width=100, omit_header=False, no_location=True)
    # Of the header only what readers need: dates would change the file whenever it is written.
    lines = file.read_text("utf-8").splitlines(keepends=True)
    file.write_text("".join(line for line in lines if not line.startswith(NEEDLESS)), "utf-8")
    missing = [m for m in after if m.id and not (all(m.string) if isinstance(m.string, tuple) else m.string)]
    return len(after), len(missing)


if __name__ == "__main__":
    wanted = sys.argv[1:] or [file.stem for file in sorted(FOLDER.glob("*.po"))]
    for code in wanted:
        total, missing = update(FOLDER / f"{code}.po")
        print(f"{code}: {total} messages, {missing} not translated")
