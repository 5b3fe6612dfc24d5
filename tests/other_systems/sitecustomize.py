"""Takes away, before anything else runs, what other systems lack. Put its folder on PYTHONPATH; workers read it as well.

`WITHOUT=windows`: what Python has on POSIX alone. `WITHOUT=pango`: the library that sets type.
"""

import errno
import os
import sys
from pathlib import Path
from types import SimpleNamespace

without = os.environ.get("WITHOUT", "").split(",")

if "windows" in without:
    import ctypes
    import multiprocessing.reduction
    import signal

    # docs.python.org/3/library/os.html and signal.html: "Availability: Unix".
    for name in ("fork", "forkpty", "getuid", "geteuid", "getgid", "sched_getaffinity", "mkfifo", "chown", "lchown", "fchmod", "killpg",
                 "getpgid", "setsid", "nice", "pread", "statvfs", "posix_fadvise", "register_at_fork"):  # fmt: skip
        if hasattr(os, name):
            delattr(os, name)
    for name in ("setitimer", "getitimer", "SIGVTALRM", "SIGPROF", "SIGALRM", "SIGKILL", "SIGHUP", "SIGUSR1", "pthread_sigmask"):
        if hasattr(signal, name):
            delattr(signal, name)
    for name in ("fcntl", "resource", "grp", "termios"):
        sys.modules[name] = None  # type: ignore[assignment]
    multiprocessing.reduction.HAVE_SEND_HANDLE = False
    sys.modules["multiprocessing.forkserver"] = None  # type: ignore[assignment]

    def refuse_link(*_given: object, **_options: object) -> None:
        raise OSError(errno.EPERM, "no second names on this disk")

    real_open = os.open

    def open_no_folder(path: object, flags: int, *given: object, **options: object) -> int:
        if isinstance(path, str | bytes | os.PathLike) and Path(os.fsdecode(path)).is_dir():  # type: ignore[arg-type]
            raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), path)  # as Windows answers
        return real_open(path, flags, *given, **options)  # type: ignore[arg-type]

    os.link = os.symlink = refuse_link  # type: ignore[assignment]
    os.open = open_no_folder  # type: ignore[assignment]

    real_library = ctypes.CDLL

    def open_library(name: object, *given: object, **options: object) -> object:
        return real_library(name, *given, **options) if name else SimpleNamespace()  # type: ignore[arg-type]

    ctypes.CDLL = open_library  # type: ignore[assignment,misc]

if "pango" in without:
    import cffi

    real_dlopen = cffi.FFI.dlopen

    def open_no_pango(ffi: object, name: str, *given: object) -> object:
        if "pango" in str(name):
            raise OSError(f"cannot load library '{name}': no such file")
        return real_dlopen(ffi, name, *given)

    cffi.FFI.dlopen = open_no_pango
