"""The walls of the house: who may import whom, who may write, and how big a file is."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

HOME = Path(__file__).resolve().parent.parent
ROOM = HOME / "fabshop"
GROUND = {"words", "units", "errors", "reference"}
MAY_IMPORT: dict[str, set[str]] = {
    **{name: set() for name in GROUND},
    "records": set(),
    "reckoning": {"reckoning"},
    "snapshot": {"records", "reckoning", "snapshot"},
    "actions": {"records", "reckoning", "snapshot", "actions", "worker"},
}
MAY_IMPORT["records"] = {"records"}
INNER = {"records", "reckoning", "snapshot", "actions"}
for _face in ("web", "api", "paper", "console"):
    MAY_IMPORT[_face] = INNER | {_face, "worker", "clock", "settings", "wsgi"}
# What starts the house stands beside the rooms.
BESIDE = {"settings", "urls", "wsgi", "clock", "prepare", "worker"}
MAY_IMPORT["console"] |= {"prepare"}
MAY_IMPORT["urls"] = {"web", "api", "paper"}
MAY_IMPORT.update({"settings": set(), "wsgi": set(), "clock": set()})
MAY_IMPORT.update({"prepare": set(), "worker": set()})

HEAVY = {"ortools", "weasyprint", "pandas", "numpy", "ezdxf"}
MAY_BE_HEAVY = (
    "reckoning/solver.py",
    "reckoning/teardown/",
    "reckoning/rough/",
    "reckoning/schedule/",
    "reckoning/sure/",
    "reckoning/cutting/",
    "reckoning/drawing/opened.py",
    "reckoning/drawing/read.py",
    "paper/render.py",
)
LONGEST = 400
TOP = {
    "README.md",
    "DEVELOPERS.md",
    "manage.py",
    "requirements.txt",
    "fabshop",
    "tests",
    "fixtures",
    "shared",
}

SOURCES = sorted(path for path in ROOM.rglob("*.py") if "migrations" not in path.parts)


def name_of(path: Path) -> str:
    return str(path.relative_to(HOME))


def room_of(path: Path) -> str:
    return path.relative_to(ROOM).parts[0].removesuffix(".py")


def tree_of(path: Path) -> ast.Module:
    return ast.parse(path.read_text(), filename=str(path))


def imported(node: ast.AST) -> list[str]:
    if isinstance(node, ast.Import):
        return [alias.name for alias in node.names]
    if isinstance(node, ast.ImportFrom):
        module = node.module or ""
        # `from fabshop import worker` names the room in the alias.
        if module == "fabshop":
            return [f"fabshop.{alias.name}" for alias in node.names]
        return [module]
    return []


@pytest.mark.parametrize("path", SOURCES, ids=name_of)
def test_a_file_imports_only_what_its_room_may(path: Path) -> None:
    room = room_of(path)
    if path == ROOM / "__init__.py":
        return
    allowed = MAY_IMPORT[room] | GROUND
    for node in ast.walk(tree_of(path)):
        if isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"line {node.lineno}: a relative import"
        for name in imported(node):
            if name.startswith("fabshop."):
                found = name.split(".")[1]
                assert found in allowed, f"{room} may not import {name}"
            elif name.split(".")[0] in HEAVY:
                inner = str(path.relative_to(ROOM))
                assert inner.startswith(MAY_BE_HEAVY), f"{name} belongs to the worker"


@pytest.mark.parametrize("path", SOURCES, ids=name_of)
def test_nothing_is_imported_inside_a_function(path: Path) -> None:
    for node in ast.walk(tree_of(path)):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            for inner in ast.walk(node):
                assert not imported(inner), f"line {inner.lineno}: move it to the top"


WRITES = {
    "save",
    "asave",
    "create",
    "acreate",
    "bulk_create",
    "bulk_update",
    "get_or_create",
    "update_or_create",
    "set_password",
}
# These are also verbs of dicts, sets, files and forms, so they are writes only at
# the end of a chain that began at a model's manager or a queryset.
ON_QUERYSETS = {"update", "aupdate", "delete", "add", "set", "clear", "remove"}
_ON_ROWS = re.compile(r"\bobjects\b|_set\b|\.(filter|exclude|select_for_update)\(")


def writes(tree: ast.Module) -> Iterator[str]:
    for node in ast.walk(tree):
        if not isinstance(node, ast.Call) or not isinstance(node.func, ast.Attribute):
            continue
        verb, spoken_to = node.func.attr, ast.unparse(node.func.value)
        by_name = verb in WRITES
        by_chain = verb in ON_QUERYSETS and _ON_ROWS.search(spoken_to)
        # A row's own: `task.delete()`, while a cache or a session is told what.
        by_row = verb in ("delete", "adelete") and not node.args
        if by_name or by_chain or by_row:
            yield f"line {node.lineno}: {spoken_to}.{verb}()"


OUTSIDE_ACTIONS = [path for path in SOURCES if room_of(path) != "actions"]


@pytest.mark.parametrize("path", OUTSIDE_ACTIONS, ids=name_of)
def test_only_actions_write(path: Path) -> None:
    assert list(writes(tree_of(path))) == []


@pytest.mark.parametrize(
    "told",
    [
        "task.save()",
        "task.save(update_fields=['title'])",
        "Task.objects.create(title='x')",
        "Task.objects.filter(a=1).update(b=2)",
        "open_ones.filter(a=1).exclude(b=2).update(c=3)",
        "build.tasks.bulk_create(rows)",
        "task.after_set.add(other)",
        "task.delete()",
        "Task.objects.get_or_create(code='W1')",
        "person.set_password('x')",
    ],
)
def test_a_write_is_found(told: str) -> None:
    assert len(list(writes(ast.parse(told)))) == 1


@pytest.mark.parametrize(
    "told",
    [
        "seen.update(more)",
        "digest.update(b'x')",
        "names.add('x')",
        "cache.delete('key')",
        "context.update(form=form)",
        "names.clear()",
        "Task.objects.filter(a=1).first()",
    ],
)
def test_what_only_looks_like_a_write_is_let_be(told: str) -> None:
    assert list(writes(ast.parse(told))) == []


def test_every_file_has_its_test() -> None:
    untested = []
    for path in SOURCES:
        inner = path.relative_to(ROOM)
        if path.name in ("__init__.py", "apps.py", "urls.py", "models.py"):
            continue
        if "commands" in inner.parts:
            inner = Path(inner.parts[0]) / path.name
        test = HOME / "tests" / inner.parent / f"test_{path.name}"
        # A package of plain words or facts may be tested as one.
        whole = HOME / "tests" / inner.parent.parent / f"test_{path.parent.name}.py"
        if not test.exists() and not whole.exists():
            untested.append(str(test.relative_to(HOME)))
    assert untested == []


@pytest.mark.parametrize("path", SOURCES, ids=name_of)
def test_every_module_says_what_it_is(path: Path) -> None:
    tree = tree_of(path)
    if tree.body:
        assert ast.get_docstring(tree), "begin with one true sentence"


def test_no_file_is_too_long() -> None:
    files = [
        path
        for kind in ("py", "js", "css", "html")
        for top in ("fabshop", "tests")
        for path in (HOME / top).rglob(f"*.{kind}")
        if "migrations" not in path.parts
    ]
    long = {
        name_of(path): lines
        for path in files
        if (lines := len(path.read_text().splitlines())) > LONGEST
    }
    assert long == {}


def test_the_top_level_holds_just_what_it_may() -> None:
    seen = {path.name for path in HOME.iterdir() if not path.name.startswith(".")}
    assert seen - {"__pycache__"} <= TOP
    assert (ROOM / "__init__.py").read_text() == ""


def run_python(program: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", program], cwd=HOME, capture_output=True, text=True
    )


def test_the_core_imports_without_django() -> None:
    core = [path for path in SOURCES if room_of(path) in GROUND | {"reckoning"}]
    names = [
        ".".join(path.relative_to(HOME).with_suffix("").parts).removesuffix(".__init__")
        for path in core
    ]
    program = (
        "import sys\n"
        "class NoDjango:\n"
        "    def find_spec(self, name, path=None, target=None):\n"
        "        if name.split('.')[0] in ('django', 'rest_framework'):\n"
        "            raise ImportError(name)\n"
        "sys.meta_path.insert(0, NoDjango())\n"
        f"for name in {names!r}: __import__(name)\n"
    )
    done = run_python(program)
    assert done.returncode == 0, done.stderr


def test_the_web_process_does_not_carry_the_heavy_libraries() -> None:
    program = (
        "import sys, fabshop.wsgi\n"
        "from django.urls import get_resolver\n"
        "get_resolver().url_patterns\n"
        f"print(sorted({HEAVY!r} & set(sys.modules)))\n"
    )
    done = run_python(program)
    assert done.stdout.strip() == "[]", done.stdout + done.stderr


def test_no_catch_all_rooms() -> None:
    names = {path.stem for path in SOURCES}
    assert not names & {"utils", "helpers", "common", "misc", "manager", "signals"}
