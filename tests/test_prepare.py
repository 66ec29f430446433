"""What a bare machine is told: each failure in one sentence with the next command.

Machines are made up in a folder: a copy of the start, a search path of few programs,
and a `sitecustomize` that takes away from Python what that machine does not have.
"""

from __future__ import annotations

import os
import shutil
import stat
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

HOME = Path(__file__).resolve().parent.parent
BARE_PYTHON = sys._base_executable  # type: ignore[attr-defined]
ASK_PANGO = "from fabshop import prepare; print('can:', prepare.pango())"
NO_LIBRARY = """
import ctypes, ctypes.util
ctypes.util.find_library = lambda name: None
class CDLL:
    def __init__(self, name, *rest): raise OSError(name)
ctypes.CDLL = CDLL
"""

Start = Callable[..., subprocess.CompletedProcess[str]]


class Machine:
    """A folder with the start of fabshop in it, and a Python that lacks something."""

    def __init__(self, folder: Path) -> None:
        self.home = folder / "fabshop-here"
        self.programs = folder / "bin"
        self.lacks = folder / "lacks"
        for made in (self.home / "fabshop", self.programs, self.lacks):
            made.mkdir(parents=True)
        shutil.copy(HOME / "manage.py", self.home)
        for name in ("__init__.py", "prepare.py"):
            shutil.copy(HOME / "fabshop" / name, self.home / "fabshop")
        self.pin("django==5.2.19  # never asked for in these tests")

    def pin(self, line: str) -> None:
        (self.home / "requirements.txt").write_text(f"# pins\n\n{line}\n")

    def without(self, program: str) -> None:
        (self.lacks / "sitecustomize.py").write_text(program)

    def has_program(self, name: str, script: str = "exit 0") -> None:
        file = self.programs / name
        file.write_text(f"#!/bin/sh\n{script}\n")
        file.chmod(file.stat().st_mode | stat.S_IXUSR)

    def start(
        self, *argv: str, python: str = BARE_PYTHON, **more: str
    ) -> subprocess.CompletedProcess[str]:
        argv = argv or ("manage.py", "serve", "--demo")
        environ = {
            "PATH": str(self.programs),
            "PYTHONPATH": str(self.lacks),
            "PYTHONDONTWRITEBYTECODE": "1",
            # a network that answers nobody
            "PIP_CONFIG_FILE": os.devnull,
            "PIP_INDEX_URL": "http://127.0.0.1:9/simple",
            "PIP_RETRIES": "0",
            "HOME": str(self.home),
            **more,
        }
        return subprocess.run(
            [python, *argv],
            cwd=self.home,
            env=environ,
            stdin=subprocess.DEVNULL,
            capture_output=True,
            text=True,
        )


@pytest.fixture
def machine(tmp_path: Path) -> Machine:
    return Machine(tmp_path)


def refused(done: subprocess.CompletedProcess[str]) -> str:
    """The one sentence that was said; nothing of Python's own stands around it."""
    assert done.returncode == 1, done
    assert "Traceback" not in done.stderr + done.stdout
    lines = done.stderr.strip().splitlines()
    assert len(lines) == 1, done.stderr
    return lines[0]


def test_a_python_that_is_too_old_is_told_what_to_install(machine: Machine) -> None:
    machine.without("import sys; sys.version_info = (3, 9, 2, 'final', 0)")
    said = refused(machine.start())
    assert said == (
        "fabshop needs Python 3.11 or newer, this is 3.9. Install a newer one "
        "(sudo apt-get install python3.11 python3.11-venv, or from python.org), "
        "then: python3.11 manage.py serve --demo"
    )


def test_a_newer_python_on_the_machine_is_named(machine: Machine) -> None:
    machine.without("import sys; sys.version_info = (3, 9, 2, 'final', 0)")
    machine.has_program("python3.12")
    assert refused(machine.start()).endswith(
        "There is a newer one here: python3.12 manage.py serve --demo"
    )


def test_a_data_folder_that_cannot_be_written_is_named(machine: Machine) -> None:
    (machine.home / "file").write_text("not a folder")
    said = refused(machine.start(FABSHOP_DATA=str(machine.home / "file" / "data")))
    assert said == (
        f"The data folder {machine.home}/file/data cannot be written (Not a directory)."
        " Choose another: FABSHOP_DATA=~/fabshop-data python3 manage.py serve --demo"
    )


def test_without_the_venv_module_the_package_is_named(machine: Machine) -> None:
    (machine.lacks / "ensurepip.py").write_text("raise ImportError('taken away')")
    machine.without(
        "import importlib.util as u\n"
        "seen = u.find_spec\n"
        "u.find_spec = lambda n, *r: None if n == 'ensurepip' else seen(n, *r)\n"
    )
    version = f"{sys.version_info[0]}.{sys.version_info[1]}"
    assert refused(machine.start()) == (
        "This Python cannot make an environment: its venv module is missing. "
        f"Install it: sudo apt-get install python{version}-venv"
    )


