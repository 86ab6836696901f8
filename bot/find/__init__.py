"""Words -> ranked pages, each with its reason. whoosh and rapidfuzz each behind one module."""
