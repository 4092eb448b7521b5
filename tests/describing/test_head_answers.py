"""Mirror 3, lens and nozzle: asked when somebody wants to, kept with the profile, and read back."""

import pytest
from machines import machine_table, make_machine, mount_table

from coach import Machine
from coach.describing import profile
from coach.describing.description import SAME, Description
from coach.describing.head_answers import GUESSED, LENS, NOW, TURNS
from coach.describing.questions import questions
from coach.describing.slips import Doubt, weighed
from coach.describing.walking import OVERVIEW, all_keys, following, taken
from coach.describing.words import forgotten_words, value_words
from coach.errors import InputError
from coach.shown import IN_MM

LEAST = {"bed.width": "600", "bed.depth": "400", "path.side": "left"}


def described(**answers: str) -> Description:
    """Answers by key, with two underscores for a point; on top of the least that is needed."""
    description = Description()
    for key, text in (LEAST | {key.replace("__", "."): text for key, text in answers.items()}).items():
        description = description.answered(key, text)
    return description


@pytest.mark.parametrize(
    ("answers", "kept", "guessed"),
    [
        ({"lens.curved": "unknown", "lens.can": "unknown"}, None, set()),
        ({"lens.can": "yes"}, None, set()),
        ({"lens.nozzle": "3"}, {"focal": 50.8, "nozzle_distance": 8.0, "nozzle": 3.0},
         {"lens.focal", "lens.nozzle_distance"}),
        ({"lens.focal": "2 in", "lens.nozzle_distance": "6,5", "lens.nozzle": "3"},
         {"focal": 50.8, "nozzle_distance": 6.5, "nozzle": 3.0}, set()),
        ({"lens.curved": "down", "lens.mirror_distance": "90"},
         {"focal": 50.8, "nozzle_distance": 8.0, "nozzle": 2.5, "curved": "down", "mirror_distance": 90.0},
         set(GUESSED)),
        ({"lens.can": "no", "lens.focal": "63,5"},
         {"focal": 63.5, "nozzle_distance": 8.0, "nozzle": 2.5, "reach": 0.0}, set(GUESSED[1:])),
        ({"lens.can": "yes", "lens.reach": "1,5", "lens.focal": "63,5"},
         {"focal": 63.5, "nozzle_distance": 8.0, "nozzle": 2.5, "reach": 1.5}, set(GUESSED[1:])),
    ],
)  # fmt: skip
def test_what_is_answered_is_kept_and_given_back(
    answers: dict[str, str], kept: dict[str, object] | None, guessed: set[str]
) -> None:
    """Of a lens of which something is known the rest is guessed, and said so; nothing known makes no lens."""
    description = described()
    for key, text in answers.items():
        description = description.answered(key, text)
    machine = profile.machine_of(description)
    assert (machine.lens.model_dump(exclude_unset=True) if machine.lens else None) == kept
    assert {name for name in machine.guessed if name.startswith("lens")} == guessed
    assert profile.machine_of(profile.describe(machine)) == machine
    assert Machine.model_validate(machine.to_table()) == machine


@pytest.mark.parametrize(("answer", "fixed"), [("no", "fixed"), ("unknown", None), (None, None)])
def test_without_screws_within_reach_mirror_3_has_no_mount(answer: str | None, fixed: str | None) -> None:
    """Glued is kept, so that nobody is asked again; not known leaves the profile as it was."""
    description = described() if answer is None else described(mounts__3__can=answer)
    machine = profile.machine_of(description)
    assert [mount.mirror for mount in machine.mounts] == [1, 2]
    assert machine.mirror3 == fixed
    assert profile.describe(machine).answers.get(TURNS) == ("no" if fixed else None)
    assert profile.machine_of(profile.describe(machine)) == machine


def test_screws_within_reach_make_a_mount_whose_rest_is_guessed() -> None:
    """Yes alone: a usual mount, points and thread among the guesses; just like mirror 1's: measured as that is."""
    usual = profile.machine_of(described(mounts__3__can="yes"))
    assert usual.mount(3).drive == "unknown"
    assert {"mounts.3.points", "mounts.3.thread"} <= set(usual.guessed)
    one = {"mounts__1__shape": "up", "mounts__1__arm": "50", "mounts__1__thread": "M5", "mounts__1__drive": "pull"}
    alike = profile.machine_of(described(**one, mounts__3__can="yes", mounts__3__shape=SAME))
    first, third = alike.mount(1), alike.mount(3)
    assert (third.points, third.pitch, third.drive) == (first.points, first.pitch, first.drive)
    assert not {"mounts.3.points", "mounts.3.thread"} & set(alike.guessed)
    assert value_words(described(**one, mounts__3__shape=SAME), _question("mounts.3.arm"), IN_MM) == "50.0 mm"


def _question(key: str):  # type: ignore[no-untyped-def]
    from coach.describing.questions import EVERY

    return next(question for question in EVERY if question.key == key)


