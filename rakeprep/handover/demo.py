"""The sample job, from its answers file to the verified document, in one go."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

from rakeprep.handover import keys
from rakeprep.handover.fill import Outcome, fill, started
from rakeprep.jobs import answers as given
from rakeprep.jobs.open_job import Clock
from rakeprep.jobs.starting import text_of
from rakeprep.text import Language, Message

MACHINE = "machines/sample-rake-a.toml"
TRACTOR = "tractors/tractor-fits.toml"
HEALTHY = "answers/healthy.toml"
HALF_DONE = "answers/half-done.toml"
WORKSHOP = "Sample Workshop (invented)"
PASSPHRASE = "a practice seal, no secret"
DONE_SO_FAR = 10  # steps of the half-done job, up to oil and grease


def practice_seal(folder: Path, clock: Clock) -> keys.Seal:
    """A seal for the demo; its passphrase is no secret, so it proves nothing to anybody else."""
    if keys.exists(folder):
        return keys.load(folder, PASSPHRASE)
    return keys.new(folder, WORKSHOP, PASSPHRASE, clock)


def demo(
    samples: Path,
    out: Path,
    languages: Mapping[str, Language],
    clock: Clock,
    progress: Callable[[Message], None],
) -> Outcome:
    """Do the sample job in ``out``."""
    return fill(
        samples / MACHINE,
        samples / TRACTOR,
        samples / HEALTHY,
        out,
        open_seal=lambda: practice_seal(out / "seal", clock),
        languages=languages,
        clock=clock,
        progress=progress,
    )


def half_done(samples: Path, folder: Path, clock: Clock) -> Path:
    """A sample job in the middle of its work, for the window; gives the path of its file."""
    before, on_top = (given.read_answers(text_of(samples / name)) for name in (HEALTHY, HALF_DONE))
    with started(samples / MACHINE, samples / TRACTOR, on_top, folder, clock) as job:
        done = {task.step.key for task in job.tasks.values() if task.step.order <= DONE_SO_FAR}
        before.given = [answer for answer in before.given if answer.step in done]
        before.cautions = {step: who for step, who in before.cautions.items() if step in done}
        given.apply(before, job)
        given.apply(on_top, job)
        return job.file.path
