"""The .tar of a backup: written whole or not at all, and read without trusting it."""

import io
import os
import shutil
import tarfile
from collections.abc import Iterator
from pathlib import Path, PurePosixPath

from spools.backups.about import About, BackupError, read_about, sha256_of

ABOUT, DATABASE = "about.json", "database"


def write_archive(to: Path, about: About, database: Path, folders: dict[str, Path]) -> int:
    """Write a backup's file; return how many uploads and papers are in it. Nobody but the owner may read it."""
    part = to.with_name(f"{to.name}.part")
    files = 0
    try:
        with part.open("xb") as raw:
            part.chmod(0o600)
            with tarfile.open(fileobj=raw, mode="w") as archive:
                text = about.as_text().encode()
                head = tarfile.TarInfo(ABOUT)
                head.size = len(text)
                archive.addfile(head, io.BytesIO(text))
                archive.add(database, DATABASE)
                for name, folder in folders.items():
                    for path in _files_of(folder):
                        archive.add(path, f"{name}/{path.relative_to(folder).as_posix()}", recursive=False)
                        files += 1
            raw.flush()
            os.fsync(raw.fileno())
        part.rename(to)
    except OSError as trouble:
        part.unlink(missing_ok=True)
        raise BackupError(f"The backup could not be written: {trouble}. Nothing was left half done.") from trouble
    return files


def about_archive(path: Path) -> About:
    """Return what a backup says of itself. Raises ``BackupError`` for a file that is none."""
    with _opened(path) as archive:
        first = archive.next()
        taken = archive.extractfile(first) if first is not None and first.name == ABOUT else None
        if taken is None:
            raise BackupError(f"{path.name} is not a backup of this program.")
        return read_about(taken.read())


def unpack_archive(path: Path, into: Path, about: About) -> None:
    """Lay a backup's files out in a folder of their own. Raises ``BackupError`` for a damaged one."""
    with _opened(path) as archive:
        for member in archive:
            inside = PurePosixPath(member.name)
            if not member.isfile() or inside.is_absolute() or ".." in inside.parts:
                raise BackupError(f"The backup holds {member.name!r}, which no backup does. Nothing was restored.")
            to = into.joinpath(*inside.parts)
            to.parent.mkdir(parents=True, exist_ok=True)
            source = archive.extractfile(member)
            assert source is not None  # noqa: S101  a plain file, as just looked at
            with to.open("wb") as target:
                shutil.copyfileobj(source, target)
    database = into / DATABASE
    if not database.exists() or sha256_of(database) != about.sha256:
        raise BackupError("The database in this backup is damaged: its checksum is another one. Take another backup.")


def _opened(path: Path) -> tarfile.TarFile:
    try:
        return tarfile.open(path, "r:")
    except FileNotFoundError as trouble:
        raise BackupError(f"There is no file {path}.") from trouble
    except (tarfile.TarError, OSError) as trouble:
        raise BackupError(f"{path.name} is not a backup: {trouble}.") from trouble


def _files_of(folder: Path) -> Iterator[Path]:
    if folder.exists():
        yield from sorted(path for path in folder.rglob("*") if path.is_file() and not path.is_symlink())
