from collections.abc import Sequence

CT_DIFFERENCE: int
CT_UNION: int
PFT_NONZERO: int
PT_CLIP: int
PT_SUBJECT: int

Path = Sequence[Sequence[int]]

def PointInPolygon(point: Sequence[int], poly: Path) -> int: ...

class Pyclipper:
    def AddPath(self, path: Path, poly_type: int, closed: bool = ...) -> bool: ...
    def AddPaths(self, paths: Sequence[Path], poly_type: int, closed: bool = ...) -> bool: ...
    def Execute(
        self, clip_type: int, subj_fill_type: int = ..., clip_fill_type: int = ...
    ) -> list[list[list[int]]]: ...
