"""What holds before any test is loaded: which tree is tested, and in what surroundings."""

import gc
import os
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
"""The tree under test: imported here (`pythonpath` in pyproject.toml), and by every program that a test starts."""

THREADS = ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS")
"""The matrices have some twenty rows, and the tests themselves run side by side."""

SIZE = ("COLUMNS", "LINES")
"""A size of the terminal that was inherited (readline exports one to the workers of a parallel run) would be believed
before the terminal itself, and no program that a test starts would heed a resize."""

if "numpy" in sys.modules:
    raise RuntimeError("numpy was loaded before its threads were counted; import this first")
for _name in THREADS:
    os.environ.setdefault(_name, "1")
for _name in SIZE:
    os.environ.pop(_name, None)
_others = [path for path in os.environ.get("PYTHONPATH", "").split(os.pathsep) if path and path != str(ROOT)]
os.environ["PYTHONPATH"] = os.pathsep.join([str(ROOT), *_others])
if sys.dont_write_bytecode:  # each worker, and each program that a test starts, would compile everything anew
    sys.dont_write_bytecode = False
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)

os.fsync = lambda _: None
"""Nobody cuts the power: tests of the order in which things are flushed see the call, and none waits for the disk."""
gc.set_threshold(50_000, 20, 50)  # a test makes much and lets go of it soon; looking through everything costs a tenth
