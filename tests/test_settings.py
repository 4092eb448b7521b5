"""Settings: what is kept, what an older program kept, and that nothing in the file stops the program."""

import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from coach.errors import InputError, Unwritable
from coach.files import write_toml
from coach.settings import FILE, OLD_FILE, Settings, checked_steps, load, save

CHOSEN = Settings(
    look="ansi-light",
    unit="in",
    turns_in="fractions",
    steps=(0.127, 0.5, 5.0),
    signs="ascii",
    aspect=2.1,
    hints=False,
    seen=("go", "screw"),
    keys={"undo": ("z",), "note": ("f12",)},
)
"""Every one otherwise than it usually is."""


def test_what_is_kept_comes_back(tmp_path: Path) -> None:
    """Every setting at once, each in words in the file; nothing there gives the defaults without a word."""
    assert (load(tmp_path).settings, load(tmp_path).problems) == (Settings(), ())
    assert [name for name, value in vars(CHOSEN).items() if value == getattr(Settings(), name)] == []
    save(tmp_path, **{name: getattr(CHOSEN, name) for name in vars(CHOSEN)})
    assert (load(tmp_path).settings, load(tmp_path).problems) == (CHOSEN, ())
    assert 'unit = "inch"\n' in (tmp_path / FILE).read_text(encoding="utf-8")


@pytest.mark.parametrize(
    "line",
    [
        'look = "pink"',
        "unit = 25.4",
        'unit = "furlong"',
        'turns = "degrees"',
        "crosshair_steps = [1, 0.5, 2]",
        "crosshair_steps = [0.1, 0.5]",
        "crosshair_steps = [0.1, nan, 2]",
        "crosshair_steps = [true, 2, 3]",
        'signs = ["ascii"]',
        "cell_aspect = 20",
        "hints = 1",
        'hints_seen = "go"',
        'keys = ["z"]',
        'keys = { undo = "z" }',
        "loook = 3",
    ],
)
def test_one_bad_value_costs_that_value_alone(tmp_path: Path, line: str) -> None:
    """It is named with its file and key in one sentence, its default stands in, and the rest is heeded."""
    name = line.partition(" ")[0]
    good = "cell_aspect = 2.2" if name != "cell_aspect" else "hints = false"
    (tmp_path / FILE).write_text(f"{line}\n{good}\n", encoding="utf-8")
    loaded = load(tmp_path)
    assert loaded.settings == (Settings(aspect=2.2) if name != "cell_aspect" else Settings(hints=False))
    (sentence,) = loaded.problems
    assert str(tmp_path / FILE) in sentence
    assert f"'{name}'" in sentence
    assert sentence.count("\n") == 0


@pytest.mark.parametrize("content", [b"look = \n", b"\xff\xfe", b"a = " + b"[" * 5000])
def test_a_broken_file_is_told_and_kept(tmp_path: Path, content: bytes) -> None:
    """The defaults stand in; the next change keeps the broken file beside the new one."""
    (tmp_path / FILE).write_bytes(content)
    loaded = load(tmp_path)
    assert loaded.settings == Settings()
    assert str(tmp_path / FILE) in loaded.problems[0]
    save(tmp_path, unit="in")
    assert load(tmp_path).settings == Settings(unit="in")
    assert (tmp_path / f"{FILE}.unread").read_bytes() == content


def test_a_change_leaves_the_rest_of_the_file(tmp_path: Path) -> None:
    """Also what this program does not know or cannot use: a newer one may."""
    write_toml(tmp_path / FILE, {"from_the_future": [1], "look": "pink", "unit": "inch"})
    save(tmp_path, hints=False)
    kept = tomllib.loads((tmp_path / FILE).read_text(encoding="utf-8"))
    assert kept == {"from_the_future": [1], "look": "pink", "unit": "inch", "hints": False}


def test_the_colours_of_before_are_taken_over(tmp_path: Path) -> None:
    """They stood in a file of their own; once there are settings, that is read no more."""
    write_toml(tmp_path / OLD_FILE, {"look": "coach-light"})
    assert load(tmp_path).settings.look == "coach-light"
    save(tmp_path, unit="in")
    write_toml(tmp_path / OLD_FILE, {"look": "ansi-dark"})
    assert load(tmp_path).settings == Settings(look="coach-light", unit="in")
    (tmp_path / FILE).unlink()
    write_toml(tmp_path / OLD_FILE, {"look": [1]})
    assert load(tmp_path).settings == Settings()


def test_what_cannot_be_written_is_said(tmp_path: Path) -> None:
    """Where the folder's name is a file's, saving raises the sentence to show and loading gives the defaults."""
    folder = tmp_path / "taken"
    folder.write_text("", encoding="utf-8")
    with pytest.raises(Unwritable):
        save(folder, unit="in")
    assert load(folder).settings == Settings()


def test_steps_grow() -> None:
    """Three lengths, each longer than the one before, none beyond a tape."""
    assert checked_steps((1, 2, 20)) == (1.0, 2.0, 20.0)
    for steps in ((0, 1, 2), (1, 1, 2), (1, 2, 21), (1, 2), "abc"):
        with pytest.raises(InputError):
            checked_steps(steps)


def test_reading_loads_nothing_heavy(tmp_path: Path) -> None:
    """The settings are read before the first picture: neither pydantic nor numpy comes with them."""
    save(tmp_path, unit="in")
    code = (
        "import sys; from pathlib import Path; from coach.settings import load\n"
        f"assert load(Path({str(tmp_path)!r})).settings.unit == 'in'\n"
        "assert not {'pydantic', 'numpy', 'textual', 'tomli_w'} & set(sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=Path(__file__).parent.parent, check=False)
    assert done.returncode == 0
