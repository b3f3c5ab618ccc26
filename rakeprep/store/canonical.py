"""The one way an entry is written as bytes, so that its hash can be worked out again anywhere.

JSON with keys sorted by code point, no spaces, UTF-8 without escapes other than those JSON demands,
and no fractions: exact values are strings.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from sys import intern

LARGEST = 2**53 - 1  # beyond this, other JSON readers round (RFC 8259 section 6)
DEEPEST = 40
SHORT = 64  # characters; as long as a hash


def canonical(obj: Mapping[str, object]) -> bytes:
    """The bytes of ``obj``. TypeError for a float or another type without one exact form; ValueError for
    text that is no Unicode, for whole numbers beyond ``LARGEST`` and for nesting beyond ``DEEPEST``."""
    plain = _plain(obj, 0)
    text = json.dumps(plain, ensure_ascii=False, allow_nan=False, sort_keys=True, separators=(",", ":"))
    return text.encode("utf-8")


def parse(data: bytes | str) -> dict[str, object]:
    """The mapping in ``data``; ValueError for anything that ``canonical`` would not have written."""
    try:
        found = json.loads(
            data, parse_float=_no_fraction, parse_constant=_no_fraction, object_pairs_hook=_no_key_twice
        )
    except RecursionError:
        raise ValueError("nested too deeply") from None
    if not isinstance(found, dict):
        raise ValueError("not a mapping")
    return found


def _plain(value: object, depth: int) -> object:
    if depth > DEEPEST:
        raise ValueError("nested too deeply")
    match value:
        case None | bool() | str():
            return value
        case int():
            if abs(value) > LARGEST:
                raise ValueError("a whole number this large must be kept as text")
            return int(value)
        case Mapping():
            return {_key(k): _plain(v, depth + 1) for k, v in value.items()}
        case list() | tuple():
            return [_plain(v, depth + 1) for v in value]
    raise TypeError(f"{type(value).__name__} has no exact form in an entry; keep it as text")


def _key(key: object) -> str:
    if not isinstance(key, str):
        raise TypeError(f"a key must be text, not {type(key).__name__}")
    return key


def shared(value: object) -> object:
    """A short text as the one copy of it in memory: a job says the same words hundreds of times."""
    return intern(value) if type(value) is str and len(value) <= SHORT else value


def _no_fraction(text: str) -> object:
    raise ValueError(f"a fraction ({text[:20]}) must be kept as text")


def _no_key_twice(pairs: list[tuple[str, object]]) -> dict[str, object]:
    found = {intern(key): shared(value) for key, value in pairs}
    if len(found) != len(pairs):
        raise ValueError("a key stands twice")
    return found
