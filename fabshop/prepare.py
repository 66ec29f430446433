"""What a bare machine lacks: an environment, the requirements, Pango, Chromium.

Standard library only, and readable from Python 3.8 on, so that one too old to run
the rest is told so. With everything in place it looks and does nothing.
"""

from __future__ import annotations

import ctypes
import os
import shutil
import subprocess
import sys
from ctypes.util import find_library
from importlib import metadata
from importlib.util import find_spec
from pathlib import Path
from typing import NoReturn

HOME = Path(__file__).resolve().parent.parent
VENV = HOME / ".venv"
OLDEST = (3, 11)
NEWER = ("python3.14", "python3.13", "python3.12", "python3.11")

# What Debian calls what pip cannot bring; `_OTHERS` says it for other systems.
PANGO = ("libpango-1.0-0", "libpangoft2-1.0-0", "libharfbuzz-subset0")
LIBRARIES = ("pango-1.0", "pangoft2-1.0", "harfbuzz-subset")
CHROMIUM = ("chromium", "chromium-browser", "google-chrome")
_OTHERS = (
    ("brew", "brew install pango"),
    ("dnf", "sudo dnf install pango"),
    ("pacman", "sudo pacman -S pango"),
    ("apk", "sudo apk add pango"),
    ("zypper", "sudo zypper install pango"),
)


def environment() -> None:
    """Go on inside an environment that holds the pinned requirements."""
    try:
        if sys.version_info[:2] < OLDEST:
            _stop(_too_old())
        _look_at_data_folder()
        missing = missing_pins()
        if not missing:
            return
        if not _is_inside():
            if not _python().exists():
                _make_venv()
            # It may be there and complete: it looks for itself.
            _go_on_with(_python())
        _install(missing)
        _go_on_with(_python())
    except KeyboardInterrupt:
        _stop(f"Stopped half way. To go on: {_again()}")


def pango() -> bool:
    """Whether PDF can be made; where it may, it installs what PDF needs first."""
    if has_pango():
        return True
    _apt(PANGO, "PDF sheets need the Pango library")
    if has_pango():
        return True
    print(f"PDF is off: the Pango library is missing. Install it: {pango_line()}")
    print("All else works; each sheet is still a page that the browser prints.")
    return False


def has_pango() -> bool:
    return all(_has_library(name) for name in LIBRARIES)


def pango_line() -> str:
    """The one line that installs Pango on this system."""
    for tool, line in _OTHERS:
        if shutil.which(tool) and not shutil.which("apt-get"):
            return line
    return "sudo apt-get install " + " ".join(PANGO)


def chromium() -> str:
    """Where the system's Chromium is, installed first where this may be done."""
    return _program(CHROMIUM, "chromium", "The browser tests need Chromium")


def poppler() -> str:
    """Where pdftoppm is, installed first where this may be done."""
    return _program(("pdftoppm",), "poppler-utils", "The tests of sheets need poppler")


def missing_pins() -> list[str]:
    """The pinned requirements that are not here in just that version."""
    missing = []
    for line in (HOME / "requirements.txt").read_text("utf-8").splitlines():
        pin = line.split("#")[0].strip()
        if not pin:
            continue
        name, _, version = pin.partition("==")
        try:
            if metadata.version(name.split("[")[0]) != version:
                missing.append(pin)
        except metadata.PackageNotFoundError:
            missing.append(pin)
    return missing


def _too_old() -> str:
    newer = next(filter(shutil.which, NEWER), None)
    found = _version()
    if newer:
        return (
            f"fabshop needs Python 3.11 or newer, this is {found}. "
            f"There is a newer one here: {_again(newer)}"
        )
    return (
        f"fabshop needs Python 3.11 or newer, this is {found}. Install a newer one "
        "(sudo apt-get install python3.11 python3.11-venv, or from python.org), "
        f"then: {_again('python3.11')}"
    )


def _look_at_data_folder() -> None:
    folder = Path(os.environ.get("FABSHOP_DATA") or HOME / ".data").expanduser()
    try:
        folder.mkdir(parents=True, exist_ok=True)
        probe = folder / f".writable-{os.getpid()}"
        probe.write_text("")
        probe.unlink()
    except OSError as fault:
        _stop(
            f"The data folder {folder} cannot be written ({fault.strerror}). "
            f"Choose another: FABSHOP_DATA=~/fabshop-data {_again()}"
        )


