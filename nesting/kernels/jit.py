"""How kernels are compiled: once a machine, kept in numba's cache where there is a place for one."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import numba

if TYPE_CHECKING:
    from collections.abc import Callable


def kernel(function: Callable[..., Any]) -> Callable[..., Any]:
    """Compile a function of arrays and numbers; without a place for the cache, anew in each process.

    Kernels that call one another belong in one file: numba does not notice changes in another one.
    """
    try:
        compiled: Callable[..., Any] = numba.njit(cache=True, fastmath=True, nogil=True)(function)
    except RuntimeError:
        compiled = numba.njit(fastmath=True, nogil=True)(function)
    return compiled


def is_compiled(function: Callable[..., Any]) -> bool:
    """Whether an earlier process has left a kernel in the cache (or there is nothing to compile)."""
    cache = getattr(function, "_cache", None)
    if cache is None:
        return bool(getattr(numba.config, "DISABLE_JIT", 0))
    path, name = getattr(cache, "cache_path", None), getattr(function, "__qualname__", "")
    return path is not None and any(Path(path).glob(f"*.{name}-*.nbi"))
