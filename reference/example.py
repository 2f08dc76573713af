"""Runs the examples of our crates: small programs that let single steps be asked."""

import os
import subprocess
from pathlib import Path

ROOT = Path(__file__).parent.parent
# Where they lie when they are built already; without it cargo builds them.
FOLDER = None


def path(name):
    return str(Path(FOLDER) / (name + (".exe" if os.name == "nt" else "")))


def written(crate, name, *arguments, stdin=b""):
    """The bytes that an example of a crate writes."""
    command = [path(name)] if FOLDER else [os.environ.get("CARGO", "cargo"), "run", "--quiet", "--package", crate, "--example", name, "--"]
    ended = subprocess.run([*command, *arguments], cwd=ROOT, input=stdin, capture_output=True, timeout=600)
    if ended.returncode != 0:
        raise OSError(f"{name}: {ended.stderr.decode(errors='replace').strip()[-400:]}")
    return ended.stdout