def test_where_root_may_the_venv_package_is_brought(machine: Machine) -> None:
    machine.has_program("apt-get", f'echo "$@" >> {machine.home}/asked')
    (machine.lacks / "ensurepip.py").write_text("raise ImportError('taken away')")
    machine.without(
        "import os; os.geteuid = lambda: 0\n"
        "import importlib.util as u\n"
        "seen = u.find_spec\n"
        "u.find_spec = lambda n, *r: None if n == 'ensurepip' else seen(n, *r)\n"
    )
    done = machine.start()
    assert "installing python3." in done.stdout, done
    asked = (machine.home / "asked").read_text().splitlines()
    assert asked[0] == "-qq update"
    assert asked[1].startswith("-qq -y install --no-install-recommends python3.")
    refused(done)  # this apt brings nothing


def test_an_environment_that_cannot_be_made_is_said(machine: Machine) -> None:
    machine.without(
        "import sys\nif 'venv' in sys.orig_argv: sys.exit('No space left on device')"
    )
    said = refused(machine.start())
    assert said.startswith(f"No environment can be made in {machine.home}/.venv (")
    assert said.endswith(
        f"rm -rf {machine.home}/.venv && python3 manage.py serve --demo"
    )


def test_without_a_network_pip_gives_its_reason_and_we_the_command(
    machine: Machine,
) -> None:
    done = machine.start()
    assert done.returncode == 1
    assert "Making an environment in .venv (once) ..." in done.stdout
    assert "Installing 1 requirements (once) ..." in done.stdout
    assert "Traceback" not in done.stderr
    assert done.stderr.strip().splitlines()[-1] == (
        "pip could not install the requirements; its reason stands above. Mostly "
        "this machine has no network. When it has, go on with: "
        "python3 manage.py serve --demo"
    )
    # What is there already is not made twice, and a half-made one is recognised.
    assert "Making" not in machine.start().stdout
    [packages] = (machine.home / ".venv" / "lib").glob("python*/site-packages")
    shutil.rmtree(packages)
    assert refused(machine.start()) == (
        "The environment in .venv is half made. Make it anew: "
        f"rm -rf {machine.home}/.venv && python3 manage.py serve --demo"
    )


def test_with_the_requirements_there_it_does_nothing(machine: Machine) -> None:
    machine.pin("Django==5.2.19  # here")
    looked = "from fabshop import prepare; prepare.environment(); print('went on')"
    done = machine.start("-c", looked, python=sys.executable)
    assert (done.stdout, done.stderr) == ("went on\n", "")
    assert not (machine.home / ".venv").exists()


def test_another_version_of_a_requirement_counts_as_missing(machine: Machine) -> None:
    machine.pin("django==1.0")
    looked = "from fabshop import prepare; print(prepare.missing_pins())"
    done = machine.start("-c", looked, python=sys.executable)
    assert done.stdout == "['django==1.0']\n"


@pytest.mark.parametrize(
    ("tool", "line"),
    [
        ("apt-get", "sudo apt-get install libpango-1.0-0 libpangoft2-1.0-0"),
        ("dnf", "sudo dnf install pango"),
        ("brew", "brew install pango"),
        ("apk", "sudo apk add pango"),
    ],
)
def test_without_pango_the_line_for_this_system_is_named(
    machine: Machine, tool: str, line: str
) -> None:
    machine.has_program(tool)
    machine.without(f"{NO_LIBRARY}\nimport os; os.geteuid = lambda: 1000")
    done = machine.start("-c", ASK_PANGO)
    assert f"PDF is off: the Pango library is missing. Install it: {line}" in (
        done.stdout
    )
    assert done.stdout.endswith("can: False\n")


def test_where_root_may_pango_is_brought_and_said_before(machine: Machine) -> None:
    machine.has_program("apt-get", 'echo "apt-get $@" >&2')
    machine.without(f"{NO_LIBRARY}\nimport os; os.geteuid = lambda: 0")
    done = machine.start("-c", ASK_PANGO)
    assert done.stdout.startswith(
        "PDF sheets need the Pango library: installing libpango-1.0-0 "
        "libpangoft2-1.0-0 libharfbuzz-subset0 with apt-get ...\n"
    )
    assert done.stderr.splitlines() == [
        "apt-get -qq update",
        "apt-get -qq -y install --no-install-recommends libpango-1.0-0 "
        "libpangoft2-1.0-0 libharfbuzz-subset0",
    ]


def test_with_pango_there_nothing_is_said() -> None:
    done = subprocess.run(
        [sys.executable, "-c", ASK_PANGO], cwd=HOME, capture_output=True, text=True
    )
    assert (done.stdout, done.stderr) == ("can: True\n", "")


def test_without_a_browser_the_tests_name_its_line(machine: Machine) -> None:
    machine.without("import os; os.geteuid = lambda: 1000")
    done = machine.start("-c", "from fabshop import prepare; prepare.chromium()")
    assert refused(done).startswith(
        "The browser tests need Chromium. Install it: sudo apt-get install chromium"
    )
