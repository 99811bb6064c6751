"""What holds for the whole package: its face, its layers, its sizes, its words."""

import ast
import graphlib
import importlib
import inspect
import re
import subprocess
import sys
import tomllib

import pytest

import rigfit
from rigfit.rigging.readings import Reading
from rigfit.version import VERSION
from tests.demo_reports import ROOT

PACKAGE = ROOT / "rigfit"
MODULES = sorted(PACKAGE.rglob("*.py"))
NAMES = [path.relative_to(ROOT).as_posix() for path in MODULES]
TREES = {
    name: ast.parse(path.read_text("utf-8")) for name, path in zip(NAMES, MODULES, strict=True)
}
HEAVY = {
    "PIL", "customtkinter", "ezdxf", "fontTools", "matplotlib", "numpy", "reportlab", "scipy",
    "shapely", "tkinter", "tomlkit",
}  # fmt: skip
LARGEST_MODULE, LARGEST_FUNCTION = 600, 60

each_module = pytest.mark.parametrize("name", NAMES)


def loaded_after(code):
    """Return the heavy libraries a fresh Python has loaded after some code."""
    listing = f"{code}\nimport sys; print(*sorted(sys.modules), file=sys.stderr)"
    done = subprocess.run(
        [sys.executable, "-c", listing], cwd=ROOT, capture_output=True, text=True, check=True
    )
    return HEAVY & set(done.stderr.split())


# ---------------------------------------------------------------- face


def test_the_face_is_what_scripts_may_rely_on():
    assert set(rigfit.__all__) == {"__version__"}
    assert all(hasattr(rigfit, name) for name in rigfit.__all__)


def test_the_version_is_said_once():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    assert rigfit.__version__ == VERSION == project["version"]


def test_the_command_is_where_the_project_says():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    module, _, function = project["scripts"]["rigfit"].partition(":")
    assert callable(getattr(importlib.import_module(module), function))


def test_types_are_offered():
    assert (PACKAGE / "py.typed").is_file()


# ---------------------------------------------------------------- imports


def typing_only(tree):
    """Return the statements that only a type checker reads."""
    ifs = [node for node in ast.walk(tree) if isinstance(node, ast.If)]
    guarded = [node for node in ifs if ast.unparse(node.test) == "TYPE_CHECKING"]
    return {id(inner) for node in guarded for inner in ast.walk(node)}


def imported_by(name):
    """Return the modules of the package that one imports anywhere, inside functions too."""
    skipped, found = typing_only(TREES[name]), set()
    for node in ast.walk(TREES[name]):
        if id(node) not in skipped and isinstance(node, ast.ImportFrom) and node.module:
            path = node.module.replace(".", "/")
            found |= {f"{path}/{alias.name}.py" for alias in node.names} | {f"{path}.py"}
    return found & set(NAMES)


def test_no_module_imports_another_that_imports_it_by_whatever_way():
    order = graphlib.TopologicalSorter({name: imported_by(name) for name in NAMES})
    assert len(tuple(order.static_order())) == len(NAMES)  # raises CycleError with the cycle


@pytest.mark.parametrize(
    "code",
    [
        "import rigfit",
        "import rigfit.command_line",
        "import rigfit.tasks",
        "from rigfit.command_line import run; run(['check', 'profiles/demo/dunlin.toml'])",
        "from rigfit.command_line import run; run(['heights', 'profiles/demo/dunlin.toml'])",
    ],
)
def test_an_answer_in_text_needs_no_library(code):
    assert loaded_after(code) == set()


def test_a_drawing_does_need_one():
    # Shows that the look at the loaded modules above would notice.
    code = "from rigfit import tasks; tasks.drawing_bytes(tasks.profile_scene(tasks.check(" \
        "tasks.demo_job())), 'dxf')"  # fmt: skip
    assert "ezdxf" in loaded_after(code)


def test_storeys_import_only_lower_ones():
    code = "import sys; from importlinter.cli import lint_imports; " \
        "sys.exit(lint_imports(no_cache=True))"  # fmt: skip
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stdout
    assert "1 kept, 0 broken" in done.stdout


def test_every_storey_has_its_place():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    layers = project["tool"]["importlinter"]["contracts"][0]["layers"]
    placed = {part.strip() for layer in layers for part in layer.split("|")}
    found = {
        f"rigfit.{path.stem}"
        for path in PACKAGE.iterdir()
        if (path.suffix == ".py" and path.stem != "__init__") or (path / "__init__.py").is_file()
    }
    assert found == placed


@each_module
def test_no_module_prints_or_exits_behind_ones_back(name):
    calls = {
        node.func.id
        for node in ast.walk(TREES[name])
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)
    }
    printers = ("rigfit/command_line.py", "rigfit/command_parts.py")
    allowed = {"print"} if name in printers else set()
    assert calls & {"print", "input", "exit", "quit", "eval", "exec", "breakpoint"} <= allowed


# ---------------------------------------------------------------- words in the code


