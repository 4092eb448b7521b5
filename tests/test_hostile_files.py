"""Files that nobody's hand wrote: pipes, devices, films, texts made to take hours.  Told at once, and left alone."""

import os
import tomllib
from collections.abc import Callable
from pathlib import Path

import pytest
from machines import make_machine

from coach import Machine, Session, settings
from coach.cli.main import main
from coach.describing import drafts
from coach.errors import Unreadable, Unwritable
from coach.files import MOST_TOLD
from coach.session import baselines
from coach.session.document import read
from coach.toml_text import DEEPEST, LARGEST, read_toml
from coach.upkeep import document as logs

Maker = Callable[[Path], object]
READERS: dict[str, Callable[[Path], object]] = {
    "a session": read,
    "a machine": Machine.load,
    "a draft": drafts.read,
    "a log": logs.read,
}


def dotted(path: Path) -> None:
    """200 KB of one key: each part costs the parser as much as all before it."""
    path.write_text(".".join("a" * 100_000) + " = 1\n")


def of_size(path: Path, size: int) -> None:
    """So many bytes, none of them written."""
    with path.open("wb") as stream:
        stream.truncate(size)


UNPARSED: dict[str, tuple[Maker, str]] = {
    "a pipe": (os.mkfifo, "no regular file"),
    "a device": (lambda path: path.symlink_to("/dev/zero"), "no regular file"),
    "a folder": (Path.mkdir, "directory|no regular file"),
    "a link to itself": (lambda path: path.symlink_to(path), "symbolic links"),
    "50 MB": (lambda path: of_size(path, 50_000_000), "larger than 2 MB"),
    "one byte too many": (lambda path: of_size(path, LARGEST + 1), "larger than 2 MB"),
    "dotted keys": (dotted, "a key of more than 12 parts"),
    "dotted tables": (lambda path: path.write_text(f"[{'.'.join('a' * 99)}]\n"), "a key of more than 12 parts"),
    "quoted dotted keys": (lambda path: path.write_text(".".join(['"a"'] * 99) + " = 1\n"), "more than 12 parts"),
    "dotted keys inside": (lambda path: path.write_text(f"b = {{{'.'.join('a' * 99)} = 1}}\n"), "more than 12 parts"),
}  # fmt: skip
PARSED: dict[str, tuple[str, str]] = {
    "nested lists": ("a = " + "[" * 100_000, "nested too deeply"),
    "a long number": ("a = " + "1" * 100_000, "not valid TOML"),
    "a long number in hexadecimal": ("a = 0x" + "f" * 100_000, "64 bits"),
    "65 bits": (f"a = [{2**63}]", "64 bits"),
    "no text": ("\udcff", "UTF-8"),
}


