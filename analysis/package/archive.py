"""Zip files with fixed times and order, and the reading of zip files that may hold anything.

Entries are stored, not compressed: compressors differ from machine to machine, and the same package must have the same bytes.
"""

from __future__ import annotations

import re
import zipfile
from collections import Counter
from pathlib import Path

STAMP = (1980, 1, 1, 0, 0, 0)  # earliest time that a zip can store
MOST_ENTRIES = 500
LARGEST = 500_000_000  # bytes of all entries together
NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,79}(/[A-Za-z0-9][A-Za-z0-9._-]{0,79}){0,4}", re.ASCII)


class BadArchive(Exception):  # noqa: N818 - an answer about a file, not a fault of the program
    """The file cannot be read as a zip at all; the text says why in one line."""


def write(entries: dict[str, bytes], path: Path) -> None:
    """Write entries by name, in the order of their names.

    Raises
    ------
    ValueError
        where a name could not be read back by `read`.
    """
    for name in entries:
        if fault := bad_name(name):
            raise ValueError(f"entry {name!r} {fault}")
    path.parent.mkdir(parents=True, exist_ok=True)
    with zipfile.ZipFile(path, "w", zipfile.ZIP_STORED) as file:
        for name in sorted(entries):
            info = zipfile.ZipInfo(name, STAMP)
            info.create_system, info.external_attr = 3, 0o100644 << 16
            file.writestr(info, entries[name])


def read(path: Path) -> tuple[dict[str, bytes], list[str]]:
    """Entries with good names, and a line for each that is bad, unreadable or there twice. Nothing is written to disk.

    Raises
    ------
    BadArchive
        where the file is no zip, is cut off, or holds too much.
    """
    try:
        with zipfile.ZipFile(path) as file:
            entries, faults = _entries(file)
        return entries, faults + _behind(path)
    except (OSError, zipfile.BadZipFile, EOFError, NotImplementedError, ValueError) as error:
        raise BadArchive(
            f"{path.name}: cannot be read as a zip file: it is cut off or damaged ({error})"
        ) from None


def _entries(file: zipfile.ZipFile) -> tuple[dict[str, bytes], list[str]]:
    infos = file.infolist()
    if len(infos) > MOST_ENTRIES or sum(info.file_size for info in infos) > LARGEST:
        limit = f"at most {MOST_ENTRIES} entries and {LARGEST / 1e6:.0f} MB"
        raise BadArchive(f"{Path(str(file.filename)).name}: is too large, {limit}")
    if (
        infos and min(info.header_offset for info in infos) != 0
    ):  # the directory of a zip within it, where the own is lost
        raise BadArchive(
            f"{Path(str(file.filename)).name}: cannot be read as a zip file: its end is cut off or there are bytes before its start"
        )
    counts = Counter(info.filename for info in infos)
    contents: dict[str, bytes] = {}
    faults = [f"{name!a}: occurs {count} times" for name, count in counts.items() if count > 1]
    for info in infos:
        fault = bad_name(info.filename) or bad_kind(info)
        if fault:
            faults.append(f"{info.filename!a}: {fault}")
            continue
        try:
            contents[info.filename] = file.read(info)
        except Exception as error:  # damaged data raises what its decompressor raises
            faults.append(f"{info.filename}: is corrupted ({error})")
    return contents, faults


def _behind(path: Path) -> list[str]:
    """The last record of a zip without a comment is its last 22 bytes; what follows it no manifest lists."""
    with path.open("rb") as file:
        file.seek(-22, 2)
        last = file.read(4)
    return [] if last == b"PK\x05\x06" else [f"{path.name}: there are bytes after the end of the zip"]


def bad_name(name: str) -> str:
    """Why an entry's name is refused; empty where it is good.

    >>> bad_name("solid/arm.step")
    ''
    >>> bad_name("../arm.step")
    'its name points outside the folder or has characters that are not allowed'
    """
    if NAME.fullmatch(name) and ".." not in name:
        return ""
    return "its name points outside the folder or has characters that are not allowed"


def bad_kind(info: zipfile.ZipInfo) -> str:
    kind = (info.external_attr >> 16) & 0o170000
    if kind not in (0, 0o100000):
        return "is a link or a device, not a file"
    return "is encrypted" if info.flag_bits & 0x1 else ""
