"""The command ``dyeshade``: alone it opens the window, with words after it the command line."""

import sys

from dyeshade.threads import one_thread_each


def main() -> int:
    """Run the command.

    Returns
    -------
    int
        As `dyeshade.cli.main` or `dyeshade.window.main`.
    """
    if not sys.argv[1:]:
        return window()
    one_thread_each()
    from dyeshade import cli

    return cli.main()


def window() -> int:
    """Open the window.

    Returns
    -------
    int
        As `dyeshade.window.main`.
    """
    one_thread_each()
    from dyeshade.window import main as opened

    return opened()


if __name__ == "__main__":
    sys.exit(main())
