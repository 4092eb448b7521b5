"""Describing a machine, listing the folder, checking a file."""

import json

import pytest
from shellside import NEW, Shell

from coach import Machine

POINTS1 = "A pivot -25,5 -20; B screw 20 -20; upper left screw -20 20"


def test_a_machine_from_measures_in_both_units(shell: Shell) -> None:
    """23,6 in is 599.44 mm (1 in = 25.4 mm exactly: NBS Circular 572 addendum, read); 1/4-80 is 0.3175 mm."""
    made = shell(
        "new-machine", "Shed", "--width", "23,6 in", "--depth", "400,5", "--side", "right", "--aperture", "3/4 in",
        "--tape-radius", "12", "--mirror1-gap", "0", "--mirror2-gap", "90", "--tolerance", "0,8",
        "--thread", "1/4-80", "--pitch2", "0,7", "--drive", "push", "--drive2", "pull", "--points1", POINTS1,
        "--points2", "A pivot 0 0; B screw 15,5 0; C screw 0 15,5",
        "--mirror1", "20", "--mirror2", "1 in", "--moves", "mirror 2 right 4; head up 0 back 1/8 in; tube no",
        "--points3", "A pivot 0 0; B screw 9 0; C screw 0 9",
    )  # fmt: skip
    machine = Machine.load(shell.folder / "machines" / "shed.toml")
    assert machine.bed.width == pytest.approx(599.44)
    assert (machine.bed.depth, machine.path.side, machine.path.mirror1_gap) == (400.5, "right", 0.0)
    assert (machine.aperture.head, machine.tolerance) == (pytest.approx(19.05), 0.8)
    assert [mount.pitch for mount in machine.mounts] == pytest.approx([0.3175, 0.7, 0.3175])
    assert [mount.drive for mount in machine.mounts] == ["push", "pull", "push"]
    assert [point.name for point in machine.mount(1).points] == ["A", "B", "upper left"]
    assert machine.mount(1).points[0].x == -25.5
    assert (machine.path.mirror1, machine.path.mirror2) == (20.0, pytest.approx(25.4))
    assert [machine.reach("mirror 2", "right"), machine.reach("head", "back"), machine.reach("tube", "up")] == [
        4.0, pytest.approx(3.175), 0.0,
    ]  # fmt: skip
    assert machine.reach("mirror 1", "right") is None
    assert machine.guessed == ()
    known = "can be moved: mirror 2 right and left 4.0 mm, head back and front 3.2 mm; fixed: head up and down, tube"
    assert known in made.out
    assert known in shell.ok("list")


def test_mirror_3_and_lens_by_options(shell: Shell) -> None:
    """Given in either unit, kept as the form keeps it; what is left out of a lens that is described is guessed."""
    common = ("--width", "600", "--depth", "400", "--side", "left")
    shell.ok("new-machine", "Shed", *common, "--mirror3", "fixed", "--focal", "2 in", "--curved", "down",
             "--nozzle-to-focus", "6", "--mirror3-to-lens", "90", "--lens-moves", "0")  # fmt: skip
    machine = Machine.load(shell.folder / "machines" / "shed.toml")
    assert machine.lens is not None
    assert machine.lens.model_dump(exclude_unset=True) == {
        "focal": 50.8, "nozzle_distance": 6.0, "nozzle": 2.5, "curved": "down", "mirror_distance": 90.0, "reach": 0.0,
    }  # fmt: skip
    assert (machine.mirror3, len(machine.mounts)) == ("fixed", 2)
    assert "lens.nozzle" in machine.guessed
    both = shell("new-machine", "Two", *common, "--mirror3", "fixed", "--drive3", "push")
    assert "said to be fixed and to have screws" in both.err
    assert (
        "does not go with a lens of 50.8 mm"
        in shell("new-machine", "Far", *common, "--nozzle-to-focus", "60", "--keep").err
    )
    said = shell.ok("list")
    assert "mirror 3 fixed; lens 50.8 mm, nozzle 2.5 mm wide, lens tube fixed" in said
    (listed,) = json.loads(shell.ok("list", "--json"))["machines"]
    assert (listed["mirror3"], listed["lens"]["focal"], listed["lens"]["reach"]) == ("fixed", 50.8, 0.0)
    shell.ok("new-machine", "Plain", *common)
    assert Machine.load(shell.folder / "machines" / "plain.toml").lens is None


