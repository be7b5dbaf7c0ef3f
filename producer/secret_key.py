"""The signing key of this installation: made once, kept outside the project's files."""

import os
import secrets
from pathlib import Path

from django.core.exceptions import ImproperlyConfigured


def secret_key_in(folder: Path) -> str:
    """Read the key kept in a folder, making both when they are not there yet.

    Several workers may start together: the key is written beside and linked into place, so that
    all of them read the one that came first.
    """
    path = folder / "secret_key"
    try:
        folder.mkdir(parents=True, exist_ok=True)
        if not path.exists():
            draft = folder / f".secret_key.{os.getpid()}"
            draft.touch(mode=0o600)
            draft.write_text(secrets.token_urlsafe(50))
            try:
                os.link(draft, path)
            except FileExistsError:
                pass
            finally:
                draft.unlink()
        key = path.read_text().strip()
    except OSError as problem:
        raise ImproperlyConfigured(
            f"Data is kept in {folder}, which cannot be written: {problem.strerror}. Give that "
            "folder to the user who runs this, or name another one in PRODUCER_VAR."
        ) from problem
    if not key:
        raise ImproperlyConfigured(f"{path} is empty. Delete it and start again.")
    return key