def test_a_mount_that_turns_out_fixed_leaves_the_profile() -> None:
    """Changed from screws to none: no mount, and the file says fixed; what it had taught is named before."""
    table = machine_table(mounts=[mount_table(mirror) for mirror in (1, 2, 3)])
    table["mounts"][2]["learned"] = {
        "on": "2026-02-01", "push": 0.9, "mean": [1.0, 0.0, 0.1, 0.0] * 2,
        "cov": [[float(row == column) for column in range(8)] for row in range(8)],
    }  # fmt: skip
    changed = profile.describe(Machine.model_validate(table)).answered(TURNS, "no")
    machine = profile.machine_of(changed)
    assert ([mount.mirror for mount in machine.mounts], machine.mirror3) == ([1, 2], "fixed")
    assert "mirror 3" in forgotten_words(changed)


def test_questions_about_the_head_follow_the_answers() -> None:
    """One question until somebody wants the others; the screws' only where there are any, in one walk, once each."""

    def keys(**answers: str) -> set[str]:
        return {question.key for question in questions(described(**answers))}

    assert NOW in keys()
    assert not keys() & {TURNS, *LENS}
    now = keys(head__now="yes")
    assert now - keys() == {TURNS, *LENS} - {"lens.reach"}
    assert keys(head__now="yes", mounts__3__can="no") == now
    assert keys(head__now="yes", mounts__3__can="yes") - now == {
        f"mounts.3.{k}" for k in ("shape", "thread", "drive")
    }
    assert keys(head__now="yes", lens__can="yes") - now == {"lens.reach"}


def test_from_the_list_one_walks_through_the_head_and_back_to_the_list() -> None:
    """Wanted from the list of all values, every question of the head is asked once, skipped ones too."""
    description = profile.describe(make_machine())
    listed, at, heard = all_keys(description), NOW, []
    answers = {NOW: "yes", TURNS: "yes", "mounts.3.shape": "l", "mounts.3.arm": "30", "lens.can": "yes"}
    for _ in range(30):
        if at in answers:
            description = taken(description, at, answers[at], "mm")
        heard.append(at)
        at = following(description, at, listed=listed)
        if at == OVERVIEW:
            break
    mount = [f"mounts.3.{what}" for what in ("can", "shape", "corner", "arm", "thread", "drive")]
    assert heard == [NOW, *mount, *LENS]
    again = following(description.answered("lens.nozzle", "3"), "lens.nozzle", listed=all_keys(description))
    assert again == OVERVIEW


BAD = {
    "lens.focal": ("0", "600", "two", ""),
    "lens.nozzle_distance": ("0", "-1", "50,8", "60"),
    "lens.nozzle": ("0", "21"),
    "lens.mirror_distance": ("0", "far"),
    "lens.reach": ("-1", "51"),
    "lens.curved": ("sideways",),
    "mounts.3.can": ("perhaps",),
    "head.now": ("soon",),
}  # fmt: skip


@pytest.mark.parametrize(("key", "text"), [(key, text) for key, texts in BAD.items() for text in texts])
def test_bad_answers_are_one_sentence(key: str, text: str) -> None:
    """Refused when typed; a focus at or beyond the lens's own is refused there, not when all is kept."""
    with pytest.raises(InputError) as refused:
        taken(described(), key, text, "mm")
    assert "\n" not in str(refused.value)
    assert "pydantic" not in str(refused.value)


@pytest.mark.parametrize(
    ("key", "text", "meant"),
    [("lens.focal", "2", 50.8), ("lens.nozzle_distance", "0.3", 7.62), ("lens.nozzle", "0.1", 2.54)],
)
def test_inches_typed_without_their_unit_are_asked_about(key: str, text: str, meant: float) -> None:
    """A lens of 2 mm is none, of 2 in usual (1 in = 25.4 mm exactly)."""
    doubt = weighed(described(), key, text, "mm")
    assert isinstance(doubt, Doubt)
    assert doubt.meant is not None
    assert doubt.meant.length(key) == pytest.approx(meant)


def test_a_guess_about_a_lens_that_the_file_does_not_have_is_no_crash() -> None:
    """A file edited by hand: the name stands in `guessed`, but there is no lens."""
    odd = make_machine(guessed=("lens.focal",))
    assert profile.size(profile.describe(odd), "lens.focal") == 50.8
    assert profile.machine_of(profile.describe(odd)).lens is None


def test_a_machine_cannot_have_screws_and_be_fixed() -> None:
    """One sentence names both."""
    table = machine_table(mounts=[mount_table(mirror) for mirror in (1, 2, 3)]) | {"mirror3": "fixed"}
    with pytest.raises(ValueError, match="'mirror3' says that mirror 3 is fixed, but 'mounts' has its screws"):
        Machine.model_validate(table)
