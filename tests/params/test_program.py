"""The digest of a step: it changes with all that the step can reach, and with nothing else."""

from __future__ import annotations

import importlib.util
import re
import shutil
from modulefinder import ModuleFinder
from pathlib import Path
from types import ModuleType

import pytest

from params.steps import program

STEP = "analysis.proof"
# A project of a few lines; the step is analysis.proof.
FILES = {
    "requirements.lock": "numpy==2.0\n",
    "params/__init__.py": "",
    "params/steps/__init__.py": "",
    "params/steps/guard.py": "A = 1\n",
    "params/arms/one.yaml": "name: one\n",
    "params/surveys/one/setup-1.ply": "ply\n",
    "params/README.md": "words\n",
    "geometry/__init__.py": "",
    "geometry/mesher_step.py": "from geometry.mesher import mesh\n",
    "geometry/mesher.py": "def mesh(): ...\n",
    "geometry/solid.py": "B = 2\n",
    "analysis/__init__.py": "",
    "analysis/proof/__init__.py": "C = 3\n",
    "analysis/proof/__main__.py": "from analysis.elastic import (\n    kernels,\n    solve,  # both\n)\n"
    "from analysis.proof.cases import all\n",
    "analysis/proof/cases.py": 'import subprocess\nCOMMAND = ["python", "-m", "geometry.mesher_step"]\n',
    "analysis/proof/table.csv": "a,b\n",
    "analysis/proof/captions/mesh.rst": "A sentence.\n",
    "analysis/proof/rules.smk": "rule prove:\n",
    "analysis/elastic/__init__.py": "",
    "analysis/elastic/kernels.py": "import analysis.tables.files\n",
    "analysis/elastic/solve.py": "def late():\n    from params.steps.guard import A\n",
    "analysis/elastic/spare.py": "D = 4\n",
    "analysis/tables/__init__.py": "",
    "analysis/tables/files.py": "E = 5\n",
    "analysis/tables/overview.py": "F = 6\n",
    "analysis/page/__init__.py": "",
    "analysis/page/skin.py": "G = 7\n",
}


@pytest.fixture
def project(tmp_path: Path) -> Path:
    for name, text in FILES.items():
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text(text)
    shutil.copy(program.__file__, tmp_path / "params" / "steps" / "program.py")
    return tmp_path


def of(project: Path) -> ModuleType:
    """The module as that project has it, with nothing remembered from before."""
    spec = importlib.util.spec_from_file_location("its_program", project / "params" / "steps" / "program.py")
    assert spec and spec.loader
    made = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(made)
    return made


def touch(project: Path, name: str) -> None:
    (project / name).parent.mkdir(parents=True, exist_ok=True)
    with (project / name).open("a") as file:
        file.write("Z = 26\n")


REACHED = {
    "a package above it": "analysis/__init__.py",
    "the step itself": "analysis/proof/__main__.py",
    "its package": "analysis/proof/__init__.py",
    "an imported module": "analysis/proof/cases.py",
    "a module of a list over several lines": "analysis/elastic/solve.py",
    "a module imported by an imported one": "analysis/tables/files.py",
    "a package on the way": "analysis/tables/__init__.py",
    "an import inside a function": "params/steps/guard.py",
    "a data file beside": "analysis/proof/table.csv",
    "a data file in a folder beside": "analysis/proof/captions/mesh.rst",
    "a new data file beside": "analysis/proof/more.typ",
    "a module run by name": "geometry/mesher_step.py",
    "what a module run by name imports": "geometry/mesher.py",
    "the locked libraries": "requirements.lock",
}
ELSEWHERE = {
    "another room": "analysis/page/skin.py",
    "a module of a reached room that nobody imports": "analysis/elastic/spare.py",
    "a module of the same name's room run by another step": "geometry/solid.py",
    "a file that people write": "params/arms/one.yaml",
    "a scan": "params/surveys/one/setup-1.ply",
    "the rules of the workflow": "analysis/proof/rules.smk",
    "words": "params/README.md",
    "what Python keeps": "analysis/proof/__pycache__/cases.pyc",
}


@pytest.mark.parametrize("name", REACHED.values(), ids=REACHED)
def test_a_change_of_what_a_step_reaches_is_another_program(project: Path, name: str) -> None:
    before = of(project).digest(STEP)
    touch(project, name)
    assert of(project).digest(STEP) != before


@pytest.mark.parametrize("name", ELSEWHERE.values(), ids=ELSEWHERE)
def test_a_change_elsewhere_is_not(project: Path, name: str) -> None:
    before = of(project).digest(STEP)
    touch(project, name)
    assert of(project).digest(STEP) == before


def test_a_renamed_file_is_another_program(project: Path) -> None:
    before = of(project).digest(STEP)
    (project / "analysis/proof/table.csv").rename(project / "analysis/proof/other.csv")
    assert of(project).digest(STEP) != before


def test_the_place_of_the_project_does_not_count(
    project: Path, tmp_path_factory: pytest.TempPathFactory
) -> None:
    moved = tmp_path_factory.mktemp("elsewhere") / "there"
    shutil.copytree(project, moved)
    assert of(moved).digest(STEP) == of(project).digest(STEP)


def test_the_whole_project_has_every_source_and_no_file_that_people_write(project: Path) -> None:
    before = of(project).digest()
    touch(project, "params/arms/one.yaml")
    touch(project, "params/surveys/one/setup-1.ply")
    touch(project, "analysis/proof/rules.smk")
    assert of(project).digest() == before
    touch(project, "analysis/page/skin.py")
    assert of(project).digest() != before


def test_a_command_counts_by_all_its_steps_and_by_the_whole_where_it_says_which(project: Path) -> None:
    both = "python -m geometry.solid {input} && python -m analysis.proof {output} > {log} 2>&1"
    told = "python -m analysis.tables.overview results/a {output}"
    first, second = of(project).of_command(both), of(project).of_command(told)
    assert (
        first
        == of(project).digest("geometry.solid", "analysis.proof")
        != of(project).digest("analysis.proof")
    )
    touch(project, "analysis/page/skin.py")
    assert of(project).of_command(both) == first
    assert of(project).of_command(told) != second
    touch(project, "geometry/solid.py")
    assert of(project).of_command(both) != first


STEPS = sorted(
    {
        name
        for path in program.TOP.rglob("*.smk")
        for name in re.findall(r"python -m ([\w.]+)", path.read_text())
    }
)


@pytest.mark.parametrize("step", STEPS)
def test_it_reaches_all_that_python_would_load(step: str) -> None:
    """Beside the standard library's own search through compiled modules."""
    finder = ModuleFinder(path=[str(program.TOP)])
    module = program.file_of(step)
    assert module is not None
    finder.import_hook(step if module.name != "__init__.py" else f"{step}.__main__")
    found = {Path(one.__file__) for one in finder.modules.values() if one.__file__}
    assert module in found
    assert found - program.reached(step) == set()


def test_modules_run_in_a_process_of_their_own_are_reached() -> None:
    """The mesher and the CAD kernel run apart; as the sources say by hand."""
    for step, other in (
        ("analysis.package", "geometry/compare.py"),
        ("analysis.package", "geometry/solid.py"),
    ):
        assert program.TOP / other in program.reached(step)
