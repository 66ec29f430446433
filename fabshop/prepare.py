"""What a bare machine lacks: an environment, the requirements, Pango, Chromium.

Standard library only, and readable by Pythons too old to run the rest. With
everything in place it looks and does nothing.
"""

import os
import shutil
import subprocess
import sys
from ctypes.util import find_library
from importlib import metadata
from pathlib import Path

HOME = Path(__file__).resolve().parent.parent
OLDEST = (3, 11)
_BEGUN = "FABSHOP_PREPARED"

# What apt calls it, and what it is for. Debian names; others are in `_OTHERS`.
PANGO = ("libpango-1.0-0", "libpangoft2-1.0-0", "libharfbuzz-subset0")
CHROMIUM = ("chromium",)
_OTHERS = (
    ("brew", "brew install pango"),
    ("dnf", "sudo dnf install pango"),
    ("pacman", "sudo pacman -S pango"),
    ("apk", "sudo apk add pango"),
    ("zypper", "sudo zypper install pango"),
)


def environment():
    """Go on inside an environment that holds the pinned requirements."""
    if sys.version_info[:2] < OLDEST:
        _stop(
            "fabshop needs Python %d.%d or newer, this is %d.%d. "
            "Install a newer one and start with it: python3.11 manage.py serve"
            % (*OLDEST, *sys.version_info[:2])
        )
    _data_folder()
    missing = _missing()
    if not missing:
        return
    python = HOME / ".venv" / ("Scripts" if os.name == "nt" else "bin") / "python"
    inside = os.environ.get(_BEGUN) == "1"
    if not inside:
        if not python.exists():
            _make_environment(python)
        # The environment may be there and complete: it looks for itself.
        os.environ[_BEGUN] = "1"
        os.execv(str(python), [str(python), *sys.argv])
    _install(missing)


def pango():
    """Whether PDF can be made; where this may, it installs what PDF needs first."""
    if has_pango():
        return True
    _apt(PANGO, "PDF sheets need the Pango library")
    if has_pango():
        return True
    print(f"PDF is off: the Pango library is missing. Install it with: {pango_line()}")
    print("Everything else works; each sheet can still be printed from its page.")
    return False


def has_pango():
    return all(
        find_library(name) for name in ("pango-1.0", "pangoft2-1.0", "harfbuzz-subset")
    )


def pango_line():
    """The one line that installs Pango on this system."""
    for tool, line in _OTHERS:
        if shutil.which(tool) and not shutil.which("apt-get"):
            return line
    return "sudo apt-get install " + " ".join(PANGO)


def chromium():
    """The system's Chromium, installed first where this may; else a sentence."""
    found = _chromium()
    if not found:
        _apt(CHROMIUM, "The browser tests need Chromium")
        found = _chromium()
    if not found:
        _stop(
            "The tests need the Chromium browser. Install it with: "
            "sudo apt-get install chromium, then run this again."
        )
    return found


def _chromium():
    for name in ("chromium", "chromium-browser", "google-chrome"):
        if shutil.which(name):
            return shutil.which(name)
    return None


def _missing():
    """The pinned requirements that are not here in just that version."""
    missing = []
    for line in (HOME / "requirements.txt").read_text().splitlines():
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


def _data_folder():
    folder = Path(os.environ.get("FABSHOP_DATA", HOME / ".data"))
    try:
        folder.mkdir(parents=True, exist_ok=True)
        probe = folder / ".writable"
        probe.write_text("")
        probe.unlink()
    except OSError as fault:
        _stop(
            f"The data folder {folder} cannot be written ({fault.strerror}). "
            "Choose another: FABSHOP_DATA=~/fabshop-data python3 manage.py serve"
        )


def _make_environment(python):
    print("Making an environment in .venv (once) ...", flush=True)
    try:
        import ensurepip  # noqa: F401, PLC0415  only to see whether it is there
        import venv  # noqa: PLC0415

        venv.create(HOME / ".venv", with_pip=True)
    except ImportError:
        _stop(
            "This Python cannot make an environment: its venv module is missing. "
            "Install it with: sudo apt-get install python%d.%d-venv"
            % sys.version_info[:2]
        )
    except OSError as fault:
        _stop(
            f"No environment can be made in {HOME} ({fault.strerror}). "
            f"Make the folder yours: sudo chown -R $USER {HOME}"
        )
    except subprocess.CalledProcessError:
        shutil.rmtree(HOME / ".venv", ignore_errors=True)
        _stop(
            "This Python made no pip in its environment. Install the missing part "
            "with: sudo apt-get install python%d.%d-venv" % sys.version_info[:2]
        )


def _install(missing):
    print(f"Installing {len(missing)} requirements (once) ...", flush=True)
    again = f"{sys.executable} -m pip install -r requirements.txt"
    command = [*again.split()[1:-1], str(HOME / "requirements.txt")]
    command += ["--disable-pip-version-check"]
    if subprocess.call([sys.executable, *command]) != 0:
        _stop(
            "The requirements could not be installed: is this machine on a network? "
            f"When it is, run: {again}"
        )
    os.execv(sys.executable, [sys.executable, *sys.argv])


def _apt(packages, why):
    """Install Debian packages where that may be done, and say so before."""
    if not shutil.which("apt-get") or not hasattr(os, "geteuid") or os.geteuid():
        return
    names = " ".join(packages)
    print(f"{why}: installing {names} with apt-get ...", flush=True)
    quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    for command in (
        ["apt-get", "-qq", "update"],
        ["apt-get", "-qq", "-y", "install", "--no-install-recommends", *packages],
    ):
        if subprocess.call(command, env=quiet, stdout=subprocess.DEVNULL) != 0:
            return


def _stop(sentence):
    sys.exit(sentence)
