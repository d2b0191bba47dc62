"""Taking hand-over files apart and putting changed ones together, as a forger would.

Written against the description of the format, without the code that is tested. Not here: which
changes must be refused.
"""

import hashlib
import zipfile

TAGS = ("bag-info.txt", "bagit.txt", "handover.json", "manifest-sha256.txt")


def unpacked(path):
    """The bag's folder, and the bytes of each of its files."""
    with zipfile.ZipFile(path) as packed:
        files = {name.partition("/")[2]: packed.read(name) for name in packed.namelist()}
        return packed.namelist()[0].partition("/")[0], files


def sha256(content):
    return hashlib.sha256(content).hexdigest()


def manifest(files, names):
    return "".join(f"{sha256(files[name])}  {name}\n" for name in sorted(names)).encode()


def seal(files, *, info=True):
    """Make manifests and counts right again."""
    payload = [name for name in files if name.startswith("data/")]
    if info:
        lines = files["data/records.ndjson"].splitlines()
        ids = b"".join(hashlib.sha256(line).digest() for line in lines)
        size = sum(len(files[name]) for name in payload)
        values = {
            "External-Identifier": files["bag-info.txt"].split()[1].decode(),
            "Payload-Oxum": f"{size}.{len(payload)}",
            "Tubewright-Digest": sha256(ids),
            "Tubewright-Photos": len(payload) - 1,
            "Tubewright-Records": len(lines),
        }
        files["bag-info.txt"] = "".join(f"{k}: {v}\n" for k, v in values.items()).encode()
    files["manifest-sha256.txt"] = manifest(files, payload)
    files["tagmanifest-sha256.txt"] = manifest(files, TAGS)


def repack(path, folder, files, *, entries=()):
    """Write a zip of the files; ``entries`` are added as (ZipInfo, bytes)."""
    with zipfile.ZipFile(path, "w") as packed:
        for name, content in files.items():
            is_photo = "/photos/" in name
            method = zipfile.ZIP_STORED if is_photo else zipfile.ZIP_DEFLATED
            packed.writestr(zipfile.ZipInfo(f"{folder}/{name}"), content, method)
        for entry, content in entries:
            packed.writestr(entry, content)
