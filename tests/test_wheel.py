"""The built wheel works on its own, away from the checkout. Building takes the network."""

import os
import subprocess
import sys
import zipfile

import pytest

from rigfit.version import VERSION
from tests.demo_reports import ROOT


def ran(*command, folder, **changes):
    done = subprocess.run(
        [sys.executable, *command], cwd=folder, env=os.environ | changes,
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    return done.stdout


@pytest.fixture(scope="module")
def wheel(tmp_path_factory):
    folder = tmp_path_factory.mktemp("wheel")
    ran("-m", "pip", "wheel", str(ROOT), "--no-deps", "-q", "-w", str(folder), folder=folder)
    (built,) = folder.glob("*.whl")
    return built


@pytest.fixture(scope="module")
def installed(wheel, tmp_path_factory):
    """Return a folder that holds nothing but the installed wheel."""
    target = tmp_path_factory.mktemp("installed")
    ran(
        "-m", "pip", "install", str(wheel), "--no-deps", "--no-compile", "-q",
        "--target", str(target), folder=target,
    )  # fmt: skip
    return target


def test_the_wheel_is_pure_and_of_this_version(wheel):
    assert wheel.name == f"rigfit-{VERSION}-py3-none-any.whl"


@pytest.mark.parametrize(
    ("folder", "pattern", "inside"),
    [
        ("profiles", "*.toml", "rigfit/_profiles"),
        ("profiles/demo", "*.toml", "rigfit/_profiles/demo"),
        ("rigfit/drawing/fonts", "*", "rigfit/drawing/fonts"),
        ("rigfit", "py.typed", "rigfit"),
        ("rigfit/rigging", "*.py", "rigfit/rigging"),
    ],
)
def test_the_wheel_holds_what_the_checkout_does(folder, pattern, inside, wheel):
    files = [path for path in (ROOT / folder).glob(pattern) if path.is_file()]
    with zipfile.ZipFile(wheel) as archive:
        kept = {path.name: archive.read(f"{inside}/{path.name}") for path in files}
    assert files
    assert kept == {path.name: path.read_bytes() for path in files}


def test_the_wheel_holds_nothing_else(wheel):
    with zipfile.ZipFile(wheel) as archive:
        tops = {name.split("/")[0] for name in archive.namelist()}
        endings = {
            name.rpartition(".")[2] for name in archive.namelist() if "dist-info" not in name
        }
    assert tops == {"rigfit", f"rigfit-{VERSION}.dist-info"}
    assert endings <= {"py", "toml", "ttf", "txt", "typed", "png", "svg", "ico", "json"}


def test_the_wheel_carries_the_licence_and_the_command(wheel):
    about = f"rigfit-{VERSION}.dist-info"
    with zipfile.ZipFile(wheel) as archive:
        assert f"{about}/licenses/LICENSE" in archive.namelist()
        commands = archive.read(f"{about}/entry_points.txt").decode()
    assert "rigfit = rigfit.__main__:main" in commands


def test_the_demo_runs_from_the_wheel_alone(installed, tmp_path):
    path = {"PYTHONPATH": str(installed)}
    where = ran("-c", "import rigfit; print(rigfit.__file__)", folder=tmp_path, **path).strip()
    said = ran("-W", "error", "-m", "rigfit", "demo", folder=tmp_path, **path)
    assert where == str(installed / "rigfit" / "__init__.py")
    assert "= FITS" in said
    assert len(list((tmp_path / "rigfit-demo").iterdir())) == 28


def test_the_wheel_draws_the_same_as_the_checkout(installed, tmp_path):
    for name, path in (("wheel", installed), ("checkout", ROOT)):
        ran("-m", "rigfit", "demo", name, folder=tmp_path, PYTHONPATH=str(path))
    wheel, checkout = (
        {path.name: path.read_bytes() for path in (tmp_path / name).iterdir()}
        for name in ("wheel", "checkout")
    )
    assert wheel == checkout
