"""Start the command line: `python -m weld_packets` does what the console script `packets` does."""

import signal
import sys


def start() -> int:
    """Run the command line and return its exit status.

    Before it is loaded and after its last word, Ctrl+C ends the process without one, as it ends any other.
    """
    is_heeded = signal.getsignal(signal.SIGINT) is signal.default_int_handler  # not of a command that runs unattended
    if is_heeded:
        signal.signal(signal.SIGINT, signal.SIG_DFL)
    from weld_packets.commands import main  # noqa: PLC0415 - what takes long to load

    if is_heeded:
        signal.signal(signal.SIGINT, signal.default_int_handler)
    status = main()
    if is_heeded:
        signal.signal(signal.SIGINT, signal.SIG_DFL)
    return status


if __name__ == "__main__":
    sys.exit(start())
