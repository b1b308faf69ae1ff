"""The commands fail in sentences, and the build refuses what the pages must not hold."""

import argparse
import json
import shutil
import socket
import subprocess
import sys
import textwrap

import environment
import pytest
import steps
from conftest import ROOT
from sites import SITE, build

RUN = [sys.executable, str(ROOT / "build" / "run.py")]


def run(*arguments, **more):
    return subprocess.run(
        [*RUN, *arguments], capture_output=True, text=True, check=False, timeout=120, **more
    )


# ---- directives


@pytest.fixture
def project(tmp_path):
    """A copy of the pages and their settings, to be spoiled."""
    for name in ("docs", "build", "calc", "shared"):
        # With what is compiled already: it is the same code.
        shutil.copytree(ROOT / name, tmp_path / name, ignore=shutil.ignore_patterns("node_modules"))
    shutil.copy(ROOT / "mkdocs.yml", tmp_path / "mkdocs.yml")
    return tmp_path


# Builds the pages as they are, or once with each text of a list at the end of one of them.
PAGES_ONLY = """
import json
import sys
from pathlib import Path
sys.path.insert(0, "build")
import site_build
from steps import Stop

def stopped():
    try:
        site_build._pages(Path("site").resolve(), "http://127.0.0.1:8000/")
    except Stop as stop:
        return str(stop)

if len(sys.argv) == 1:
    sys.exit(stopped())
page = Path(sys.argv[1])
before = page.read_text(encoding="utf-8")
for more in json.loads(sys.argv[2]):
    page.write_text(before + more, encoding="utf-8")
    print(json.dumps(stopped()))
"""


def build_pages(project, *arguments):
    return subprocess.run(
        [sys.executable, "-c", PAGES_ONLY, *map(str, arguments)],
        cwd=project,
        capture_output=True,
        text=True,
        check=False,
    )


BAD_FENCES = [
    ("calculator\nnothing-known", "calculator: there is no calculator ‘nothing-known’"),
    ("calculator\nbridged-output\nload_ohm=4", "calculator: a calculator takes no parameters"),
    ("table\nno-table", "table: there is no table ‘no-table’"),
    ("table\nstandard-combinations", "table: bad parameters: missing a required argument"),
    ("table\nstandard-combinations\ncoils=3", "table: coils must be 1 or 2"),
    ("drawing\nfour-channel-grouping\nname=1|2", "drawing: there is no layout ‘1|2’"),
    ("drawing\ncircuit\nnotation=1a+", "drawing: it ends where a coil should be"),
    ("example\nbridged-output\nload_ohm=none", "example: Load on the bridged pair: ‘none’"),
    ("example\nbridged-output\nload_ohm", "example: ‘load_ohm’ is not key=value"),
    (
        "example\nbridged-output\nexpect bridged_power_w=151",
        "example: the example gives bridged_power_w = 150",
    ),
    ("example\nbridged-output\nexpect no.such=1", "example: the example has no result"),
    ("example\nbridged-output\nexpect bridged_power_w=−150", "example: could not convert"),
]


def test_a_bad_directive_stops_the_build_with_file_and_line(project):
    page = project / "docs" / "changes.md"
    lines = page.read_text(encoding="utf-8").count("\n")
    texts = [f"\nSome text.\n\n``` {fence}\n```\n" for fence, _ in BAD_FENCES]
    done = build_pages(project, page, json.dumps(texts))
    assert done.returncode == 0, done.stderr
    sentences = [json.loads(line) for line in done.stdout.splitlines() if line[0] in 'n"']
    for (fence, told), sentence in zip(BAD_FENCES, sentences, strict=True):
        assert sentence is not None, fence
        assert f"docs/changes.md, line {lines + 4}: {told}" in sentence
    assert "Traceback" not in done.stdout + done.stderr


def test_directives_nest_and_a_broken_link_between_pages_stops_the_build(project):
    """One build shows both: the pages are written before it stops for its one warning."""
    page = project / "docs" / "changes.md"
    fence = "``` table\nfour-groupings\n```\n"
    with page.open("a", encoding="utf-8") as file:
        file.write('\n!!! note "A note"\n\n' + textwrap.indent(fence, "    "))
        file.write("\n1.  A list\n\n" + textwrap.indent(fence, "    "))
        file.write("\n[nowhere](nowhere.md)\n")
    done = build_pages(project)
    assert done.returncode == 1
    assert "nowhere.md" in done.stderr
    assert len(done.stderr.splitlines()) == 1
    html = (project / "site" / "changes" / "index.html").read_text(encoding="utf-8")
    assert html.count("Four channels: the four layouts") == 4  # caption and box label
    note = html[html.index("admonition note") :]
    assert "figures-table" in note[: note.index("<ol")]


