"""The commands of the command line, one file each: what is asked, and what is printed.

Each module has ``add_to(commands)``, which adds its parser and sets ``run`` as its default, and
``run(chosen) -> int``. Modules are imported at every start: what is slow to import is imported in
``run``, so that ``--help`` answers at once.
"""
