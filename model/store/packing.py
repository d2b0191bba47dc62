"""Zip files that people carry: equal content gives equal bytes.

Not here: what such a file holds (``model.store.backup`` and the hand-over file know).
"""

import shutil
import struct
import zipfile
import zlib
from pathlib import Path
from typing import BinaryIO

ZIP_FAULTS = (
    zipfile.BadZipFile,
    NotImplementedError,
    RuntimeError,
    EOFError,
    ValueError,
    OverflowError,
    struct.error,
    zlib.error,
)
"""What damaged or foreign bytes lead to: NotImplementedError for an unknown version of the format,
RuntimeError for a password."""
ZIP_METHODS = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)
_WHEN = (1980, 1, 1, 0, 0, 0)
_UNIX = 3
_BLOCK = 1024 * 1024


def entry_named(name: str, method: int, size: int = 0) -> zipfile.ZipInfo:
    """An entry without a trace of the time and the machine; ``size`` where it is known before."""
    entry = zipfile.ZipInfo(name, _WHEN)
    entry.create_system = _UNIX
    entry.compress_type = method
    entry.external_attr = 0o100644 << 16
    entry.file_size = size
    return entry


def pack(packed: zipfile.ZipFile, path: Path, name: str, method: int) -> None:
    """Add a file, block by block."""
    with path.open("rb") as source:
        pack_stream(packed, source, entry_named(name, method, path.stat().st_size))


def pack_stream(packed: zipfile.ZipFile, source: BinaryIO, entry: zipfile.ZipInfo) -> None:
    """Add what an open file holds, block by block."""
    with packed.open(entry, "w") as goal:
        shutil.copyfileobj(source, goal, _BLOCK)
