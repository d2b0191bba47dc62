"""Reads a file's bytes within a limit, or says in one sentence why not.

Not here: what the bytes mean.
"""

from pathlib import Path

from fieldapp.errors import IntakeRefused
from fieldapp.intake.faults import printable


def shown_name(path: Path) -> str:
    """The file's name as sentences show it."""
    return printable(path.name or str(path))


def read_bytes(path: Path, limit_bytes: int) -> bytes:
    """The bytes of an ordinary file of at most ``limit_bytes``."""
    try:
        if not path.exists():
            raise IntakeRefused([f"The file {printable(str(path))} does not exist."])
        if not path.is_file():
            raise IntakeRefused([f"{printable(str(path))} is not a file; name a file."])
        size = path.stat().st_size
        data = path.read_bytes() if size <= limit_bytes else b""
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise IntakeRefused(
            [f"The file {printable(str(path))} cannot be read: {printable(reason)}."]
        ) from None
    if max(size, len(data)) > limit_bytes:
        limit = f"{limit_bytes / 1e6:g} MB" if limit_bytes >= 1e6 else f"{limit_bytes / 1e3:g} kB"
        raise IntakeRefused([f"{shown_name(path)} is larger than {limit}; split or reduce it."])
    return data


def decode_utf8(data: bytes, name: str) -> str:
    """The text of UTF-8 bytes with or without a byte order mark."""
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        raise IntakeRefused([f"{name} is UTF-16, not UTF-8; save it again as UTF-8."])
    if b"\x00" in data:
        raise IntakeRefused(
            [f"{name} holds a NUL byte, so it is not a text file; save it again as UTF-8 text."]
        )
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise IntakeRefused(
            [
                f"{name} is not UTF-8 (byte 0x{data[error.start]:02x} in line {line}); "
                "save it again as UTF-8."
            ]
        ) from None
