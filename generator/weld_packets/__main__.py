"""Start the command line: `python -m weld_packets` does what the console script `packets` does."""

import sys

from weld_packets.commands import main

if __name__ == "__main__":
    sys.exit(main())
