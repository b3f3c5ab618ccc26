"""The command line: what was asked, and nothing else."""

from __future__ import annotations

import argparse
import datetime as dt
import getpass
import json
import os
import sys
from collections.abc import Callable, Iterable, Mapping, Sequence
from pathlib import Path

from rakeprep import paths
from rakeprep.text import ENGLISH, Language, Message, languages, msg

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

    verify = commands.add_parser("verify", help="check a handover document")
    verify.add_argument("file", type=Path, metavar="FILE.pdf")
    verify.add_argument("--json", action="store_true", help="the answer for machines")
    verify.add_argument("--seal", type=Path, metavar="DIR", help="folder of the seal that is known here")
    verify.set_defaults(action=run_verify)

    profile = commands.add_parser("profile", help="data files of machines and tractors")
    kinds = profile.add_subparsers(title="commands", metavar="COMMAND", required=True)
    check = kinds.add_parser("check", help="list every mistake in data files")
    check.add_argument("files", type=Path, nargs="+", metavar="FILE")
    check.set_defaults(action=run_check)

    calc = commands.add_parser("calc", help="one sum of the trade, without a job: “calc” lists all")
    calc.add_argument("--json", action="store_true", help="the answer for machines")
    calc.add_argument("words", nargs=argparse.REMAINDER, metavar="NAME key=value…", help="sum and values")
    calc.set_defaults(action=run_calc)

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
    return parser


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
    from rakeprep.handover import keys
    from rakeprep.handover.fill import fill

    folder: Path = asked.seal or data() / "seal"
    try:
        outcome = fill(
            asked.profile,
            asked.tractor,
            asked.answers,
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


def run_verify(asked: argparse.Namespace) -> int:
    """Check a handover document."""
    return verified(asked.file, asked.seal or data() / "seal", asked.json)


def verified(file: Path, seal: Path, as_json: bool) -> int:
    """Check a document and print the answer."""
    from rakeprep.handover import keys
    from rakeprep.handover.verify import verify_file

    report = verify_file(file, keys.trusted(seal))
    if as_json:
        print(json.dumps(report.to_json(), ensure_ascii=False, indent=2))
    else:
        for line in report.lines(ENGLISH):
            print(line)
    return report.code


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
        for mistake in (*read.mistakes, *read.conflicts):
            print(mistake.lines())
        if read.mistakes:
            code = FAILED
        elif read.conflicts:
            say(msg("{file}: usable; the values above are printed twice and differ.", file=str(path)))
        else:
            say(msg("{file}: no mistakes.", file=str(path)))
    return code


def run_calc(asked: argparse.Namespace) -> int:
    """Work one sum out."""
    from rakeprep.sums.command import printable, run

    out: list[str] = []
    err: list[str] = []
    code = run(asked.words, asked.json, out.append, err.append, ENGLISH.say)
    for lines, stream in ((out, sys.stdout), (err, sys.stderr)):
        try:
            stream.write("".join(f"{printable(line, stream.encoding)}\n" for line in lines))
            stream.flush()
        except BrokenPipeError:  # the reader, such as “head”, has seen enough
            os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())
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


def say(message: Message) -> None:
    """One line."""
    print(ENGLISH.say(message))


def say_all(messages: Iterable[Message], stream: object = None) -> None:
    """Several lines; to the error stream unless said otherwise."""
    for message in messages:
        print(ENGLISH.say(message), file=stream or sys.stderr)  # type: ignore[arg-type]


def say_error(message: Message) -> None:
    """One line to the error stream."""
    say_all([message])
