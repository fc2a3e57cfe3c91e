"""The walls that the process of a question puts round itself before it reads the question.

Time and memory are limited by the kernel, which also ends a process that is deep in the engine. On Linux the
kernel further refuses it sockets and other programs (seccomp, `prctl(2)`), so that no question reaches the
network whatever the engine makes of it. Elsewhere that rests on the refusals alone.
"""

from __future__ import annotations

import ctypes
import os
import platform
import signal
import struct
import sys
from contextlib import suppress
from pathlib import Path

# The numbers of the architecture and of socket, io_uring_setup, execve and execveat in the Linux kernel.
_CALLS = {
    "x86_64": (0xC000003E, (41, 425, 59, 322)),
    "aarch64": (0xC00000B7, (198, 425, 221, 281)),
}
_SET_NO_NEW_PRIVILEGES, _SET_SECCOMP, _FILTER = 38, 22, 2
_LOAD, _EQUAL, _RETURN = 0x20, 0x15, 0x06
_ALLOW, _REFUSE = 0x7FFF0000, 0x00050001


def limit_time(seconds: int) -> None:
    """End this process after so many seconds, whatever it is doing."""
    if sys.platform != "win32":
        import resource  # noqa: PLC0415  # not there on Windows

        signal.setitimer(signal.ITIMER_REAL, seconds)
        resource.setrlimit(resource.RLIMIT_CPU, (seconds + 1, seconds + 1))
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
        os.nice(10)


def limit_memory(megabytes: int, file_bytes: int) -> None:
    """Let this process take so much more memory than it has now, and write files no longer than that."""
    if sys.platform != "win32":
        import resource  # noqa: PLC0415  # as above

        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (file_bytes, file_bytes))
        most = _taken_bytes() + megabytes * 1024**2
        # some systems have no such limit; the time ends it there
        with suppress(ValueError, OSError):
            resource.setrlimit(resource.RLIMIT_AS, (most, most))


def _taken_bytes() -> int:
    try:
        pages = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[0])
    except OSError:
        return 1024**3
    return pages * os.sysconf("SC_PAGE_SIZE")


def refuse_network() -> bool:
    """Have the kernel refuse sockets and programs to this process; say whether it can."""
    if sys.platform != "linux" or platform.machine() not in _CALLS:
        return False
    code = _filter(*_CALLS[platform.machine()])
    buffer = ctypes.create_string_buffer(code, len(code))
    program = _Program(len(code) // 8, ctypes.addressof(buffer))
    prctl = ctypes.CDLL(None).prctl
    done = prctl(_SET_NO_NEW_PRIVILEGES, 1, 0, 0, 0) == 0
    return done and bool(prctl(_SET_SECCOMP, _FILTER, ctypes.byref(program), 0, 0) == 0)


class _Program(ctypes.Structure):
    _fields_ = (("length", ctypes.c_ushort), ("filter", ctypes.c_void_p))


def _filter(architecture: int, calls: tuple[int, ...]) -> bytes:
    """Give the program that refuses these calls (classic BPF over `struct seccomp_data`)."""
    steps = [(_LOAD, 0, 0, 4), (_EQUAL, 1, 0, architecture), (_RETURN, 0, 0, _REFUSE), (_LOAD, 0, 0, 0)]
    steps += [(_EQUAL, len(calls) - at, 0, call) for at, call in enumerate(calls)]
    steps += [(_RETURN, 0, 0, _ALLOW), (_RETURN, 0, 0, _REFUSE)]
    return b"".join(struct.pack("HBBI", *step) for step in steps)
