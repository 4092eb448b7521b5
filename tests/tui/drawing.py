"""What a test's screen is spared: nobody looks at the terminal that is not there, and all programs read one style.

Whatever a person would see is drawn as ever, line by line; what a test asks for is put together when it asks.
Programs that tests start, and those in real terminals, are spared nothing.
"""

from functools import lru_cache
from typing import Any

import pytest
from textual._compositor import Compositor
from textual._context import visible_screen_stack
from textual.app import App
from textual.cache import FIFOCache
from textual.css import stylesheet
from textual.css.model import RuleSet
from textual.css.stylesheet import Stylesheet
from textual.geometry import Region
from textual.strip import Strip

_read, _update, _values = Stylesheet._parse_rules, Compositor.render_update, stylesheet.tokenize_values
_rules: dict[tuple[Any, ...], list[RuleSet]] = {}
_blank = Strip([])
_CACHES = {name: made._maxsize for name in Strip.__slots__ if isinstance(made := getattr(_blank, name), FIFOCache)}
_REST = {name: None for name in Strip.__slots__ if name not in {*_CACHES, "_segments", "_cell_length"}}


def spared(monkeypatch: pytest.MonkeyPatch) -> None:
    """For one test."""
    monkeypatch.setattr(Stylesheet, "_parse_rules", _read_once)
    monkeypatch.setattr(stylesheet, "tokenize_values", lambda values: _values_of(tuple(values.items())))
    monkeypatch.setattr(Compositor, "render_update", _drawn)
    monkeypatch.setattr(Strip, "__init__", _line)
    monkeypatch.setattr(Strip, "__getattr__", _cache, raising=False)


def _read_once(self: Stylesheet, css: str, *where: Any, **more: Any) -> list[RuleSet]:
    """The rules of a style, read once for all programs with the same colours; nobody changes them."""
    key = (css, where, tuple(more.items()), tuple(self._variables.items()))
    if key not in _rules:
        _rules[key] = _read(self, css, *where, **more)
    return _rules[key]


@lru_cache
def _values_of(colours: tuple[tuple[str, str], ...]) -> Any:
    """The same of the colours themselves."""
    return _values(dict(colours))


def _drawn(self: Compositor, full: bool = False, screen_stack: Any = None, simplify: bool = False) -> Any:
    """What changed is drawn once nothing more changes, as for a slow terminal; a screenshot is whole."""
    return _update(self, full, screen_stack, simplify) if full else None


def drawn(app: App[Any]) -> bool:
    """Every line that changed is drawn, and not cut into the pieces that a terminal gets; returns whether one was."""
    compositor, screen = app.screen._compositor, app.screen.size.region
    changed = compositor._dirty_regions.copy()
    compositor._dirty_regions.clear()
    visible_screen_stack.set(app._background_screens)
    if changed:
        crop = screen if screen in changed else Region.from_union(changed).intersection(screen)
        for _ in compositor._get_renders(crop):
            pass
    return bool(changed)


def _line(self: Strip, segments: Any, cell_length: int | None = None) -> None:
    """A line whose caches are made once they are asked for: most never are."""
    self._segments, self._cell_length = list(segments), cell_length
    for name, value in _REST.items():
        setattr(self, name, value)


def _cache(self: Strip, name: str) -> Any:
    if name not in _CACHES:
        raise AttributeError(name)
    made: Any = FIFOCache(_CACHES[name])
    setattr(self, name, made)
    return made
