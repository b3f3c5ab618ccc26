"""The command line: what was asked, and nothing else."""

from __future__ import annotations

import argparse
import datetime as dt
import getpass
import json
import os
import sys
from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, TextIO

from rakeprep import paths
from rakeprep.text import ENGLISH, Language, Message, languages, msg

if TYPE_CHECKING:
    from rakeprep.handover.fill import Outcome

FAILED, DONE = 1, 0


def main(argv: Sequence[str]) -> int:
    """Do what ``argv`` asks; gives the exit code."""
    parser = arguments()
    asked = parser.parse_args(argv)
    action: Callable[[argparse.Namespace], int] = asked.action
    return action(asked)


def arguments() -> argparse.ArgumentParser:
    """Every command and option."""
    parser = argparse.ArgumentParser(
        prog="rakeprep",
        description="Leads a technician from the truck to a signed handover of a twin-rotor rotary rake.",
        epilog="Without a command the window opens. The machine's own book and local law come first.",
    )
    parser.set_defaults(action=window)
    commands = parser.add_subparsers(title="commands", metavar="COMMAND")

    for add in (job_commands, document_commands, paper_command, tool_commands, seal_commands):
        add(commands)
    return parser


if TYPE_CHECKING:
    Commands = argparse._SubParsersAction[argparse.ArgumentParser]


def job_commands(commands: Commands) -> None:
    """Whole jobs."""
    demo = commands.add_parser("demo", help="the sample job: in the window, or without a screen")
    demo.add_argument("--headless", action="store_true", help="no window: fill in, seal, write, verify")
    demo.add_argument("--out", type=Path, default=Path("rakeprep-demo"), metavar="DIR", help="where to")
    demo.set_defaults(action=run_demo)

    fill = commands.add_parser("fill", help="do a whole job from an answers file")
    fill.add_argument("profile", type=Path, metavar="PROFILE")
    fill.add_argument("tractor", type=Path, metavar="TRACTOR")
    fill.add_argument("answers", type=Path, metavar="ANSWERS.toml")
    fill.add_argument("--out", type=Path, required=True, metavar="DIR", help="where job and document go")
    add_seal(fill)
    fill.set_defaults(action=run_fill)

    chapter = commands.add_parser("chapter", help="a later visit to a closed job, from an answers file")
    chapter.add_argument("job", type=Path, metavar="JOB.rakejob")
    chapter.add_argument("answers", type=Path, metavar="ANSWERS.toml")
    chapter.add_argument("--out", type=Path, required=True, metavar="DIR", help="where its document goes")
    add_seal(chapter)
    chapter.set_defaults(action=run_chapter)

    tractor = commands.add_parser("tractor", help="put an open job on another tractor")
    tractor.add_argument("job", type=Path, metavar="JOB.rakejob")
    tractor.add_argument("tractor", type=Path, metavar="TRACTOR.toml")
    tractor.add_argument("--reason", required=True, metavar="WORDS", help="why it is another one")
    tractor.add_argument("--who", required=True, metavar="NAME", help="who says so")
    tractor.set_defaults(action=run_tractor)


def document_commands(commands: Commands) -> None:
    """Documents that are there."""
    back = commands.add_parser("open", help="bring a document's job back, to be read here")
    back.add_argument("file", type=Path, metavar="FILE.pdf")
    back.add_argument("--out", type=Path, metavar="DIR", help="where the job goes")
    back.add_argument("--seal", type=Path, metavar="DIR", help="folder of the seal that is known here")
    back.set_defaults(action=run_open)

    verify = commands.add_parser("verify", help="check a handover document")
    verify.add_argument("file", type=Path, metavar="FILE.pdf")
    verify.add_argument("--json", action="store_true", help="the answer for machines")
    verify.add_argument("--seal", type=Path, metavar="DIR", help="folder of the seal that is known here")
    verify.set_defaults(action=run_verify)


def paper_command(commands: Commands) -> None:
    """The papers beside the document."""
    paper = commands.add_parser("paper", help="empty forms, stickers, parts wanted, a table of a job")
    paper.add_argument("paper", choices=("forms", "stickers", "parts", "csv"), help="which paper")
    paper.add_argument("job", type=Path, nargs="?", metavar="JOB.rakejob")
    paper.add_argument("--profile", type=Path, metavar="FILE", help="forms without a job: the machine")
    paper.add_argument("--tractor", type=Path, metavar="FILE", help="forms without a job: the tractor")
    paper.add_argument("--out", type=Path, required=True, metavar="DIR", help="where the paper goes")
    paper.add_argument("--language", default="", metavar="CODE", help="of the paper; else the job's own")
    paper.add_argument("--step", action="append", default=[], metavar="KEY", help="forms of this step only")
    paper.add_argument("--missing", action="store_true", help="forms only for what is still missing")
    paper.set_defaults(action=run_paper)


