"""What is wrong with an input, told to a person in one line."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, order=True)
class Problem:
    """One fault of an input file: `file:line: field: value, what is wrong, limit, mend`."""

    file: str
    line: int
    field: str
    value: str
    wrong: str
    limit: str = ""
    mend: str = ""

    def __str__(self) -> str:
        told = ", ".join(part for part in (self.value, self.wrong, self.limit, self.mend) if part)
        return f"{self.file}:{self.line}: {self.field}: {told}"


class ParameterError(Exception):
    """All the problems of one input at once; its text is one line for each."""

    def __init__(self, problems: list[Problem]) -> None:
        self.problems = sorted(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))