def test_an_inline_style_stops_the_build(tmp_path):
    import site_build

    (tmp_path / "index.html").write_text('<html><head></head><p style="color:red">x</p></html>')
    with pytest.raises(steps.Stop, match="inline style"):
        site_build._secure(tmp_path)


def test_a_page_without_its_calculators_stops_the_build(tmp_path):
    import site_build

    with pytest.raises(steps.Stop, match="put the missing directive into docs/"):
        site_build._check_pages(tmp_path)


# ---- commands


def test_help_names_the_commands():
    told = run("--help").stdout
    for command in ("serve", "build", "test", "bench"):
        assert command in told


def test_a_taken_port_is_told_in_one_sentence():
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        done = run("serve", "--port", str(port))
    assert done.returncode == 1
    assert f"port {port} is taken" in done.stderr
    assert "--port" in done.stderr
    assert "Traceback" not in done.stderr


def test_the_wrong_python_is_told_in_one_sentence(monkeypatch, capsys):
    import run as entry

    monkeypatch.setattr(sys, "version_info", (3, 10, 7, "final", 0))
    monkeypatch.setattr(entry.shutil, "which", lambda _: None)
    monkeypatch.setattr(sys, "argv", ["run.py", "build"])
    assert entry.main() == 2
    told = capsys.readouterr().err
    assert told.count("\n") == 1
    assert "This needs Python 3.11 or newer, and this is Python 3.10: install one" in told


@pytest.mark.parametrize(
    ("there", "taken"),
    [
        (("python3.12", "python3.13", "python3.14"), "python3.13"),
        (("python3.14", "python3.12"), "python3.14"),
        (("python3.11", "python3.12"), "python3.12"),
        (("python3.11",), "python3.11"),
    ],
)
def test_an_older_python_hands_over_to_one_that_will_do(monkeypatch, there, taken):
    """The one that the project is developed with comes first."""
    import run as entry

    called = []
    monkeypatch.setattr(sys, "version_info", (3, 10, 7, "final", 0))
    monkeypatch.setattr(
        entry.shutil, "which", lambda name: f"/there/{name}" if name in there else None
    )
    monkeypatch.setattr(entry.subprocess, "call", lambda command, env: called.append(command) or 0)
    monkeypatch.setattr(sys, "argv", ["run.py", "build"])
    assert entry.main() == 0
    assert called == [[f"/there/{taken}", "run.py", "build"]]


@pytest.mark.parametrize(
    ("output", "sentence"),
    [
        ("OSError: [Errno 28] No space left on device", "The disk is full: free"),
        ("npm error code ENOSPC", "The disk is full: free"),
        ("Temporary failure in name resolution", "check the network connection"),
        ("npm error code ENOTFOUND", "check the network connection"),
        ("ERROR: No matching distribution found for mkdocs==1.6.1", "check the network connection"),
    ],
)
def test_a_failing_step_says_what_to_do(output, sentence, tmp_path, monkeypatch):
    monkeypatch.setattr(steps, "WORK", tmp_path)
    monkeypatch.setattr(steps, "LOG", tmp_path / "log.txt")
    with pytest.raises(steps.Stop, match=sentence):
        steps.run(
            [sys.executable, "-c", f"print({output!r}); raise SystemExit(1)"], why="It broke."
        )


def test_a_failure_nobody_foresaw_shows_what_was_printed_last(tmp_path, monkeypatch):
    monkeypatch.setattr(steps, "WORK", ROOT / ".work")
    monkeypatch.setattr(steps, "LOG", ROOT / ".work" / "log-of-a-test.txt")
    with pytest.raises(steps.Stop, match=r"It broke\.(.|\n)*the last words"):
        steps.run(
            [sys.executable, "-c", "print('the last words'); raise SystemExit(3)"], why="It broke."
        )


