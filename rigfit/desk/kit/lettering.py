"""Makes the shipped letters known to this process before Tk starts; writes nothing anywhere.

On Linux through fontconfig, on Windows through GDI, on macOS through CoreText. Where that fails,
the family customary there is used.
"""

from __future__ import annotations

import ctypes
import ctypes.util
import importlib.util
import sys
from collections.abc import Iterable
from functools import lru_cache
from pathlib import Path

from rigfit.drawing.fonts import FAMILY, font_path

_SHAPES = Path("assets", "fonts", "CustomTkinter_shapes_font.otf")
_STAND_INS = {"win32": "Segoe UI", "darwin": "Helvetica Neue"}
_WINDOWS_PRIVATE = 0x10  # FR_PRIVATE: for this process only
_MAC_PROCESS = 1  # kCTFontManagerScopeProcess
_MAC_UTF8 = 0x08000100  # kCFStringEncodingUTF8


@lru_cache(maxsize=1)
def load() -> bool:
    """Make the shipped family usable; return True when it is. Later calls repeat the answer.

    Rounded corners are drawn with a font of customtkinter's, which it copies into the user's font
    folder; it is added here as well, so that an unwritable home folder does not cost the corners.
    """
    own = [font_path(bold) for bold in (False, True)]
    if not all(path.name.startswith(FAMILY) for path in own):
        return False
    try:
        return _add([*own, *_shapes()])
    except (OSError, AttributeError, ValueError):
        # A system without that library: the customary family is as good as it gets.
        return False


def family() -> str:
    """Return the family to write with: ours, or the system's usual one."""
    return FAMILY if load() else _STAND_INS.get(sys.platform, "sans-serif")


def _shapes() -> list[Path]:
    spec = importlib.util.find_spec("customtkinter")
    if spec is None or spec.origin is None:
        return []
    path = Path(spec.origin).parent / _SHAPES
    return [path] if path.is_file() else []


def _add(paths: Iterable[Path]) -> bool:
    if sys.platform == "win32":
        return _add_windows(paths)
    if sys.platform == "darwin":
        return _add_mac(paths)
    return _add_fontconfig(paths)


def _add_fontconfig(paths: Iterable[Path]) -> bool:
    name = ctypes.util.find_library("fontconfig") or "libfontconfig.so.1"
    library = ctypes.CDLL(name)
    library.FcConfigAppFontAddFile.argtypes = [ctypes.c_void_p, ctypes.c_char_p]
    library.FcConfigAppFontAddFile.restype = ctypes.c_int
    added = [library.FcConfigAppFontAddFile(None, bytes(path)) for path in paths]
    return all(added)


def _add_windows(paths: Iterable[Path]) -> bool:
    windll = getattr(ctypes, "windll")  # noqa: B009 - there only on Windows, checkers elsewhere
    add = windll.gdi32.AddFontResourceExW
    added = [add(str(path), _WINDOWS_PRIVATE, 0) for path in paths]
    return all(added)


def _add_mac(paths: Iterable[Path]) -> bool:
    foundation = ctypes.CDLL(ctypes.util.find_library("CoreFoundation"))
    text = ctypes.CDLL(ctypes.util.find_library("CoreText"))
    pointer = ctypes.c_void_p
    words_of = foundation.CFStringCreateWithCString
    words_of.restype = pointer
    words_of.argtypes = [pointer, ctypes.c_char_p, ctypes.c_uint32]
    address_of = foundation.CFURLCreateWithFileSystemPath
    address_of.restype = pointer
    address_of.argtypes = [pointer, pointer, ctypes.c_long, ctypes.c_bool]
    register = text.CTFontManagerRegisterFontsForURL
    register.restype = ctypes.c_bool
    register.argtypes = [pointer, ctypes.c_uint32, pointer]
    added = []
    for path in paths:
        words = words_of(None, bytes(path), _MAC_UTF8)
        address = address_of(None, words, 0, 0)
        added.append(bool(register(address, _MAC_PROCESS, None)))
    return all(added)
