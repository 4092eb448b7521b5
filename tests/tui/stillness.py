"""When nothing more happens on a screen by itself: asked of the program's own queues, not guessed from its idleness.

The toolkit's own pause takes a program that gets little of a busy machine for an idle one, and looks at a screen that
is half drawn.
"""

import asyncio
from collections.abc import Callable
from typing import Any

from drawing import drawn
from textual.pilot import Pilot

from coach.tui.haste import PatientApp

MOST = 50_000
"""Rounds after which a screen that never comes to rest fails its test."""


async def until_still(app: PatientApp, pilot: Pilot[Any]) -> None:
    """Until every message and key had its effect and that stands on the screen, or the program was left."""
    for _ in range(MOST):
        await _nothing_ready()
        if app._exit or app._exception:
            return
        if busy := [node for node in _nodes(app) if not node._message_queue.ready_event._waiters]:
            await pilot.pause(0)  # they wait for something themselves
        elif not waiting(app):
            if not drawn(app):
                return
        else:
            app.screen._on_timer_update()  # what is dirty is laid out
    raise AssertionError(f"the screen never comes to rest: {busy or waiting(app)}")


async def _nothing_ready() -> None:
    """Until all that can go on without waiting for a clock or another thread has gone on."""
    ready = asyncio.get_running_loop()._ready  # type: ignore[attr-defined]
    await asyncio.sleep(0)
    while ready:
        await asyncio.sleep(0)


def _nodes(app: PatientApp) -> list[Any]:
    """Everything that hears messages."""
    return [app, *(node for shown in app.screen_stack for node in shown.walk_children(with_self=True))]


def waiting(app: PatientApp) -> list[str]:
    """What has still to happen."""
    screen = app.screen
    reasons = {
        "a key": app.is_hearing,
        "a question that does not stand yet": app.is_asking_anew,
        "a new size": app._resize_event is not None or app._resize_timer is not None or screen.size != app.size,
        "a movement": not app.animator._complete_event.is_set(),
        "a layout": screen._layout_required or screen._scroll_required or screen._recompose_required,
        "drawing": screen._repaint_required or bool(screen._dirty_widgets),
        "what is done once all is drawn": bool(screen._callbacks),
    }
    found = [reason for reason, is_so in reasons.items() if is_so]
    return (
        found
        + [f"{node} has messages" for node in _nodes(app) if node.message_queue_size or node._next_callbacks]
        + [f"{node} is not mounted" for node in screen.walk_children(with_self=True) if not node._is_mounted]
    )


async def until(pilot: Pilot[Any], condition: Callable[[], bool]) -> None:
    """Until that is so, which the program does by a timer of its own."""
    for _ in range(MOST):
        if condition():
            return
        await pilot.pause(0)
    raise AssertionError("that never comes about")
