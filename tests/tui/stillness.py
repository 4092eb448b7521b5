"""When nothing more happens on a screen by itself: asked of the program's own queues, not guessed from its idleness.

The toolkit's own pause takes a program that gets little of a busy machine for an idle one, and looks at a screen that
is half drawn.
"""

from collections.abc import Callable
from typing import Any

from textual.pilot import Pilot

from coach.tui.haste import PatientApp

ROUNDS = 2
"""So many rounds through all queues find nothing to do: the first may have set something going."""
MOST = 50_000
"""Rounds after which a screen that never comes to rest fails its test."""


async def until_still(app: PatientApp, pilot: Pilot[Any]) -> None:
    """Until every message and key had its effect and that stands on the screen, or the program was left."""
    calm = 0
    for _ in range(MOST):
        await pilot.pause(0)  # every queue is gone through once, then what is dirty is drawn
        if app._exit or app._exception:
            return
        calm = 0 if waiting(app) else calm + 1
        if calm == ROUNDS:
            return
    raise AssertionError(f"the screen never comes to rest: {waiting(app)}")


def waiting(app: PatientApp) -> list[str]:
    """What has still to happen."""
    screen = app.screen
    nodes = [app, *(node for shown in app.screen_stack for node in shown.walk_children(with_self=True))]
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
        + [f"{node} has messages" for node in nodes if node.message_queue_size or node._next_callbacks]
        + [f"{node} is not mounted" for node in screen.walk_children(with_self=True) if not node._is_mounted]
    )


async def until(pilot: Pilot[Any], condition: Callable[[], bool]) -> None:
    """Until that is so, which the program does by a timer of its own."""
    for _ in range(MOST):
        if condition():
            return
        await pilot.pause(0)
    raise AssertionError("that never comes about")