def test_what_was_not_given_is_noted_as_guessed(shell: Shell) -> None:
    """Exactly the values nobody gave are in `guessed`; an unknown drive is said to be unknown, not guessed."""
    shell.ok("new-machine", "Shed", "--width", "600", "--depth", "400", "--side", "left", "--points2", POINTS1)
    machine = Machine.load(shell.folder / "machines" / "shed.toml")
    assert set(machine.guessed) == {
        "path.mirror1_gap", "path.mirror2_gap", "path.mirror1", "path.mirror2", "aperture.head",
        "tape.radius", "tolerance",
        "mounts.1.points", "mounts.1.thread", "mounts.2.thread",
    }  # fmt: skip
    assert {mount.drive for mount in machine.mounts} == {"unknown"}


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (("--width", "24"), "Did you mean inches: 24.000 in, that is 609.6 mm?"),
        (("--width", "600", "--unit", "in"), "Did you mean mm: 600.0 mm?"),
        (("--width", "600", "--tolerance", "0.04"), "0.040 in, that is 1.0 mm?"),
        (("--width", "600", "--points", "p -0.8 -0.8; s 0.8 -0.8; s -0.8 0.8"), "points 2.26 mm apart"),
        (("--width", "600", "--moves", "tube up 0.2"), "Did you mean inches: 0.200 in, that is 5.1 mm?"),
        (("--width", "600", "--moves", "tube up 3; tube back 3"), "The tube is named twice"),
        (("--width", "600", "--moves", "tube sideways 3"), "Expected up or back"),
        (("--width", "600", "--moves", "tube up 80"), "at most 50 mm"),
        (("--width", "600", "--moves", "tube up -3"), "a length of 0 or more"),
    ],
)
def test_a_slip_keeps_no_machine(shell: Shell, options: tuple[str, ...], words: str) -> None:
    """A unit that was forgotten, a part named twice, a way that is none: one sentence, and nothing is written."""
    said = shell("new-machine", "Shed", "--depth", "400", "--side", "left", *options)
    assert (said.status, said.out) == (2, "")
    assert words in said.err
    assert said.err.count("\n") == 1
    assert not list(shell.folder.glob("machines/*.toml"))


def test_an_unlikely_size_is_kept_when_insisted_on(shell: Shell) -> None:
    """--keep: a bed of 24 mm it is; what cannot be is refused all the same."""
    common = ("--depth", "400", "--side", "left", "--keep")
    shell.ok("new-machine", "Shed", "--width", "24", *common)
    assert Machine.load(shell.folder / "machines" / "shed.toml").bed.width == 24.0
    assert "at most 10000 mm" in shell("new-machine", "Big", "--width", "600", "--unit", "in", *common).err


def test_list_as_json_names_good_and_broken_files(shell: Shell) -> None:
    """Stable keys; a broken file has its problem and line, a good one null."""
    session = shell.begun()
    shell.ok("mark", "last", "middle", "--u", "1", "--v", "1")
    (shell.folder / "machines" / "broken.toml").write_text("name = 'x'\nbed = [\n")
    listing = json.loads(shell.ok("list", "--json"))
    assert set(listing) == {"folder", "machines", "sessions", "broken_beside"}
    assert listing["broken_beside"] == []
    broken, good = listing["machines"]
    keys = {"name", "path", "width", "depth", "side", "zero", "moves", "mirror3", "lens", "problem", "line"}
    assert set(good) == keys
    assert (good["mirror3"], good["lens"]) == (None, None)
    assert (good["name"], good["width"], good["problem"], good["line"]) == ("Shed laser", 600.0, None, None)
    assert (broken["name"], broken["line"]) == ("broken", 3)
    assert "not valid TOML" in broken["problem"]
    (entry,) = listing["sessions"]
    assert (entry["name"], entry["marks"], entry["entries"], entry["problem"]) == (session.stem, 1, 1, None)


def test_check_lists_every_problem_with_its_own_line(shell: Shell) -> None:
    """Three slips, two of the same key in different mounts: three problems on three lines."""
    shell.ok(*NEW)
    path = shell.folder / "machines" / "shed-laser.toml"
    lines = path.read_text().replace("width = 600.0", "width = 0.0").replace('"push"', '"puhs"').splitlines()
    path.write_text("\n".join(lines))
    said = shell("check", str(path), "--json")
    answer = json.loads(said.out)
    assert (said.status, said.err, answer["valid"], answer["what"]) == (2, "", False, "machine")
    wrong = [number for number, line in enumerate(lines, start=1) if "puhs" in line or line.startswith("width")]
    assert len(wrong) == 3
    assert [problem["line"] for problem in answer["problems"]] == wrong
    assert len(shell("check", str(path)).err.splitlines()) == 3


def test_check_finds_entries_that_cannot_have_happened(shell: Shell) -> None:
    """Well-formed entries for a screw that is not there, and an undo of nothing, are told with their lines."""
    path = shell.begun()
    shell.ok("turn", "last", "1", "B=1/8")
    shell.ok("note", "last", "x")
    shell.ok("undo", "last")
    text = path.read_text().replace("B = 0.125", "Z = 0.125").replace("takes_back = 2", "takes_back = 9")
    path.write_text(text)
    answer = json.loads(shell("check", str(path), "--json").out)
    starts = [number for number, line in enumerate(text.splitlines(), start=1) if line == "[[events]]"]
    assert [problem["line"] for problem in answer["problems"]] == [starts[0], starts[2]]
    assert "no screw 'Z'" in answer["problems"][0]["reason"]
    assert "takes back entry 9" in answer["problems"][1]["reason"]


def test_check_takes_paths_and_stored_names(shell: Shell) -> None:
    """A machine by its name or file, a session by its name or file."""
    session = shell.begun()
    machine = shell.folder / "machines" / "shed-laser.toml"
    for given in ("Shed laser", "shed-laser", str(machine)):
        assert "a valid machine file" in shell.ok("check", given)
    for given in ("last", session.stem, str(session)):
        assert "a valid session file" in shell.ok("check", given)
