"""Lets ``python -m dyeshade`` do what the command ``dyeshade`` does."""

import sys

from dyeshade.cli import main

if __name__ == "__main__":
    sys.exit(main())
