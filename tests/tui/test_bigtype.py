"""Big type: every character is there, numbers stay whole, and the letters are as large as the room allows."""

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st
from textual.app import App, ComposeResult

from coach.tui.widgets.bigfont import GLYPHS, doubled, set_text, spelled, text_width
from coach.tui.widgets.bigtype import BigText

REQUIRED = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ+−./,:°% "
TEXTS = st.text(alphabet=REQUIRED + "abcxyzm-\nüß", max_size=40)


def test_every_required_character_has_a_glyph_of_its_own():
    """Five equal rows each, and no two look alike, except hyphen and minus."""
    assert set(REQUIRED) <= set(GLYPHS)
    for rows in GLYPHS.values():
        assert len(rows) == 5
        assert len({len(row) for row in rows}) == 1
    shapes = [rows for sign, rows in GLYPHS.items() if sign != "-"]
    assert len(set(shapes)) == len(shapes)
    smooth = [doubled(rows) for sign, rows in GLYPHS.items() if sign != "-"]
    assert len(set(smooth)) == len(smooth)


@given(TEXTS, st.integers(1, 90), st.one_of(st.none(), st.integers(1, 20)), st.booleans())
def test_no_character_is_ever_lost(text, width, height, ascii_only):
    """Whatever the room, the lines hold the text's characters in order, and no row is wider than the room."""
    setting = set_text(text, width, height, ascii_only=ascii_only)
    kept = "".join("".join(line.split()) for line in setting.lines)
    wanted = "".join(text.split())
    assert kept in (wanted, spelled(wanted))
    assert max(len(row) for row in setting.rows) <= width


@given(st.text(alphabet=REQUIRED, min_size=1, max_size=24).filter(str.strip), st.sampled_from((40, 80, 140)))
def test_each_glyph_stands_whole_in_its_line(text, width):
    """Cut at the widths of the glyphs, a line of block letters gives back every glyph, pixel by pixel."""
    setting = set_text(text, width)
    if setting.size != "large":
        return
    for number, line in enumerate(setting.lines):
        rows, column = setting.rows[6 * number : 6 * number + 5], 0
        for sign in line:
            wide = 2 * len(GLYPHS[sign][0])
            alone = set_text(sign, 20).rows if sign != " " else (" " * wide,) * 5
            assert tuple(row[column : column + wide] for row in rows) == alone
            column += wide + 1


@pytest.mark.parametrize("text", ["X 310  Y 210", "X −20  Y 0", "X 12.2  Y 8.27"])
def test_an_axis_is_never_parted_from_its_number(text):
    """Each pair stands on one line wherever there is room for it; nothing is lost where there is none."""
    pairs = text.split("  ")
    for width, height in itertools.product(range(1, 140), (None, 7, 3)):
        lines = set_text(text, width, height).lines
        assert "".join("".join(lines).split()) == "".join(text.split()), (width, height)
        if width >= max(map(len, pairs)):
            assert [line.strip() for line in lines] in ([" ".join(pairs)], pairs), (width, height)


@pytest.mark.parametrize("text", ["−1/8 turn", "u +12.75 mm", "99.5 %", "screw B 1,25"])
def test_numbers_are_never_cut(text):
    """Each number of the text stands whole on one line at every width that holds it in plain letters."""
    numbers = [word for word in spelled(text).split() if any(sign.isdigit() for sign in word)]
    for width, number in itertools.product(range(5, 100, 3), numbers):
        if len(number) <= width:
            assert any(number in line.split() for line in set_text(text, width).lines), (width, number)


def test_a_long_word_breaks_around_its_number():
    """In plain letters "mirror12.5" in seven columns becomes "mirror" and "12.5"."""
    assert set_text("mirror12.5", 7).lines == ("mirror", "12.5")


def test_letters_shrink_with_the_room():
    """Large while every word fits, then small, then plain; a height that is too low does the same."""
    word = "turn 1/8"
    sizes = [set_text(word, width).size for width in range(1, 80)]
    order = {"plain": 0, "small": 1, "large": 2}
    assert [order[s] for s in sizes] == sorted(order[s] for s in sizes)
    assert set(sizes) == set(order)
    assert set_text(word, 80, 5).size == "large"
    assert set_text(word, 80, 4).size == "small"
    assert set_text(word, 80, 2).size == "plain"
    assert text_width("TURN", "large") == sum(2 * len(GLYPHS[c][0]) for c in "TURN") + 3


def test_unknown_letters_fall_back_to_plain():
    """A letter without a glyph is shown as it is, rather than left out."""
    assert set_text("Überprüfen", 80).rows == ("Überprüfen",)


def test_goldens():
    """One number in both block sizes, and without Unicode."""
    assert set_text("½", 40).rows == (
        "  ██       ██ █████▄",
        "████      ▄██     ██",
        "  ██    ▄██▀  ▄████▀",
        "  ██   ██▀    ██    ",
        "██████ ██     ▀█████",
    )
    assert set_text("½", 13).rows == (
        "▄█    █ ▀▀█",
        " █  ▄▀  █▀▀",
        "▀▀▀ ▀   ▀▀▀",
    )
    assert set_text("½", 40, ascii_only=True).rows == (
        "  ##       ## ######",
        "####       ##     ##",
        "  ##     ##   ######",
        "  ##   ##     ##    ",
        "###### ##     ######",
    )


class BigApp(App[None]):
    CSS = "BigText { width: 40; }"

    def compose(self) -> ComposeResult:
        yield BigText("1/8", id="one")
        yield BigText("clockwise", id="two")
        yield BigText("1/8", id="low")


async def test_the_widget_takes_the_height_it_needs():
    """Five rows for large letters, three for small ones; a fixed height of one row gives plain letters."""
    app = BigApp()
    app.CSS += "#low { height: 1; }"
    async with app.run_test(size=(60, 20)) as pilot:
        await pilot.pause()
        heights = [widget.size.height for widget in app.query(BigText)]
        assert heights == [5, 3, 1]
        assert app.query_one("#low", BigText).render_line(0).text.strip() == "1/8"
        one = app.query_one("#one", BigText)
        one.text = "1/8 turn more"
        await pilot.pause()
        assert one.size.height == 17  # three lines: TURN MORE is 65 columns wide


def test_a_number_stays_with_its_unit() -> None:
    """ "3 MIN" is on one line at every width at which it fits: neither half says anything by itself."""
    for width in range(30, 200):
        lines = set_text("MIRROR 1 SCREW C 3 MIN CLOCKWISE", width).lines
        assert sum("3 MIN" in line for line in lines) == 1, (width, lines)