def test_a_package_with_another_hash_is_refused(tmp_path):
    lock = tmp_path / "lock.txt"
    lock.write_text("idna==3.10 --hash=sha256:" + "0" * 64 + "\n")
    done = subprocess.run(
        [
            sys.executable,
            "-m",
            "pip",
            "download",
            "--no-deps",
            "--require-hashes",
            "-d",
            str(tmp_path),
            "-r",
            str(lock),
        ],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode != 0


def test_a_full_disk_ends_in_a_sentence(monkeypatch, capsys):
    import errno

    import commands
    import run as entry

    def full(_):
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(commands, "COMMANDS", {"build": full})
    monkeypatch.setattr(sys, "argv", ["run.py", "build"])
    assert entry.main() == 1
    assert "The disk is full: free about 2 GB" in capsys.readouterr().err


def test_an_interrupted_step_is_done_again(tmp_path):
    stamp = steps.Stamp(tmp_path / "made", "inputs")
    assert not stamp.is_fresh()
    stamp.write()
    assert stamp.is_fresh()
    assert not steps.Stamp(tmp_path / "made", "other inputs").is_fresh()
    stamp.clear()
    assert not stamp.is_fresh()


def test_an_interrupted_set_up_is_begun_again(tmp_path, monkeypatch):
    """A virtual environment without its mark of completion is thrown away."""
    half_made = tmp_path / ".venv"
    half_made.mkdir()
    (half_made / "rubbish").write_text("from a run that was cut short")
    monkeypatch.setattr(environment, "VENV", half_made)
    monkeypatch.setattr(environment, "BUILD_LOCK", tmp_path / "requirements.txt")
    (tmp_path / "requirements.txt").write_text("")
    monkeypatch.setattr(environment, "fingerprint", lambda *_: "same")
    ran = []
    monkeypatch.setattr(environment, "run", lambda command, **_: ran.append(command))
    environment._python_packages(environment.BUILD_LOCK)
    assert not (half_made / "rubbish").exists()
    assert (half_made / "pyvenv.cfg").exists()
    assert len(ran) == 1
    environment._python_packages(environment.BUILD_LOCK)
    assert len(ran) == 1  # nothing is done twice


def test_a_missing_program_is_named_with_the_command_to_type(monkeypatch):
    monkeypatch.setattr(environment.shutil, "which", lambda _: None)
    monkeypatch.setattr(environment, "_may_install", lambda: False)
    with pytest.raises(steps.Stop, match="apt-get install ngspice"):
        environment.debian_program("ngspice", "ngspice", "for the tests")


def test_interrupting_says_that_it_can_go_on(monkeypatch, capsys):
    import commands
    import run as entry

    def interrupted(_: argparse.Namespace):
        raise KeyboardInterrupt

    monkeypatch.setattr(commands, "COMMANDS", {"build": interrupted})
    monkeypatch.setattr(sys, "argv", ["run.py", "build"])
    assert entry.main() == 130
    assert "Run the same command again" in capsys.readouterr().err


HOLD = """
import sys, time
from pathlib import Path
sys.path.insert(0, sys.argv[1])
import steps
steps.WORK = Path(sys.argv[2])
with steps.alone():
    print("alone", flush=True)
    time.sleep(float(sys.argv[3]))
"""


def held(folder, seconds):
    command = [sys.executable, "-c", HOLD, str(ROOT / "build"), str(folder), str(seconds)]
    return subprocess.Popen(command, stdout=subprocess.PIPE, text=True)


def test_two_runs_in_one_folder_wait_for_each_other_and_a_killed_one_leaves_nothing(tmp_path):
    with held(tmp_path, 60) as first:
        assert first.stdout.readline() == "alone\n"
        with held(tmp_path, 0) as second:
            assert "Another run is at work in this folder" in second.stdout.readline()
            assert second.poll() is None
            first.kill()
            assert second.stdout.readline() == "alone\n"
    with held(tmp_path, 0) as third:
        assert third.stdout.readline() == "alone\n"


def test_a_second_build_does_no_work_twice(site):
    before = (site / "index.html").stat().st_mtime_ns
    sitemap = (site / "sitemap.xml").read_text(encoding="utf-8")
    address = sitemap.split("<loc>")[1].split("</loc>")[0]
    build(SITE, address)
    assert (site / "index.html").stat().st_mtime_ns == before
