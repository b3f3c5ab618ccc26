"""“rakeprep calc” as it is typed."""

from __future__ import annotations

import json
import shlex
import subprocess
import sys

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from rakeprep.cli import main, printable
from rakeprep.sums import Sum, all_sums
from rakeprep.sums.command import run
from rakeprep.sums.showing import example_line

Captured = pytest.CaptureFixture[str]


def typed(line: str) -> list[str]:
    """A line as a shell would hand it over."""
    return ["calc", *shlex.split(line)]


def test_that_calc_alone_lists_every_sum_in_a_line(capsys: Captured) -> None:
    assert main(["calc"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert [line.split()[0] for line in lines] == [each.key for each in all_sums()]
    assert all(len(line.split()) > 2 for line in lines)


def test_that_a_name_alone_shows_inputs_range_source_and_example(capsys: Captured) -> None:
    assert main(["calc", "driveline-cut"]) == 0
    out = capsys.readouterr().out
    for part in (
        "closed: groove to groove",
        "mm, cm, m, in, ft",
        "Holds:",
        "Source:",
        "rakeprep calc driveline-cut",
    ):
        assert part in out


@pytest.mark.parametrize("of", all_sums(), ids=lambda each: each.key)
def test_that_the_example_line_can_be_pasted(of: Sum, capsys: Captured) -> None:
    words = shlex.split(example_line(of))
    assert words[:2] == ["rakeprep", "calc"]
    assert main(words[1:]) == 0
    captured = capsys.readouterr()
    assert captured.err == ""
    assert "Source:" in captured.out


@pytest.mark.parametrize("of", all_sums(), ids=lambda each: each.key)
def test_that_json_has_inputs_results_verdict_working_and_source(of: Sum, capsys: Captured) -> None:
    assert main([*shlex.split(example_line(of))[1:], "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert {"inputs", "results", "verdict", "working", "source", "range", "says"} <= set(data)
    assert data["sum"] == of.key
    assert {key for key, each in data["inputs"].items() if each["typed"]} == set(of.example)
    for result in data["results"]:
        assert {"key", "label", "value", "unit", "doubt", "shown"} <= set(result)


def test_that_the_answer_comes_in_both_families_with_verdict_and_working(capsys: Captured) -> None:
    assert (
        main(typed("axle-loads front=2100kg rear=6834lb wheelbase='8 ft 4 3/8 in' load=1243kg behind=95cm"))
        == 0
    )
    out = capsys.readouterr().out
    assert "Verdict: in order" in out
    assert "kg" in out
    assert "lb" in out
    assert "Working:" in out


def test_that_blanks_before_a_unit_need_no_quotation_marks(capsys: Captured) -> None:
    assert main(typed("wrench-setting torque=250 Nm wrench=15 3/4 in extension=60 mm")) == 0
    assert "217 N·m" in capsys.readouterr().out


def test_that_clock_places_need_no_quotation_marks(capsys: Captured) -> None:
    line = "rotor-plane readings=9=31mm 10=24mm 11=17mm 12=12mm 1=11mm 2=15mm 3=22mm circle=3.5m"
    assert main(typed(line)) == 0
    assert "−29 mm" in capsys.readouterr().out


@pytest.mark.parametrize("line", ["bolt --json thread=M12 class=8.8", "--json bolt thread=M12 class=8.8"])
def test_that_json_may_be_asked_for_anywhere(line: str, capsys: Captured) -> None:
    assert main(typed(line)) == 0
    assert json.loads(capsys.readouterr().out)["sum"] == "bolt"


def test_that_the_list_and_a_description_come_as_json_too(capsys: Captured) -> None:
    assert main(["calc", "--json"]) == 0
    assert len(json.loads(capsys.readouterr().out)) == len(all_sums())
    assert main(["calc", "bolt", "--json"]) == 0
    assert [each["key"] for each in json.loads(capsys.readouterr().out)["takes"]] == ["thread", "class"]


def test_that_help_behind_a_name_describes_the_sum(capsys: Captured) -> None:
    assert main(["calc", "bolt", "--help"]) == 0
    assert "Example" in capsys.readouterr().out


def test_that_a_sum_without_inputs_answers_at_once(capsys: Captured) -> None:
    assert main(["calc", "spring-pin-table"]) == 0
    assert "104.1 kN" in capsys.readouterr().out


# ---------------------------------------------------------------------- bad input


def test_that_an_unknown_name_is_answered_with_the_likeliest(capsys: Captured) -> None:
    assert main(["calc", "driveline-ct"]) == 2
    assert "driveline-cut" in capsys.readouterr().err
    assert main(["calc", "qqqq"]) == 2
    assert "lists all" in capsys.readouterr().err


def test_that_all_mistakes_are_named_at_once(capsys: Captured) -> None:
    line = "driveline-cut closd=905mm half-a=780qq half-b=760 shortest=872mm shortest=873mm --fast longest"
    assert main(typed(line)) == 2
    err = capsys.readouterr().err
    for part in (
        "did you mean closed",
        "qq",
        "The unit is missing",
        "shortest is typed twice",
        "--fast",
        "overlap: is missing",
    ):
        assert part in err
    assert "shows what it takes" in err


def test_that_the_impossible_ends_in_one_sentence(capsys: Captured) -> None:
    assert main(typed("hitch-load mass=2900kg length=5.6m gravity=7m")) == 1
    captured = capsys.readouterr()
    assert captured.out == ""
    assert len(captured.err.splitlines()) == 1


def test_that_a_refusal_is_json_too(capsys: Captured) -> None:
    assert main(typed("hitch-load mass=2900kg length=5.6m gravity=7m --json")) == 1
    assert json.loads(capsys.readouterr().out)["refused"] == "impossible"
    assert main(typed("hitch-load mass=2900 foo --json")) == 2
    data = json.loads(capsys.readouterr().out)
    assert data["refused"] == "not read"
    assert len(data["reasons"]) == 3
    assert main(typed("nothing --json")) == 2
    assert json.loads(capsys.readouterr().out)["refused"] == "no such sum"


def test_that_a_stray_word_alone_is_no_pair(capsys: Captured) -> None:
    assert main(["calc", "bolt", "M12"]) == 2
    assert "“M12” is no key=value" in capsys.readouterr().err


def test_that_too_many_mistakes_are_counted(capsys: Captured) -> None:
    assert main(["calc", "bolt", *(f"k{n}x=1" for n in range(200)), *(f"--f{n}" for n in range(200))]) == 2
    assert len(capsys.readouterr().err.splitlines()) < 60


def test_that_a_reader_who_has_seen_enough_is_no_mistake() -> None:
    line = [sys.executable, "-u", "-m", "rakeprep", "calc"]
    with subprocess.Popen(line, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as started:
        assert started.stdout is not None
        assert started.stderr is not None
        started.stdout.close()
        said = started.stderr.read()
    assert said == b""


def test_that_a_stream_without_a_sign_gets_a_question_mark() -> None:
    assert printable("√2 ± 1", "ascii") == "?2 ? 1"
    assert printable("\ud800", None) == "?"


WORDS = st.one_of(
    st.text(max_size=30),
    st.sampled_from(
        ["=", "a=", "=1", "--json", "-h", "--", "thread=M12", "class=8.8", "9=1mm", "x=\ud800", "\udcff"]
    ),
)


@given(st.lists(st.sampled_from([each.key for each in all_sums()]) | WORDS, max_size=6))
@settings(max_examples=200, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_that_no_words_end_in_a_traceback(words: list[str]) -> None:
    out: list[str] = []
    err: list[str] = []
    code = run(words, False, out.append, err.append)
    assert code in {0, 1, 2}
    assert (code == 0) == (not err)
    if "--json" in words:
        json.loads("\n".join(out))
    for line in (*out, *err):
        printable(line, "utf-8").encode()
