"""The command ``dyeshade``: alone it opens the window, with words after it the command line."""

import sys


def main() -> int:
    """Run the command.

    Returns
    -------
    int
        As `dyeshade.cli.main` or `dyeshade.window.main`.
    """
    if sys.argv[1:]:
        from dyeshade import cli

        return cli.main()
    from dyeshade import window

    return window.main()


if __name__ == "__main__":
    sys.exit(main())
