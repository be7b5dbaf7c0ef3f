"""Slowing down whoever guesses passwords: ten failures, then ten minutes of waiting.

Counted by name and address together, so that a guesser elsewhere cannot lock the maker out, and
in the site's cache: with several worker processes each counts for itself.
"""

import hashlib

from django.core.cache import cache
from django.http import HttpRequest

FAILURES_ALLOWED = 10
WAIT_S = 600


def must_wait(request: HttpRequest, *, username: str) -> bool:
    """Whether this name from this address has failed too often of late."""
    return int(cache.get(_key(request, username), 0)) >= FAILURES_ALLOWED


def note_failure(request: HttpRequest, *, username: str) -> None:
    """Count one failure; the waiting starts anew with the last one."""
    key = _key(request, username)
    cache.add(key, 0, WAIT_S)
    try:
        cache.incr(key)
    except ValueError:  # it ran out between the two lines
        cache.set(key, 1, WAIT_S)
    cache.touch(key, WAIT_S)


def forget_failures(request: HttpRequest, *, username: str) -> None:
    """A right password clears the count."""
    cache.delete(_key(request, username))


def _key(request: HttpRequest, username: str) -> str:
    who = f"{username.strip().lower()}\n{request.META.get('REMOTE_ADDR', '')}"
    return "sign-in-failures-" + hashlib.sha256(who.encode("utf-8", "replace")).hexdigest()
