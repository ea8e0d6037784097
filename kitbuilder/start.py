"""Makes its own environment, then does what it is asked: `python3 kitbuilder/start.py week 1`, or `... test`.

Only the standard library is used, since this file runs before anything is installed. The environment lies in .venv
beside the package and is made again when pyproject.toml changes.
"""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
PLACE = ROOT / ".venv"
OLDEST = (3, 11)
NO_VENV = """Python's 'venv' module is missing.
On Debian or Ubuntu: sudo apt-get install python3-venv    Elsewhere: install Python 3.11 or later from python.org.
Then run the same command again."""


def python_in(place: Path) -> Path:
    """Return the environment's Python."""
    return place / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def stamp(with_tests: bool) -> str:
    """Return what the environment must have been made for: this pyproject.toml, this Python, with or without tests."""
    digest = hashlib.sha256((ROOT / "pyproject.toml").read_bytes()).hexdigest()
    return f"{digest} {sys.version.split()[0]} {'dev' if with_tests else 'run'}"


def is_ready(with_tests: bool) -> bool:
    """Tell whether the environment fits; one made for the tests fits plain runs too."""
    noted = PLACE / "kitbuilder-stamp"
    if not noted.is_file() or not python_in(PLACE).exists():
        return False
    return noted.read_text(encoding="utf-8") in ({stamp(True)} if with_tests else {stamp(True), stamp(False)})


def make_environment(with_tests: bool) -> None:
    """Make .venv and install kitbuilder into it; ends the programme with a clear sentence when that fails."""
    print("Setting kitbuilder up; this takes a minute or two, once.", file=sys.stderr, flush=True)
    try:
        import venv
    except ImportError:
        sys.exit(NO_VENV)
    try:
        venv.EnvBuilder(with_pip=True, clear=True).create(PLACE)
    except (subprocess.CalledProcessError, SystemExit):
        sys.exit(NO_VENV)
    except OSError as error:
        sys.exit(f"{PLACE} cannot be written ({error.strerror}). Move the folder to a place you may write to.")
    wanted = str(ROOT) + ("[dev]" if with_tests else "")
    command = [str(python_in(PLACE)), "-m", "pip", "install", "--quiet", "--disable-pip-version-check", "-e", wanted]
    if subprocess.run(command, check=False).returncode:
        sys.exit("Installing failed: see the lines above. Is this computer online? Only this first step needs it.")
    (PLACE / "kitbuilder-stamp").write_text(stamp(with_tests), encoding="utf-8")


def main() -> int:
    """Return the exit code of the command that was run in the environment."""
    if sys.version_info < OLDEST:
        sys.exit(f"kitbuilder needs Python 3.11 or later; this is {sys.version.split()[0]}. Get it from python.org.")
    words = sys.argv[1:]
    with_tests = words[:1] == ["test"]
    if not is_ready(with_tests):
        make_environment(with_tests)
    python = str(python_in(PLACE))
    if with_tests:
        return subprocess.run([python, "-m", "pytest", *words[1:]], cwd=ROOT, check=False).returncode
    return subprocess.run([python, "-m", "kitbuilder", *words], check=False).returncode


if __name__ == "__main__":
    # this file's own folder must not hide modules of the standard library
    sys.path[:] = [p for p in sys.path if Path(p or ".").resolve() != Path(__file__).resolve().parent]
    try:
        sys.exit(main())
    except KeyboardInterrupt:
        sys.exit(1)
