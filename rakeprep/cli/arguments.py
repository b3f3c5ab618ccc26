"""Every command and option of the command line."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from rakeprep.cli import commands, seals

if TYPE_CHECKING:
    Named = argparse._SubParsersAction[argparse.ArgumentParser]


def arguments() -> argparse.ArgumentParser:
    """Every command and option."""
    parser = argparse.ArgumentParser(
        prog="rakeprep",
        description="Leads a technician from the truck to a signed handover of a twin-rotor rotary rake.",
        epilog="Without a command the window opens. The machine's own book and local law come first.",
    )
    parser.set_defaults(action=commands.window)
    named = parser.add_subparsers(title="commands", metavar="COMMAND")
    for add in (job_commands, document_commands, paper_command, tool_commands, seal_commands):
        add(named)
    return parser


def job_commands(named: Named) -> None:
    """Whole jobs."""
    demo = named.add_parser("demo", help="the sample job: in the window, or without a screen")
    demo.add_argument("--headless", action="store_true", help="no window: fill in, seal, write, verify")
    demo.add_argument("--out", type=Path, default=Path("rakeprep-demo"), metavar="DIR", help="where to")
    demo.set_defaults(action=commands.run_demo)

    fill = named.add_parser("fill", help="do a whole job from an answers file")
    fill.add_argument("profile", type=Path, metavar="PROFILE")
    fill.add_argument("tractor", type=Path, metavar="TRACTOR")
    fill.add_argument("answers", type=Path, metavar="ANSWERS.toml")
    fill.add_argument("--out", type=Path, required=True, metavar="DIR", help="where job and document go")
    add_seal(fill)
    fill.set_defaults(action=commands.run_fill)

    chapter = named.add_parser("chapter", help="a later visit to a closed job, from an answers file")
    chapter.add_argument("job", type=Path, metavar="JOB.rakejob")
    chapter.add_argument("answers", type=Path, metavar="ANSWERS.toml")
    chapter.add_argument("--out", type=Path, required=True, metavar="DIR", help="where its document goes")
    add_seal(chapter)
    chapter.set_defaults(action=commands.run_chapter)

    tractor = named.add_parser("tractor", help="put an open job on another tractor")
    tractor.add_argument("job", type=Path, metavar="JOB.rakejob")
    tractor.add_argument("tractor", type=Path, metavar="TRACTOR.toml")
    tractor.add_argument("--reason", required=True, metavar="WORDS", help="why it is another one")
    tractor.add_argument("--who", required=True, metavar="NAME", help="who says so")
    tractor.set_defaults(action=commands.run_tractor)

    names = named.add_parser("names", help="put right a name that was written wrong when a job was opened")
    names.add_argument("job", type=Path, metavar="JOB.rakejob")
    names.add_argument("--customer", metavar="NAME", help="the customer, or the owner now")
    names.add_argument("--order", metavar="NUMBER", help="the order's number")
    names.add_argument("--technician", metavar="NAME", help="the technician")
    names.add_argument("--reason", required=True, metavar="WORDS", help="what was wrong")
    names.add_argument("--who", required=True, metavar="NAME", help="who says so")
    names.set_defaults(action=commands.run_names)


def document_commands(named: Named) -> None:
    """Documents that are there."""
    back = named.add_parser("open", help="bring a document's job back, to be read here")
    back.add_argument("file", type=Path, metavar="FILE.pdf")
    back.add_argument("--out", type=Path, metavar="DIR", help="where the job goes")
    back.add_argument("--seal", type=Path, metavar="DIR", help="folder of the seal that is known here")
    back.set_defaults(action=commands.run_open)

    verify = named.add_parser("verify", help="check a handover document")
    verify.add_argument("file", type=Path, metavar="FILE.pdf")
    verify.add_argument("--json", action="store_true", help="the answer for machines")
    verify.add_argument("--seal", type=Path, metavar="DIR", help="folder of the seal that is known here")
    verify.set_defaults(action=commands.run_verify)


def paper_command(named: Named) -> None:
    """The papers beside the document."""
    paper = named.add_parser(
        "paper", help="empty forms, stickers, parts wanted, a table of a job, its document once more"
    )
    paper.add_argument("paper", choices=("forms", "stickers", "parts", "csv", "document"), help="which paper")
    paper.add_argument("job", type=Path, nargs="?", metavar="JOB.rakejob")
    paper.add_argument("--profile", type=Path, metavar="FILE", help="forms without a job: the machine")
    paper.add_argument("--tractor", type=Path, metavar="FILE", help="forms without a job: the tractor")
    paper.add_argument("--out", type=Path, required=True, metavar="DIR", help="where the paper goes")
    paper.add_argument("--language", default="", metavar="CODE", help="of the paper; else the job's own")
    paper.add_argument("--step", action="append", default=[], metavar="KEY", help="forms of this step only")
    paper.add_argument("--missing", action="store_true", help="forms only for what is still missing")
    paper.set_defaults(action=commands.run_paper)


def tool_commands(named: Named) -> None:
    """Data files and sums."""
    profile = named.add_parser("profile", help="data files of machines and tractors")
    kinds = profile.add_subparsers(title="commands", metavar="COMMAND", required=True)
    check = kinds.add_parser("check", help="list every mistake in data files")
    check.add_argument("files", type=Path, nargs="+", metavar="FILE")
    check.set_defaults(action=commands.run_check)

    calc = named.add_parser("calc", help="one sum of the trade, without a job: “calc” lists all")
    calc.add_argument("--json", action="store_true", help="the answer for machines")
    calc.add_argument("words", nargs=argparse.REMAINDER, metavar="NAME key=value…", help="sum and values")
    calc.set_defaults(action=commands.run_calc)


def seal_commands(named: Named) -> None:
    """The workshop's signing key."""
    seal = named.add_parser("seal", help="the workshop's signing key")
    kinds = seal.add_subparsers(title="commands", metavar="COMMAND", required=True)
    new = kinds.add_parser("new", help="make the workshop's seal")
    new.add_argument("workshop", metavar="WORKSHOP", help="its name, as it shall stand on the seal")
    add_seal(new)
    new.set_defaults(action=seals.new)
    show = kinds.add_parser("show", help="whose seal it is, its fingerprint, how long it lasts")
    show.add_argument("--seal", type=Path, metavar="DIR")
    show.set_defaults(action=seals.show)
    export = kinds.add_parser("export-certificate", help="the part that others may have")
    export.add_argument("file", type=Path, metavar="FILE.pem")
    export.add_argument("--seal", type=Path, metavar="DIR")
    export.set_defaults(action=seals.export)
    trust = kinds.add_parser("trust", help="know another workshop's seal from its certificate")
    trust.add_argument("file", type=Path, metavar="FILE.pem")
    trust.add_argument("--seal", type=Path, metavar="DIR")
    trust.set_defaults(action=seals.trust)


def add_seal(parser: argparse.ArgumentParser) -> None:
    """Options to open a seal."""
    parser.add_argument("--seal", type=Path, metavar="DIR", help="folder of the seal")
    parser.add_argument(
        "--passphrase-file", type=Path, metavar="FILE", help="its first line is the passphrase"
    )
