"""The person's folder of machines and sessions."""

from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st
from machines import make_machine

from coach import Session
from coach.errors import InputError, Unreadable
from coach.session.document import to_table
from coach.session.store import Store, slug

NOON = datetime(2026, 3, 1, 12, 0, 0, tzinfo=UTC)


def test_a_listing_survives_broken_files_and_leaves_them_alone(tmp_path, demo) -> None:
    """Whole files are listed with their content, broken ones with their problem and line; hidden leftovers of a
    killed write are not listed."""
    store = Store(tmp_path)
    assert store.machines() == store.sessions() == []
    store.save_machine(demo)
    Session.start(demo).keep_new(tmp_path)
    broken = {
        store.sessions_folder / "cut.toml": "schema = 1\ntitle = ",
        store.sessions_folder / "newer.toml": "schema = 99\n",
        store.machines_folder / "odd.toml": 'name = "x"\nflavour = 1\n',
    }
    for path, text in broken.items():
        path.write_text(text)
    (store.sessions_folder / ".cut.toml.k3j.new").write_text("half")
    sessions, machines = store.sessions(), store.machines()
    assert [f.content.title for f in sessions if f.content] == ["Shed laser"]
    assert [f.content.name for f in machines if f.content] == ["Shed laser"]
    problems = {f.path: f for f in (*sessions, *machines) if f.content is None}
    assert set(problems) == set(broken)
    assert problems[store.sessions_folder / "cut.toml"].line == 2
    assert "newer" in problems[store.sessions_folder / "newer.toml"].problem
    assert "flavour" in problems[store.machines_folder / "odd.toml"].problem
    assert all(path.read_text() == text for path, text in broken.items())


@given(st.text(max_size=80) | st.sampled_from(("../../etc/passwd", "..", "", "/", "a/b\\c", "C:\\x", "~", "nul\0")))
def test_no_name_leads_out_of_the_folder(tmp_path_factory, name) -> None:
    """Whatever a machine or session is called, its file is a plain name inside its folder."""
    store = Store(tmp_path_factory.getbasetemp())
    assert slug(name).replace("-", "").isascii()
    assert slug(name).replace("-", "").isalnum()
    for path, folder in (
        (store.machine_path(name), store.machines_folder),
        (next(store._new_paths(name, NOON)), store.sessions_folder),
    ):
        assert path.parent == folder
        assert path.resolve().parent == folder.resolve()
        assert path.name == path.name.lower()


def test_sessions_started_in_the_same_second_get_files_of_their_own(tmp_path, demo) -> None:
    """The second does not overwrite the first."""
    store = Store(tmp_path)
    table = to_table(Session.start(demo)._doc)
    paths = {store.keep_new("Shed laser", NOON, table)[0] for _ in range(3)}
    assert len(paths) == len(store.sessions()) == 3


def test_machines_are_found_by_name_and_never_replaced_by_accident(tmp_path, demo) -> None:
    """By name, by file name, in any case; another name is refused with those there are."""
    store = Store(tmp_path)
    store.save_machine(demo)
    for name in ("Shed laser", "shed-laser", "SHED LASER"):
        assert store.find_machine(name) == demo
    with pytest.raises(InputError, match="already"):
        store.save_machine(make_machine("right"))
    assert store.find_machine("Shed laser") == demo
    store.save_machine(make_machine("right"), replace=True)
    assert store.find_machine("Shed laser").path.side == "right"
    with pytest.raises(InputError, match="'Shed laser'"):
        store.find_machine("Barn laser")
    store.machine_path("Attic").write_text("name = \n")
    with pytest.raises(Unreadable):
        store.find_machine("Attic")


def test_a_name_without_latin_letters_finds_its_own_machine_only(tmp_path) -> None:
    """Names that all come to the same file name are still different names."""
    store = Store(tmp_path)
    store.save_machine(make_machine(name="レーザー"))
    assert store.find_machine("レーザー").name == "レーザー"
    with pytest.raises(InputError):
        store.find_machine("Лазер")