def tool_commands(commands: Commands) -> None:
    """Data files and sums."""
    profile = commands.add_parser("profile", help="data files of machines and tractors")
    kinds = profile.add_subparsers(title="commands", metavar="COMMAND", required=True)
    check = kinds.add_parser("check", help="list every mistake in data files")
    check.add_argument("files", type=Path, nargs="+", metavar="FILE")
    check.set_defaults(action=run_check)

    calc = commands.add_parser("calc", help="one sum of the trade, without a job: “calc” lists all")
    calc.add_argument("--json", action="store_true", help="the answer for machines")
    calc.add_argument("words", nargs=argparse.REMAINDER, metavar="NAME key=value…", help="sum and values")
    calc.set_defaults(action=run_calc)


def seal_commands(commands: Commands) -> None:
    """The workshop's signing key."""
    seal = commands.add_parser("seal", help="the workshop's signing key")
    kinds = seal.add_subparsers(title="commands", metavar="COMMAND", required=True)
    new = kinds.add_parser("new", help="make the workshop's seal")
    new.add_argument("workshop", metavar="WORKSHOP", help="its name, as it shall stand on the seal")
    add_seal(new)
    new.set_defaults(action=run_seal_new)
    show = kinds.add_parser("show", help="whose seal it is, its fingerprint, how long it lasts")
    show.add_argument("--seal", type=Path, metavar="DIR")
    show.set_defaults(action=run_seal_show)
    export = kinds.add_parser("export-certificate", help="the part that others may have")
    export.add_argument("file", type=Path, metavar="FILE.pem")
    export.add_argument("--seal", type=Path, metavar="DIR")
    export.set_defaults(action=run_seal_export)
    trust = kinds.add_parser("trust", help="know another workshop's seal from its certificate")
    trust.add_argument("file", type=Path, metavar="FILE.pem")
    trust.add_argument("--seal", type=Path, metavar="DIR")
    trust.set_defaults(action=run_seal_trust)


def add_seal(parser: argparse.ArgumentParser) -> None:
    """Options to open a seal."""
    parser.add_argument("--seal", type=Path, metavar="DIR", help="folder of the seal")
    parser.add_argument(
        "--passphrase-file", type=Path, metavar="FILE", help="its first line is the passphrase"
    )


# ---------------------------------------------------------------------- commands


def window(asked: argparse.Namespace) -> int:
    """Open the window."""
    if not display():
        say_error(NO_DISPLAY)
        return FAILED
    from rakeprep.ui.app import run

    return run(data())


def run_demo(asked: argparse.Namespace) -> int:
    """The sample job."""
    from rakeprep.handover import demo

    out: Path = asked.out
    if display() and not asked.headless:
        from rakeprep.jobs.reading import Refused
        from rakeprep.store.job_file import StoreError

        try:
            job = demo.half_done(paths.sample_profiles(), out / "jobs", now)
        except (Refused, StoreError) as error:
            say_error(error.message)
            return FAILED
        from rakeprep.ui.app import run

        return run(out.absolute(), job)
    outcome = demo.demo(paths.sample_profiles(), out.absolute(), known_languages(), now, say)
    if outcome.document is None:
        say_all(outcome.reasons)
        return FAILED
    say(msg("Document: {file}", file=str(outcome.document)))
    return verified(outcome.document, out.absolute() / "seal", as_json=False)


def run_fill(asked: argparse.Namespace) -> int:
    """A whole job from an answers file."""
    from rakeprep.handover.fill import fill

    return filled(asked, partial(fill, asked.profile, asked.tractor, asked.answers))


def run_chapter(asked: argparse.Namespace) -> int:
    """A later chapter of a job from an answers file."""
    from rakeprep.handover.fill import fill_chapter

    return filled(asked, partial(fill_chapter, asked.job, asked.answers))


def filled(asked: argparse.Namespace, work: Callable[..., Outcome]) -> int:
    """Do what leads from answers to a document, and say what came of it."""
    from rakeprep.handover import keys

    folder: Path = asked.seal or data() / "seal"
    try:
        outcome = work(
            asked.out.absolute(),
            open_seal=lambda: keys.load(folder, passphrase(asked.passphrase_file)),
            languages=known_languages(),
            clock=now,
            progress=say,
        )
    except keys.SealError as error:
        say_error(error.message)
        return FAILED
    if outcome.document is None:
        say_all(outcome.reasons)
        return FAILED
    say(msg("Document: {file}", file=str(outcome.document)))
    return DONE


def run_open(asked: argparse.Namespace) -> int:
    """Bring a job back from its document, and show it where there is a display."""
    from rakeprep.handover import keys
    from rakeprep.handover.reopen import bring_back, brought
    from rakeprep.jobs.reading import Refused
    from rakeprep.store.job_file import StoreError

    home = data()
    try:
        roots = list(keys.trusted(asked.seal or home / "seal"))
        path, report = bring_back(asked.file, asked.out or home / "brought-back", roots, now)
    except (Refused, StoreError) as error:
        say_error(error.message)
        return FAILED
    say_all(brought(path, report), sys.stdout)
    if asked.out is not None or not display():
        return report.code
    from rakeprep.ui.app import run

    return run(home, path)