def _make_venv() -> None:
    if find_spec("venv") is None or find_spec("ensurepip") is None:
        _bring_venv()
    print("Making an environment in .venv (once) ...", flush=True)
    try:
        done = subprocess.run(
            [sys.executable, "-m", "venv", "--clear", str(VENV)],
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
        )
    except OSError as fault:
        _stop(f"Python could not be started again ({fault.strerror}). {_again()}")
    if done.returncode == 0:
        return
    is_writable = os.access(str(HOME), os.W_OK)
    shutil.rmtree(str(VENV), ignore_errors=True)
    if not is_writable:
        _stop(
            f"No environment can be made: {HOME} is not yours to write. "
            f'Make it yours: sudo chown -R "$USER" {HOME}'
        )
    last = (done.stdout.strip().splitlines() or ["no reason given"])[-1]
    _stop(
        f"No environment can be made in {VENV} ({last}). "
        f"Clear the way and start again: rm -rf {VENV} && {_again()}"
    )


def _bring_venv() -> None:
    """Debian keeps the venv module in a package of its own."""
    package = f"python{_version()}-venv"
    _apt((package,), "This Python has no venv module, which the environment needs")
    done = subprocess.run(
        [sys.executable, "-c", "import venv, ensurepip"], stderr=subprocess.DEVNULL
    )
    if done.returncode:
        _stop(
            "This Python cannot make an environment: its venv module is missing. "
            f"Install it: sudo apt-get install {package}"
        )


def _install(missing: list[str]) -> None:
    if find_spec("pip") is None:
        _stop(
            "The environment in .venv is half made. "
            f"Make it anew: rm -rf {VENV} && {_again()}"
        )
    print(f"Installing {len(missing)} requirements (once) ...", flush=True)
    command = [sys.executable, "-m", "pip", "install", "--disable-pip-version-check"]
    if subprocess.call([*command, "-r", str(HOME / "requirements.txt")]) != 0:
        _stop(
            "pip could not install the requirements; its reason stands above. Mostly "
            f"this machine has no network. When it has, go on with: {_again()}"
        )
    if left := missing_pins():
        _stop(
            f"pip did not bring {', '.join(left)}. "
            f"Make the environment anew: rm -rf {VENV} && {_again()}"
        )


def _apt(packages: tuple[str, ...], why: str) -> None:
    """Install Debian packages where that may be done, and say so before."""
    if not shutil.which("apt-get") or not hasattr(os, "geteuid") or os.geteuid():
        return
    print(f"{why}: installing {' '.join(packages)} with apt-get ...", flush=True)
    quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    for command in (
        ["apt-get", "-qq", "update"],
        ["apt-get", "-qq", "-y", "install", "--no-install-recommends", *packages],
    ):
        if subprocess.call(command, env=quiet, stdout=subprocess.DEVNULL) != 0:
            return


def _program(names: tuple[str, ...], package: str, why: str) -> str:
    for attempt in ("look", "bring, then look again"):
        for name in names:
            if found := shutil.which(name):
                return found
        if attempt == "look":
            _apt((package,), why)
    _stop(f"{why}. Install it: sudo apt-get install {package}, then: {_again()}")


def _has_library(name: str) -> bool:
    if find_library(name):
        return True
    try:
        # Where no index of libraries is kept, as with musl.
        ctypes.CDLL(f"lib{name}.so.0")
    except OSError:
        return False
    return True


def _version() -> str:
    return ".".join(str(part) for part in sys.version_info[:2])


def _python() -> Path:
    return VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def _is_inside() -> bool:
    return Path(sys.prefix).resolve() == VENV.resolve()


def _again(python: str = "python3") -> str:
    """The command that was given, to be given again."""
    return " ".join([python, "manage.py", *sys.argv[1:]])


def _go_on_with(python: Path) -> NoReturn:
    command = [str(python), *sys.argv]
    if os.name == "nt":  # there, exec would let go of the terminal
        sys.exit(subprocess.call(command))
    os.execv(command[0], command)


def _stop(sentence: str) -> NoReturn:
    sys.exit(sentence)
