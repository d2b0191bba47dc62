"""Writes new text files into a folder: all of them, or none.

Not here: the files of the report, which replace older ones (``fieldapp.report.writing``).
"""

from collections.abc import Mapping
from pathlib import Path

from fieldapp.cli.refusals import Refused


def write_new_files(folder: Path, files: Mapping[str, str]) -> list[Path]:
    """Write texts by file name; nothing that is there already is overwritten."""
    taken = [folder / name for name in files if (folder / name).exists()]
    if taken:
        raise Refused(f"{taken[0]} already exists; name another folder, or move it away.")
    written: list[Path] = []
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for name, text in files.items():
            path = folder / name
            with path.open("x", encoding="utf-8", newline="\n") as file:
                written.append(path)
                file.write(text)
    except OSError as error:
        for path in written:
            path.unlink(missing_ok=True)
        raise Refused(
            f"The files cannot be written into {folder} ({error.strerror}); name another folder."
        ) from None
    return written