def run_tractor(asked: argparse.Namespace) -> int:
    """Put an open job on another tractor, and say what that makes out of date."""
    from rakeprep.jobs.open_job import OpenJob, UnreadableData
    from rakeprep.jobs.reading import Refused
    from rakeprep.jobs.refit import fit_on, refit
    from rakeprep.jobs.starting import DataRefused
    from rakeprep.store.job_file import StoreError

    try:
        with OpenJob.resume(asked.job, now) as job:
            found = refit(job, asked.tractor)
            fit_on(job, found, asked.reason, asked.who)
    except (Refused, DataRefused, UnreadableData, StoreError) as error:
        say_error(error.message)
        return FAILED
    say(found.says)
    return DONE


def run_verify(asked: argparse.Namespace) -> int:
    """Check a handover document."""
    return verified(asked.file, asked.seal or data() / "seal", asked.json)


def verified(file: Path, seal: Path, as_json: bool) -> int:
    """Check a document and print the answer."""
    from rakeprep.handover import keys
    from rakeprep.handover.verify import verify_file

    report = verify_file(file, keys.trusted(seal))
    if as_json:
        put([json.dumps(report.to_json(), ensure_ascii=False, indent=2)], sys.stdout)
    else:
        put(report.lines(ENGLISH), sys.stdout)
    return report.code


def run_paper(asked: argparse.Namespace) -> int:
    """Write one of the papers beside the document."""
    from rakeprep.handover import papers
    from rakeprep.jobs.open_job import UnreadableData
    from rakeprep.jobs.reading import Refused
    from rakeprep.jobs.starting import DataRefused
    from rakeprep.store.job_file import StoreError

    wish = papers.Wish(papers.Which(asked.paper), tuple(asked.step), asked.missing)
    data = (asked.profile, asked.tractor)
    try:
        path = papers.from_files(
            asked.job, data, wish, asked.out.absolute(), asked.language, known_languages(), now
        )
    except (Refused, DataRefused, StoreError, UnreadableData) as error:
        say_error(error.message)
        return FAILED
    say(msg("Written: {file}", file=str(path)))
    return DONE


def run_check(asked: argparse.Namespace) -> int:
    """List every mistake in data files."""
    from rakeprep.profiles import ProfileError, load_text, read_either

    code = DONE
    for path in asked.files:
        try:
            read = read_either(load_text(path), str(path))
        except ProfileError as error:
            say_error(error.message)
            code = FAILED
            continue
        put([str(mistake.lines()) for mistake in (*read.mistakes, *read.conflicts)], sys.stdout)
        if read.mistakes:
            code = FAILED
        elif read.conflicts:
            say(msg("{file}: usable; the values above are printed twice and differ.", file=str(path)))
        else:
            say(msg("{file}: no mistakes.", file=str(path)))
    return code


def run_calc(asked: argparse.Namespace) -> int:
    """Work one sum out."""
    from rakeprep.sums.command import run

    out: list[str] = []
    err: list[str] = []
    code = run(asked.words, asked.json, out.append, err.append, ENGLISH.say)
    put(out, sys.stdout)
    put(err, sys.stderr)
    return code


def run_seal_new(asked: argparse.Namespace) -> int:
    """Make the workshop's seal."""
    from rakeprep.handover import seal_commands

    folder = asked.seal or data() / "seal"
    given: Path | None = asked.passphrase_file
    return sealing(lambda: seal_commands.new(folder, asked.workshop, lambda: new_passphrase(given), now))


def run_seal_show(asked: argparse.Namespace) -> int:
    """Say whose seal it is."""
    from rakeprep.handover import seal_commands

    return sealing(lambda: seal_commands.show(asked.seal or data() / "seal"))


def run_seal_export(asked: argparse.Namespace) -> int:
    """Write the part of the seal that others may have."""
    from rakeprep.handover import seal_commands

    return sealing(lambda: seal_commands.export_certificate(asked.seal or data() / "seal", asked.file))


def run_seal_trust(asked: argparse.Namespace) -> int:
    """Know another workshop's seal."""
    from rakeprep.handover import seal_commands

    return sealing(lambda: seal_commands.trust(asked.seal or data() / "seal", asked.file))


def sealing(action: Callable[[], Iterable[Message]]) -> int:
    """Do something with a seal; a refusal becomes one sentence."""
    from rakeprep.handover.keys import SealError

    try:
        say_all(action(), sys.stdout)
    except SealError as error:
        say_error(error.message)
        return FAILED
    return DONE


# ---------------------------------------------------------------------- surroundings

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


def passphrase(file: Path | None) -> str:
    """The passphrase from a file's first line, or asked for."""
    if file is None:
        return getpass.getpass(str(msg("Passphrase of the seal: ")))
    from rakeprep.handover.seal_commands import passphrase_in

    return passphrase_in(file)


def new_passphrase(file: Path | None) -> str:
    """A new passphrase, asked for twice unless a file has it."""
    first = passphrase(file)
    if file is None and getpass.getpass(str(msg("The same once more: "))) != first:
        from rakeprep.handover.keys import SealError

        raise SealError(msg("The two passphrases differ; begin again."))
    return first


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
