"""How kernels are compiled: once a machine, kept in numba's cache where there is a place for one."""

from __future__ import annotations

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
