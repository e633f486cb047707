"""What others made lies in vendor/ unchanged, with its licence."""

import hashlib
from pathlib import Path

VENDOR = Path(__file__).parents[2] / "fabshop" / "static" / "vendor"


def listed() -> dict[str, str]:
    lines = (VENDOR / "vendor.txt").read_text().splitlines()
    pairs = [line.split(maxsplit=1) for line in lines if line and not line.startswith("#")]
    return {path: digest for digest, path in pairs}


def test_every_vendored_file_is_the_one_that_was_listed() -> None:
    on_disk = {
        path.relative_to(VENDOR).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in VENDOR.rglob("*")
        if path.is_file() and path.name != "vendor.txt"
    }
    assert on_disk == listed()


def test_every_vendored_package_carries_its_licence() -> None:
    packages = [path for path in VENDOR.iterdir() if path.is_dir()]
    assert packages
    for package in packages:
        names = {path.name.upper() for path in package.rglob("*")}
        assert any(name.startswith(("LICENSE", "LICENCE", "OFL")) for name in names), package.name
