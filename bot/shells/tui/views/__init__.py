"""Views of the case at hand, one a module: path, causes, readings, sums, steps, and the list of cases."""
