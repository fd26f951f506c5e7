"""`python -m analysis.package pack ARM.yaml FACTS.json FILE.zip` makes a package; `python -m analysis.package verify FILE.zip`
checks one: exit code 0 where everything in it agrees, 1 where something does not."""

from __future__ import annotations

import sys
from pathlib import Path

from analysis.package.package import Missing, pack
from analysis.package.revision import called
from analysis.package.verify import verified
from params.files.read import read_arm
from params.steps.arguments import Parser
from params.steps.caution import CAUTION
from params.steps.guard import one_line_errors


def packed(source: Path, facts: Path, target: Path) -> int:
    arm = read_arm(source)
    if not target.name.startswith(f"{arm.name}-{arm.revision}"):
        print(f"{target}: its name gives another arm or revision than {source}", file=sys.stderr)
        return 1
    try:
        manifest = pack(arm, source, facts.parent, target)
    except Missing as refusal:
        print(refusal, file=sys.stderr)
        return 1
    print(f"{target}: {len(manifest['files'])} files")
    changed = manifest["changes"]
    if changed:
        print(f"since {called(changed['since'])}: {len(changed['rows'])} changes")
        for row in changed["rows"]:
            print(f"  {row['field']}: {row['before']} -> {row['now']}")
    print(CAUTION)
    return 0


def checked(path: Path) -> int:
    findings = verified(path)
    for finding in findings:
        print(f"{'ok   ' if finding.good else 'FAILS'}  {finding.text}")
    held = bool(findings) and all(finding.good for finding in findings)
    print(f"{path}: {'all checks passed' if held else 'at least one check failed'}")
    print(CAUTION)
    return 0 if held else 1


def main(arguments: list[str] | None = None) -> int:
    parser = Parser(description="The package for the vendor.")
    commands = parser.add_subparsers(dest="command", required=True)
    packing = commands.add_parser("pack", help="make a package")
    packing.add_argument("source", type=Path, help="the parameter file")
    packing.add_argument(
        "facts",
        type=Path,
        help="facts.json; solid, drawing, requirement sheet and display model lie in its folder",
    )
    packing.add_argument("target", type=Path, help="the zip")
    checking = commands.add_parser("verify", help="check a package")
    checking.add_argument("file", type=Path)
    options = parser.parse_args(arguments)
    if options.command == "pack":
        return packed(options.source, options.facts, options.target)
    return checked(options.file)


if __name__ == "__main__":
    with one_line_errors():
        sys.exit(main())
