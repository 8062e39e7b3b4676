"""Writes a file of reference values."""

import json
import platform
import sys


def write(about, libraries, tolerances, cases):
    """Writes cases to the file named on the command line.

    about says what the values are, libraries are the modules that made them,
    and tolerances say by how much values made afresh may differ, by key; "*" is
    for every other number.
    """
    made_by = {lib.__name__: lib.__version__ for lib in libraries}
    made_by["python"] = platform.python_version()
    content = {"about": about, "made_by": made_by, "tolerances": tolerances, "cases": cases}
    with open(sys.argv[1], "w", encoding="ascii") as out:
        json.dump(content, out, indent=1, sort_keys=True, allow_nan=False)
        out.write("\n")