@pytest.mark.parametrize("reader", READERS)
@pytest.mark.parametrize("what", UNPARSED)
def test_what_no_parser_should_see_none_does(
    what: str, reader: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Refused with its path before it is parsed; a pipe is not waited for."""
    make, says = UNPARSED[what]
    path = tmp_path / "x.toml"
    make(path)
    monkeypatch.setattr(tomllib, "loads", lambda _: pytest.fail("it was parsed"))
    with pytest.raises(Unreadable, match=says) as error:
        READERS[reader](path)
    assert error.value.path == path


@pytest.mark.parametrize("what", PARSED)
def test_what_a_parser_chokes_on_is_told(what: str, tmp_path: Path) -> None:
    """In a sentence that ends."""
    text, says = PARSED[what]
    path = tmp_path / "x.toml"
    path.write_bytes(text.encode("utf-8", "surrogateescape"))
    with pytest.raises(Unreadable, match=says) as error:
        read_toml(path)
    assert len(str(error.value)) < len(str(path)) + 300


def test_as_many_parts_as_ours_may_have_are_read(tmp_path: Path) -> None:
    """And words with dots in a text are no key."""
    path = tmp_path / "x.toml"
    text = ", ".join(["a.b.c"] * 99) + " " + ". ".join(["smoke"] * 99) + " {" + "." * 99
    path.write_text(f'{".".join("a" * DEEPEST)} = 1\nnote = "{text}"\n', encoding="utf-8")
    assert read_toml(path)["note"] == text


def test_a_mark_before_the_text_is_none_of_it(tmp_path: Path, demo: Machine) -> None:
    """Some editors write one (BOM); lines may also end as they do in that system."""
    path = tmp_path / "machine.toml"
    demo.save(path)
    path.write_bytes(b"\xef\xbb\xbf" + path.read_bytes().replace(b"\n", b"\r\n"))
    assert Machine.load(path) == demo
    path.write_bytes(path.read_bytes().replace(b"tolerance = 1.0", b"tolerance = 99.0"))
    with pytest.raises(Unreadable, match="tolerance") as error:
        Machine.load(path)
    assert path.read_bytes().splitlines()[(error.value.line or 0) - 1].startswith(b"tolerance")


def test_a_sentence_does_not_repeat_what_it_refuses(tmp_path: Path, demo: Machine) -> None:
    """A title of a megabyte, keys of a megabyte, ten thousand keys too many: told in part, counted in full."""
    session = Session.start(demo)
    path = tmp_path / "a.toml"
    session.save(path)
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace('title = "Shed laser"', f'title = "{"x" * 1_000_000}"'), encoding="utf-8")
    with pytest.raises(Unreadable, match="title: ") as error:
        Session.load(path)
    assert len(str(error.value)) < 1000
    path.write_text("".join(f"k{number} = 1\n" for number in range(10_000)) + text, encoding="utf-8")
    with pytest.raises(Unreadable, match=f"and {10_000 - MOST_TOLD} more") as error:
        Session.load(path)
    assert len(error.value.problems) == MOST_TOLD + 1
    path.write_text(f"{'k' * 1_000_000} = 1\n{text}", encoding="utf-8")
    with pytest.raises(Unreadable, match="not known here") as error:
        Session.load(path)
    assert len(str(error.value)) < 1000


def test_nothing_in_the_folder_stops_a_start(
    tmp_path: Path, demo: Machine, capsys: pytest.CaptureFixture[str]
) -> None:
    """With all of these in every folder: what is whole is listed, what is not is told."""
    Session.start(demo).keep_new(tmp_path)
    Machine.save(demo, tmp_path / "machines" / "good.toml")
    for folder in ("sessions", "machines", "drafts", "baselines", "upkeep"):
        (tmp_path / folder).mkdir(exist_ok=True)
        for number, (make, _) in enumerate(UNPARSED.values()):
            make(tmp_path / folder / f"odd{number}.toml")
    os.mkfifo(tmp_path / settings.FILE)
    assert main(["--data", str(tmp_path), "list"]) == 0  # a draft is no part of it
    assert capsys.readouterr().out.count("BROKEN") == 4 * len(UNPARSED)
    (tmp_path / "answers").write_text("quit\n")
    assert main(["--data", str(tmp_path), "--plain", "--answers", str(tmp_path / "answers")]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert "settings.toml: it cannot be read (this is no regular file)" in said
    assert said.count("Could not be read") == 5 * len(UNPARSED)


def test_baselines_that_are_a_pipe_are_told(tmp_path: Path) -> None:
    """They are asked for in the middle of a visit."""
    path = baselines.path_of(tmp_path, "Shed laser")
    path.parent.mkdir()
    os.mkfifo(path)
    with pytest.raises(Unreadable, match="no regular file"):
        baselines.load(tmp_path, "Shed laser")


def test_what_could_not_be_read_again_is_not_written(tmp_path: Path) -> None:
    """A note of two megabytes: refused in a sentence, and the file stays whole."""
    session = Session.start(make_machine())
    path = session.keep_new(tmp_path)
    before = path.read_bytes()
    with pytest.raises(Unwritable, match="grow beyond 2 MB"):
        session.note("x" * LARGEST)
    assert path.read_bytes() == before
    assert session.events == ()
