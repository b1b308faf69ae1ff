"""While the handbook is served, a changed file is noticed, and a build replaces the site whole."""

import subprocess
import sys

import watching
from watching import Rebuilding, changed, state_of


def test_what_is_changed_added_or_taken_away_is_noticed(tmp_path):
    (tmp_path / "docs").mkdir()
    (tmp_path / "docs" / "node_modules").mkdir()
    page, gone = tmp_path / "docs" / "page.md", tmp_path / "docs" / "gone.md"
    page.write_text("one")
    gone.write_text("")
    before = state_of([tmp_path / "docs"])
    assert changed(before, state_of([tmp_path / "docs"])) == []
    page.write_text("one more")
    gone.unlink()
    new = tmp_path / "docs" / "new.md"
    new.write_text("")
    (tmp_path / "docs" / "node_modules" / "package.json").write_text("")
    assert changed(before, state_of([tmp_path / "docs"])) == sorted([page, gone, new])


def rebuilding(tmp_path, monkeypatch, script):
    """Return the rebuilding of a site, with a script in the build's place, and the site."""
    site = tmp_path / "site"
    site.mkdir()
    (site / "index.html").write_text("old")
    monkeypatch.setattr(watching, "NEXT", tmp_path / "next")
    monkeypatch.setattr(watching, "WORK", tmp_path)

    def build(folder, for_reading):
        return subprocess.Popen([sys.executable, "-c", script, str(folder), str(for_reading)])

    return Rebuilding(site, build), site


WRITE = (
    "import sys, pathlib; folder = pathlib.Path(sys.argv[1]); folder.mkdir(); "
    "(folder / 'index.html').write_text('pages' if sys.argv[2] == 'True' else 'whole')"
)


def test_the_pages_are_put_in_place_first_and_the_whole_when_it_is_done(tmp_path, monkeypatch):
    building, site = rebuilding(tmp_path, monkeypatch, WRITE)
    building.begin()
    assert (site / "index.html").read_text() == "pages"
    building._following.wait()
    building.go_on()
    assert (site / "index.html").read_text() == "whole"
    building.go_on()  # nothing is waited for any more
    assert sorted(path.name for path in tmp_path.iterdir()) == ["site"]


def test_a_build_that_fails_leaves_the_site_as_it_was(tmp_path, monkeypatch, capsys):
    building, site = rebuilding(tmp_path, monkeypatch, "import sys; sys.exit(1)")
    building.begin()
    assert (site / "index.html").read_text() == "old"
    assert "as they were" in capsys.readouterr().out


def test_what_is_being_built_is_given_up_when_its_sources_change(tmp_path, monkeypatch):
    slow = f"{WRITE}\nif sys.argv[2] == 'False': import time; time.sleep(60)"
    building, _ = rebuilding(tmp_path, monkeypatch, slow)
    building.begin()
    following = building._following
    building.stop()
    assert following.poll() is not None and building._following is None