def public(tree):
    """Yield every public function and class, methods of public classes included."""
    for node in tree.body:
        if isinstance(node, ast.FunctionDef | ast.ClassDef) and not node.name.startswith("_"):
            yield node
            if isinstance(node, ast.ClassDef):
                yield from public(node)


def functions(tree):
    return [node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef)]


@each_module
def test_a_module_says_what_it_is_for(name):
    said = ast.get_docstring(TREES[name])
    assert said
    assert said.splitlines()[0].strip()


@each_module
def test_what_is_public_is_described(name):
    silent = [node.name for node in public(TREES[name]) if not ast.get_docstring(node)]
    assert silent == []


@each_module
def test_what_is_public_is_annotated(name):
    bare = []
    for node in public(TREES[name]):
        if not isinstance(node, ast.FunctionDef):
            continue
        given = [*node.args.posonlyargs, *node.args.args, *node.args.kwonlyargs]
        wanted = [item for item in given if item.arg not in ("self", "cls")]
        if node.returns is None or any(item.annotation is None for item in wanted):
            bare.append(node.name)
    assert bare == []


def test_the_walk_finds_what_python_finds():
    found = {node.name for node in public(TREES["rigfit/rigging/readings.py"])}
    assert {"Reading", "FieldSpec", "described", "specs", "is_firm"} <= found
    assert inspect.getdoc(Reading)


# ---------------------------------------------------------------- sizes


@each_module
def test_a_module_is_not_too_long(name):
    assert len((ROOT / name).read_text("utf-8").splitlines()) <= LARGEST_MODULE


def code_lines(node, lines):
    """Return how many lines of a function are code: no docstring, no remark, no blank."""
    body = node.body[1:] if ast.get_docstring(node) else node.body
    first = body[0].lineno if body else node.end_lineno
    head = range(node.lineno, node.body[0].lineno)
    numbers = [*head, *range(first, node.end_lineno + 1)]
    stripped = [lines[number - 1].strip() for number in numbers]
    return sum(1 for line in stripped if line and not line.startswith("#"))


@each_module
def test_a_function_is_not_too_long(name):
    lines = (ROOT / name).read_text("utf-8").splitlines()
    sizes = {node.name: code_lines(node, lines) for node in functions(TREES[name])}
    assert {key: size for key, size in sizes.items() if size > LARGEST_FUNCTION} == {}


# ---------------------------------------------------------------- texts of the repository

MACHINE = re.compile(
    r"(?<![\w.-])/(?:home|root|tmp|work|Users|opt|var/tmp|mnt)/|[A-Z]:\\\\?Users\\", re.IGNORECASE
)
REGISTRY = re.compile(
    r"index-url|extra-index|trusted-host|artifactory|devpi|files\.pythonhosted|"
    r"https?://[^\s\"'>]*(?:pypi|/simple\b)",
    re.IGNORECASE,
)
TEXTS = sorted(
    path
    for place in ("rigfit", "profiles", ".ci", ".github", "exports", "tests")
    if (ROOT / place).is_dir()
    for path in (ROOT / place).rglob("*")
    if path.suffix in ("", ".py", ".toml", ".md", ".yml", ".yaml", ".txt", ".json", ".svg", ".dxf")
    and path.is_file()
    and "__pycache__" not in path.parts
)
TOP = [path for path in sorted(ROOT.iterdir()) if path.suffix in (".md", ".toml", ".txt", ".cfg")]


def found_in(paths, pattern):
    return [
        f"{path.relative_to(ROOT).as_posix()}: {match[0]}"
        for path in paths
        for match in pattern.finditer(path.read_text("utf-8"))
    ]


def test_no_text_names_a_place_on_a_machine():
    # This file spells the places out; fonts and pictures are not texts.
    texts = [path for path in (*TEXTS, *TOP) if path.name != "test_package.py"]
    assert len(texts) > 60
    assert found_in(texts, MACHINE) == []


def test_no_text_names_a_registry():
    texts = [path for path in (*TEXTS, *TOP) if path.name != "test_package.py"]
    assert found_in(texts, REGISTRY) == []


@pytest.mark.parametrize(
    ("pattern", "text", "hit"),
    [
        (MACHINE, "see /home/someone/boats", True),
        (MACHINE, 'open("/tmp/x")', True),
        (MACHINE, r"C:\Users\someone", True),
        (MACHINE, "the work/home of it, a/tmp/b and ../tmp/x", False),
        (REGISTRY, "pip install --index-url https://mirror/simple", True),
        (REGISTRY, "pip install rigfit, a simple thing", False),
    ],
)
def test_the_search_for_places_finds_them(pattern, text, hit):
    assert bool(pattern.search(text)) is hit


def test_every_line_of_the_profiles_is_printable():
    texts = [path.read_text("utf-8") for path in (ROOT / "profiles").rglob("*.toml")]
    assert len(texts) == 11
    assert all(char.isprintable() or char == "\n" for text in texts for char in text)
